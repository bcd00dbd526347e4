"""The world outside: clock, files, streams, signals. Nothing else touches it."""
