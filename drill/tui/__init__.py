"""The full-screen program: screens over a session, with no rule of theory or memory in it.

app           FretsureApp, run_app: the program
navigator     the protocol by which screens reach the program
services      the one place where screens meet decks, record and memory
commands      the table of commands, from which bindings, palette, footer and help are made
palette       the search among them
views         what Home shows, as plain values
verdict_text  verdicts and strengths as styled text
themes        the colours
escape_filter keeps control characters off the terminal
escape_key    tells Esc apart from a key that comes in the same read
screens       one module each, over the frame in `base`
widgets       functions of their attributes
"""

from drill.tui.app import FretsureApp, run_app

__all__ = ["FretsureApp", "run_app"]
