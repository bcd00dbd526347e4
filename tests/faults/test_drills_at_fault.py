"""A running drill under kills, signals, full disks, closed folders, locks, and a second program on the same record."""

from __future__ import annotations

import io
import itertools
import json
import os
import random
import re
import resource
import signal
import sqlite3
import time
from collections.abc import Callable
from contextlib import closing
from functools import partial
from pathlib import Path

import pytest

from drill.cli.line_mode import drill_in_words
from drill.decks import load_deck
from drill.errors import CannotWrite
from drill.practice import replay
from drill.practice.learner_store import LearnerStore
from drill.practice.session import Session
from drill.record import BASE, PLACE, backups
from drill.record.check import examine_fully
from drill.settings import Settings
from drill.system.environment import Environment
from drill.system.steady import ASLEEP_S
from drill.theory.neck import STANDARD, Neck
from tests.faults import kills
from tests.faults.drills import Driller, ScreenDriller, assert_remembered
from tests.faults.program import DECK, Running, begin, run
from tests.support.asking import answers as answered
from tests.support.asking import ask
from tests.support.children import forked, without_privileges
from tests.support.records import VERSIONS, attempt, drill, make_earlier, open_at, raw
from tests.support.terminal import PATIENCE_S

TODAY = ("today", "--plain", "--deck", DECK)


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "record.sqlite3"


@pytest.mark.long
def test_kill_9_of_a_running_drill_loses_no_answer_whose_verdict_was_told(path: Path) -> None:
    toll = kills.strike(Driller, path, 6, random.Random(2), 0.05)
    assert (toll.kills, toll.acknowledged >= 6) == (6, True)
    assert assert_remembered(path) == toll.found


@pytest.mark.long
def test_kill_9_of_a_program_that_starts_leaves_a_record_or_none(tmp_path: Path) -> None:
    assert kills.strike_starts(Driller, tmp_path, 5, random.Random(5)).startswith("5 kills at the start")


@pytest.mark.long
def test_kill_9_of_a_drill_on_the_screen_loses_no_answer_whose_verdict_was_seen(path: Path) -> None:
    toll = kills.strike(ScreenDriller, path, 1, random.Random(3), 0.3)
    assert toll.acknowledged >= 1
    assert assert_remembered(path) == toll.found


@pytest.mark.long(but=1)
@pytest.mark.parametrize("number", [signal.SIGTERM, signal.SIGHUP, signal.SIGINT])
def test_a_signal_ends_a_drill_by_lines_in_order(number: signal.Signals, path: Path) -> None:
    driller = Driller(path)
    driller.drill(3)
    driller.running.signal(number)
    ended = driller.running.end()
    assert (ended.code, ended.complained.strip()) == (
        130,
        "fretsure: interrupted. Every answer given so far is saved.",
    )
    assert assert_remembered(path) == 3
    assert len(backups.all_of(path)) == 1, "the record was closed in order, with today's backup"


def test_a_signal_to_be_ignored_is_ignored(path: Path) -> None:
    """As under nohup."""
    running = begin(*TODAY, "--json", home=path.parent, before=lambda: signal.signal(signal.SIGHUP, signal.SIG_IGN))
    running.hear()
    running.signal(signal.SIGHUP)
    assert running.end().code == 0


def test_ctrl_z_is_not_thinking_and_keeps_the_answers(path: Path) -> None:
    driller = Driller(path)
    driller.drill(1)
    question = driller.running.hear()
    driller.running.signal(signal.SIGTSTP)
    assert os.WIFSTOPPED(os.waitpid(driller.pid, os.WUNTRACED)[1])
    driller.running.signal(signal.SIGCONT)
    driller.answer(json.loads(question or ""))
    verdict = json.loads(driller.running.hear() or "")
    assert (verdict["type"], verdict["thinking_ms"]) == ("verdict", None)
    driller.answer(verdict)
    driller.drill(3)
    first, _, *_, last = (each for each in driller.running.end().objects if each["type"] == "verdict")
    assert first["thinking_ms"] is not None
    assert last["thinking_ms"] is not None
    assert assert_remembered(path) == 3


def test_lying_stopped_is_not_thinking_and_takes_no_time_of_the_drill(path: Path) -> None:
    """SIGSTOP tells the program nothing, and the clock that only grows runs on meanwhile."""
    began = time.monotonic()
    running = begin("today", "--plain", "--deck", DECK, "--record", str(path), home=path.parent)
    running.tell("E\n")
    _hear_until(running, "2. ")
    running.signal(signal.SIGSTOP)
    assert os.WIFSTOPPED(os.waitpid(running.pid, os.WUNTRACED)[1])
    stopped = time.monotonic()
    time.sleep(ASLEEP_S + 1)
    running.tell("E\n")  # it lies ready when the program wakes
    lay_s = time.monotonic() - stopped
    running.signal(signal.SIGCONT)
    _hear_until(running, "3. ")
    running.tell("E\n")
    _hear_until(running, "4. ")
    done = re.search(r"right in (?:(\d+) min)? ?(?:(\d+) s)?\.", running.end().said, re.MULTILINE)
    assert done
    assert 60 * int(done[1] or 0) + int(done[2] or 0) <= time.monotonic() - began - lay_s
    with open_at(path) as record:
        assert [row.thinking_ms is None for row in answered(record)] == [False, True, False]


