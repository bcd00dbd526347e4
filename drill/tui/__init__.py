"""The full-screen program: screens over a session, with no rule of theory or memory in it."""

from drill.tui.app import FretsureApp, run_app

__all__ = ["FretsureApp", "run_app"]
