"""The line at the bottom that offers keys, made anew only when other keys are offered."""

from textual.app import ComposeResult
from textual.binding import Binding
from textual.screen import Screen
from textual.widgets import Footer


class KeyFooter(Footer):
    """A footer that stays as it is while its keys do.

    Textual tells of new keys at every change of screen or focus, and a footer that is made anew costs as much as the
    rest of the screen: a widget for each key.
    """

    _made_of: list[tuple[Binding, bool]] | None = None

    def compose(self) -> ComposeResult:
        if self._bindings_ready:
            self._made_of = self._offered()
        yield from super().compose()

    def bindings_changed(self, screen: Screen[object]) -> None:
        """Called by Textual when the keys of the screen may have changed."""
        if screen is not self.screen or self._made_of != self._offered():
            super().bindings_changed(screen)

    def _offered(self) -> list[tuple[Binding, bool]]:
        """The keys to be shown, each with whether it does anything now."""
        active = self.screen.active_bindings.values()
        return [(each.binding, each.enabled) for each in active if each.binding.show]