def _hear_until(running: Running, beginning: str) -> None:
    while (line := running.hear()) is not None and not line.startswith(beginning):
        pass
    assert line is not None


def test_a_reader_that_leaves_ends_the_drill_quietly(path: Path) -> None:
    driller = Driller(path)
    driller.drill(2)
    driller.running.stop_hearing()
    driller.running.tell("E\n")
    ended = driller.running.end()
    assert (ended.code, ended.complained) == (141, "")
    assert assert_remembered(path) in (2, 3)


@pytest.mark.long
def test_a_disk_that_fills_up_ends_the_drill_with_a_sentence(path: Path) -> None:
    """A limit on the size of files stands for the full disk: SQLite is refused in the same place."""
    room = 400_000

    def fill() -> None:
        resource.setrlimit(resource.RLIMIT_FSIZE, (room, resource.RLIM_INFINITY))

    running = begin(*TODAY, "--json", home=path.parent, before=fill)
    driller = Driller(path, running)
    driller.drill(500)
    ended = running.end()
    assert ended.code == 73
    assert "cannot be opened or written" in ended.complained
    assert "Make room on the disk" in ended.complained
    assert "Every answer saved so far is safe" in ended.complained
    assert "Traceback" not in ended.complained
    assert 0 < driller.verdicts < 500
    assert assert_remembered(path) == driller.verdicts
    again = Driller(path)
    again.drill(2)
    assert again.running.end().code == 0
    assert assert_remembered(path) == driller.verdicts + 2


def test_a_backup_that_finds_no_room_is_told_and_spoils_no_drill(path: Path) -> None:
    driller = Driller(path)
    driller.drill(3)
    backups.folder(path).write_text("a file where the folder should be")
    ended = driller.running.end()
    assert ended.code == 0
    assert "Today's backup could not be made." in ended.complained
    assert assert_remembered(path) == 3


def test_a_folder_that_cannot_be_written(closable: Path) -> None:
    def closed() -> None:
        without_privileges()
        closable.chmod(0o500)

    record = closable / "record.sqlite3"
    first = run(*TODAY, "--record", str(record), home=closable, before=closed)
    assert (first.code, "cannot be opened or written" in first.complained) == (73, True)
    closable.chmod(0o700)
    assert run(*TODAY, "--record", str(record), home=closable, reads="E\n", before=without_privileges).code == 0
    again = run(*TODAY, "--record", str(record), home=closable, before=closed)
    assert (again.code, "check the permissions" in again.complained) == (73, True)


def test_a_lock_met_while_drilling_is_told_and_the_next_start_goes_on(
    fake_environment: Environment, path: Path
) -> None:
    with open_at(path) as record, closing(sqlite3.connect(path, isolation_level=None)) as other:
        deck = load_deck(DECK, Neck(STANDARD))
        session = Session.start(fake_environment, Settings(), record, deck, 1)
        first = ask(session)
        assert first
        session.answer(first.card.accepts[0])
        second = ask(session)
        assert second
        other.execute("BEGIN IMMEDIATE")
        with pytest.raises(CannotWrite, match=r"in use by another program.*Every answer saved so far is safe"):
            session.answer(second.card.accepts[0])
        summary = session.finish()
        assert (summary.answered, "in use" in " ".join(record.notices)) == (1, True)
        other.execute("ROLLBACK")
        assert session.answer(second.card.accepts[0]).right, "the question is still open and can be answered again"
    assert assert_remembered(path) == 2


@pytest.mark.long
def test_two_programs_drill_on_one_record(path: Path) -> None:
    first, second = Driller(path), Driller(path)
    for count in range(1, 31):
        first.drill(count)
        second.drill(count)
    second.kill()
    assert [first.running.end().code, second.running.end().code] == [0, -signal.SIGKILL]
    assert assert_remembered(path) == 60
    with open_at(path) as record:
        assert len({row.drill for row in record.attempts()}) == 2


@pytest.mark.long
def test_a_damaged_record_is_told_at_the_start_and_the_backup_restored_as_told(path: Path) -> None:
    assert run(*TODAY, home=path.parent, reads="E\nE\n").code == 0
    (backup,) = backups.all_of(path)
    path.write_bytes(path.read_bytes()[:9000])
    hurt = path.read_bytes()
    ended = run(*TODAY, home=path.parent)
    assert (ended.code, ended.said) == (74, "")
    with open_at(backup) as kept:
        assert kept.attempt_count() > 2, "cards shown solved are no answers"
    assert f'The last good backup holds 2 answers: fretsure restore "{backup}"' in ended.complained
    assert path.read_bytes() == hurt
    assert run("restore", str(backup), home=path.parent).code == 0
    assert assert_remembered(path) == 2


