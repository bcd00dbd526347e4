"""The full-screen program: screens over a session, with no rule of theory or memory in it.

app        FretsureApp, run_app: the program and its way in and out
commands   every command once; bindings, palette, footer and help are made from it
desk       what screens ask the rest of the program for
look_ups   where a key lives, which key a loop is in
views      what screens show, as plain values
wood       the colours
screens    one module each
widgets    functions of their attributes
"""

from drill.tui.app import FretsureApp, run_app

__all__ = ["FretsureApp", "run_app"]
