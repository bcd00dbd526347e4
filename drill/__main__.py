"""`python -m drill` does what the command `fretsure` does."""

from drill.cli.main import main

if __name__ == "__main__":
    raise SystemExit(main())
