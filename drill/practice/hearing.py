"""The guitar as the program hears it: a microphone and a listener in one.

Ears        gives the notes that were plucked, counted in samples of the stream
open_ears   for the learner's devices and neck
OPENED, CLOSED   what is said when the microphone opens and closes

No sound is kept, written or sent. The names of the notes are kept: the record's log holds them.
"""

from __future__ import annotations

from collections.abc import Callable
from contextlib import suppress
from typing import TYPE_CHECKING

from drill.errors import NoSound
from drill.system.audio import Source
from drill.system.duplex import Chosen, Duplex
from drill.system.platforms import on_macos, on_windows
from drill.system.signals import pause_too, suspend_later

if TYPE_CHECKING:
    from drill.listening import Event, Listener
    from drill.listening.events import Samples
    from drill.settings import Settings
    from drill.system.environment import Environment
    from drill.theory.neck import Neck

RATE = 44_100
"""Samples a second of the streams that `open_ears` opens."""
SILENT_S = 2.0
"""A microphone that has given nothing but exact zeros for so long gives none of its own: even a quiet room hisses."""
OPENED = "Listening: the microphone is open. No sound is kept or sent; only the names of the notes heard are kept."
CLOSED = "The microphone is closed."
LOST = "The microphone is gone, so nothing is heard any more."
NOT_LET = "The microphone gives nothing at all: the system does not let this terminal listen, or it is muted."


class Ears:
    """Listens from `start` to `stop`. Both may be called again: the count of samples then goes on where it stopped.

    While Ctrl+Z suspends the program the microphone is closed. `overhear` is called with every block of samples.

    `low` and `high` are the MIDI numbers of the lowest and the highest note that may come; `path` is how many samples
    pass from a click sent to the same click heard, 0 where that was never measured.
    """

    def __init__(self, duplex: Duplex, low: int, high: int, path: int = 0) -> None:
        self.path, self.position, self.is_open = path, 0, False
        self._duplex, self._low, self._high = duplex, low, high
        self._listener: Listener | None = None
        self.began = 0
        """The sample at which the stream that is open began: the first of its source."""
        self._has_heard = False
        self._source: Source | None = None
        self._paused = self._gone = False
        self._heed_no_suspension: Callable[[], None] = _nothing
        self.overhear: Callable[[Samples], object] = _nothing_with

    @property
    def rate(self) -> int:
        """Samples a second."""
        return self._duplex.rate

    def start(self, source: Source | None = None) -> None:
        """Open the microphone, and play the source; without one, silence. Raises NoSound."""
        self.stop()
        self._heed_no_suspension = pause_too(self)  # before it opens: Ctrl+Z may come as soon as it has
        try:
            self._open(source)
        except NoSound:
            self.stop()
            raise

    @suspend_later()
    def _open(self, source: Source | None) -> None:
        from drill.listening import Listener

        self._duplex.start(source)
        self._listener = Listener(self.rate, self._low, self._high)
        self._source, self.began, self._has_heard = source, self.position, False
        self._paused, self._gone, self.is_open = False, False, True

    def poll(self) -> list[Event]:
        """The notes named, and the plucks missed, since the last call."""
        events: list[Event] = []
        listener, began = self._listener, self.began  # Ctrl+Z may close the microphone, and open it anew, meanwhile
        if listener is None:
            return events
        for block in self._duplex.read():
            if self._listener is not listener:
                break  # what is left belongs to a stream that is over, and not to the count of the new one
            self.position += block.size
            self.overhear(block)
            self._has_heard = self._has_heard or bool(block.any())
            events += listener.feed(block)
        if not began:
            return events
        return [event._replace(onset=event.onset + began, decided=event.decided + began) for event in events]

    def stop(self) -> None:
        """Close the microphone. Safe to call twice."""
        self._close()
        self._heed_no_suspension()
        self._heed_no_suspension = _nothing

    @suspend_later()
    def _close(self) -> None:
        if self.is_open:
            self._duplex.stop()
            self.position += sum(block.size for block in self._duplex.read())
        self._listener, self.is_open, self._paused = None, False, False

    def pause(self) -> None:
        """Close the microphone until `resume`, as while the program is suspended."""
        goes_on = self.is_open or self._paused
        self._close()
        self._paused = goes_on

    def resume(self) -> None:
        """Go on after a pause; nothing happens where there was none. A microphone that is gone by then is lost."""
        if self._paused:
            self._gone = True
            with suppress(NoSound):
                self._open(self._source)

    @property
    def lost(self) -> bool:
        """Whether the microphone is gone."""
        return self._gone or self._duplex.lost

    @property
    def silent(self) -> bool:
        """Whether the microphone has given nothing but exact zeros for two seconds: it is not permitted, or muted."""
        return self.is_open and not self._has_heard and self.position - self.began >= SILENT_S * self.rate

    @property
    def overruns(self) -> int:
        """How often samples were lost because the machine was too busy."""
        return self._duplex.overruns

    @property
    def trouble(self) -> str:
        """Why nothing is heard, in a sentence or two; empty while all is well."""
        if self.lost:
            return LOST
        return f"{NOT_LET} {where_to_allow()}" if self.silent else ""


def _nothing() -> None:
    """Do nothing."""


def _nothing_with(samples: Samples) -> None:
    """Overhear nothing."""


def where_to_allow() -> str:
    """Where the system is told to let a terminal listen."""
    if on_macos():
        return "Allow it in System Settings, Privacy & Security, Microphone, then start the terminal anew."
    if on_windows():
        return "Allow it in Settings, Privacy & security, Microphone, for desktop apps."
    return "Check whether it is muted in the system's sound settings."


def open_ears(environment: Environment, settings: Settings) -> Ears:
    """Ears for the learner's devices and neck; the microphone opens when they start. Raises NoSound."""
    chosen = Chosen(settings.microphone, settings.speaker)
    duplex = environment.open_duplex(RATE, environment.monotonic, chosen)
    low, high = reach(settings.neck)
    return Ears(duplex, low, high, round(settings.path_ms * duplex.rate / 1000))


def reach(neck: Neck) -> tuple[int, int]:
    """The MIDI numbers of the lowest and the highest note of a neck."""
    opened = [neck.tuning.open(string).midi + neck.capo for string in neck.tuning.strings]
    return min(opened), max(opened) + neck.last_fret
