"""Every outside source there is; importing this fills the registry."""

from tests.theory.outside import figures, harmonies, libraries, note_names, standards, textbooks, trade
from tests.theory.outside.registry import SOURCES

__all__ = ["SOURCES", "figures", "harmonies", "libraries", "note_names", "standards", "textbooks", "trade"]
