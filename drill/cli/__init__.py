"""The command line: commands, line mode and JSON mode."""
