"""Runs one command and returns its exit code.

Results go to standard output, messages to standard error. Exit codes: 0 done, 2 usage, 65 bad input file, 70 an
internal error, 73 cannot write, 74 record damaged, 130 interrupted, 141 the reader of the output has gone.
"""

from __future__ import annotations

import sys
from collections.abc import Sequence

from drill.cli.output import complain, notify
from drill.cli.parser import Invocation, parse
from drill.errors import ALL_SAVED, CannotWrite, FretsureError, UsageProblem
from drill.system import garbage
from drill.system.environment import Environment
from drill.system.platforms import is_broken_pipe
from drill.system.signals import INTERRUPTED, sigterm_as_interrupt
from drill.system.streams import settle

BROKEN_PIPE = 141


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command and return its exit code. No traceback reaches the learner."""
    garbage.postpone()
    try:
        invocation = parse(sys.argv[1:] if arguments is None else arguments)
        environment = Environment.real(invocation.record)
    except FretsureError as error:
        print(f"fretsure: {error}", file=sys.stderr)
        return error.exit_code
    except KeyboardInterrupt:
        print(f"\nfretsure: interrupted. {ALL_SAVED}", file=sys.stderr)
        return INTERRUPTED
    return _exit_code(invocation, environment)


def _exit_code(invocation: Invocation, environment: Environment) -> int:
    try:
        with sigterm_as_interrupt():
            run(invocation, environment)
            environment.stdout.flush()
    except KeyboardInterrupt:
        complain(environment, f"\nfretsure: interrupted. {invocation.saved}")
        return INTERRUPTED
    except Exception as error:
        if is_broken_pipe(error):
            return BROKEN_PIPE
        readable = _readable(error, environment)
        notify(environment, [readable])
        return readable.exit_code
    finally:
        settle(environment.stdout)
        settle(environment.stderr)
    return 0


def run(invocation: Invocation, environment: Environment) -> None:
    """Run the command on the learner's record, or on sample data."""
    if not invocation.demo:
        invocation.run(environment)
        return
    if invocation.record:
        raise UsageProblem("--demo uses sample data, not a record.", "Leave out --record or --demo.")
    from drill.practice.demo import demonstration

    with demonstration(environment) as sample:
        notify(environment, ["Sample data; nothing is saved."])
        invocation.run(sample)


def _readable(error: Exception, environment: Environment) -> FretsureError:
    """Turn any error into one the learner can read. An OSError that names no file comes from our own output."""
    if isinstance(error, OSError) and error.filename is None:
        return CannotWrite(f"The output cannot be written ({error.strerror}).", ALL_SAVED)
    from drill.system.crash_report import report_crash

    return report_crash(error, environment.record_path)
