"""A timed, spaced drill of fretboard theory for guitarists."""

__version__ = "0.1.0"
