"""The command line: `parser` reads what was typed, `main` runs it; each command is a row in `commands`."""