def test_a_record_of_a_newer_program_is_refused_and_not_touched(path: Path) -> None:
    with open_at(path):
        pass
    raw(path, "INSERT INTO _sqlite_migrations (migration_set, name, applied_at) VALUES ('fretsure', '9999_new', '')")
    before = path.read_bytes()
    ended = run(*TODAY, home=path.parent)
    assert (ended.code, ended.said) == (65, "")
    assert "was written by a newer fretsure" in ended.complained
    assert path.read_bytes() == before


def test_an_older_record_is_backed_up_brought_up_to_date_and_drilled_on(path: Path) -> None:
    make_earlier(path, 1)
    ended = run(*TODAY, home=path.parent, reads="E\n")
    assert ended.code == 0
    assert "The record was updated for this version of fretsure. A copy of it as it was before" in ended.complained
    assert assert_remembered(path) == 2 + 1, "of its three rows one was shown"


def test_a_drill_on_top_of_answers_that_another_program_kept(path: Path) -> None:
    """Answers of a card nobody knows any more, and of no known family, are kept and passed over."""
    with open_at(path) as record:
        record.start_drill(drill())
        record.append(attempt(1))
        record.append(attempt(2)._replace(card="juggling:balls=3", family="juggling"))
    driller = Driller(path)
    driller.drill(3)
    assert driller.running.end().code == 0
    assert assert_remembered(path) == 5


def test_lines_that_are_no_text_are_asked_again(path: Path) -> None:
    ended = run(*TODAY, home=path.parent, reads="\udcff\udcfe\nE\n")
    assert ended.code == 0
    assert "Not counted." in ended.said
    assert assert_remembered(path) == 1


def test_end_of_input_in_the_middle_of_a_line_answers_with_it(fake_environment: Environment, path: Path) -> None:
    with open_at(path) as record:
        world = fake_environment._replace(stdin=io.StringIO("E"), stdout=io.StringIO())
        drill_in_words(Session.start(world, Settings(), record, load_deck(DECK, Neck(STANDARD)), 1), world)
        assert isinstance(world.stdout, io.StringIO)
        assert re.search(r"^(Right|Wrong): E", world.stdout.getvalue(), re.MULTILINE)


def test_the_record_is_for_its_owner_alone(path: Path, tmp_path: Path) -> None:
    """Whatever the learner's umask, files are 0600 and folders 0700."""
    home = tmp_path / "home"
    record = home / "deep" / "record.sqlite3"
    ended = run(*TODAY, "--record", str(record), home=home, reads="E\n", before=lambda: os.umask(0))
    assert ended.code == 0
    made = [home, *home.rglob("*")]
    assert {oct(each.stat().st_mode & 0o777) for each in made if each.is_file()} == {"0o600"}
    assert {oct(each.stat().st_mode & 0o777) for each in made if each.is_dir()} == {"0o700"}
    assert assert_remembered(record) == 1


@pytest.mark.long
def test_kill_9_of_a_program_that_reads_a_long_log_costs_no_more_than_what_it_did_last(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Each life is some ten slices long; what was read is built on by the next, and a part is never the whole."""
    monkeypatch.setattr(replay, "BASE_EVERY", 100)
    monkeypatch.setattr(replay, "TAIL", 50)
    monkeypatch.setattr(replay, "PAGE", 20)
    chance, cards = random.Random(5), list(load_deck(DECK, Neck(STANDARD)).entries)
    with open_at(path) as record:
        record.merge([drill()], (attempt(number, card=chance.choice(cards)) for number in range(2_000)))

    def read(pipe: int) -> None:
        with open_at(path) as record:
            recall = LearnerStore.begin(record, _steps(), wait_s=1.0)
            for _ in range(10):
                recall.catch_up(_steps(), 20.0)
                os.write(pipe, b".")
            signal.pause()  # it never comes to the end

    places = []
    for _ in range(8):
        victim, slices = forked(read), chance.randint(8, 10)
        while slices > 0 and (said := victim.heard(PATIENCE_S)):
            slices -= len(said)
        victim.kill()
        victim.rest()
        with open_at(path) as record:
            assert record.states() == {}
            places.append(json.loads(record.states(BASE)[PLACE]))
            assert examine_fully(record.path) == 2_000
    assert places == sorted(places)
    assert places[-1] > places[0], "it got on though it was killed each time"
    assert_remembered(path)


def _steps() -> Callable[[], float]:
    """A clock on which every look takes a second."""
    return partial(next, itertools.count(0.0))


def test_a_merge_says_that_an_older_record_was_brought_up_to_date(path: Path) -> None:
    make_earlier(path, 1)
    log = path.with_name("log.jsonl")
    log.write_bytes((VERSIONS / "log-1.jsonl").read_bytes())
    ended = run("restore", str(log), "--mine", home=path.parent)
    assert ended.code == 0
    assert "The record was updated for this version of fretsure. A copy of it as it was before" in ended.complained
