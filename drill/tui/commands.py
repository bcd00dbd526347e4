"""The table of commands, from which bindings, palette, footer and help screen are made.

>>> find("look-up").key, find("look-up").action
('l', 'do_look_up')
"""

from typing import NamedTuple

from textual.binding import Binding, BindingType
from textual.keys import format_key

from drill.system.signals import STANDS_STILL


class Command(NamedTuple):
    """One thing the learner can do on the screens that `where` names; an empty `where` means on every screen."""

    id: str
    key: str
    """Keys as Textual writes them, separated by commas; the first one is shown."""
    title: str
    help: str
    where: tuple[str, ...] = ()
    shown: bool = True
    """Whether a footer shows it; a screen that lists its ways on shows them there."""

    @property
    def action(self) -> str:
        """The name of the method without `action_`; the prefix `do_` keeps it apart from Textual's own actions."""
        return "do_" + self.id.replace("-", "_")

    @property
    def key_shown(self) -> str:
        """The first key, as printed on a keyboard."""
        name = self.key.split(",")[0]
        *modifiers, bare = name.split("+") if name not in _KEYS_SHOWN else (name,)
        words = _KEYS_SHOWN.get(bare, format_key(bare))
        return "+".join((*(each.capitalize() for each in modifiers), _capital(words))).replace("Ctrl+", "^")

    def typed_nowhere(self, where: str) -> "Command":
        """The command as a screen shows it: where letters are typed, its first key that is none."""
        if where not in TYPED_IN:
            return self
        return self._replace(key=",".join(sorted(self.key.split(","), key=lambda key: len(key) == 1)))

    def binding(self, where: str = "") -> Binding:
        """The command as a screen binds it to its keys."""
        shown = self.shown and (self.id == "go" or where not in LISTING)
        return Binding(self.key, self.action, self.title, shown, tooltip=self.help, id=self.id)


_KEYS_SHOWN = {
    "question_mark": "?",
    "enter": "Enter",
    "backspace": "Backspace",
    "escape": "Esc",
    "pageup": "PgUp",
    "pagedown": "PgDn",
    "shift+tab": "⇧Tab",
    "up": "↑",
    "down": "↓",
    "right": "→",
    "left": "←",
    "plus": "+",
    "minus": "-",
}
"""Keys for which Textual shows something else than what stands on a keyboard."""

TYPED_IN = ("drill", "focus", "look-up", "key-press")
"""Screens in which letters, figures and signs are typed."""

LISTING = ("home", "after")
"""Screens that list their commands, so that the footer need not."""

_LONG = ("drill", "after", "welcome", "idea", "letters")
"""Screens that may be longer than the terminal."""

_SUSPEND = Command("suspend", "ctrl+z", "Suspend", "Back to the shell; type fg to return.", shown=False)
"""Left out where the system cannot suspend a program."""

COMMANDS: tuple[Command, ...] = (
    Command("today", "t", "Today", "Drill what fades and what is new.", ("home",)),
    Command("homework", "h", "Homework", "Drill what your teacher set, the nearest last day first.", ("home",)),
    Command("focus", "f", "Focus", "Drill one string, key, shape or kind of question.", ("home",)),
    Command("look-up", "l", "Look up", "See where a key lives on the neck, or which key a loop is in.",
            ("home", "pause")),
    Command("progress", "p", "Progress", "See where the neck is strong and weak, and drill a weak spot.", ("home",)),
    Command("round", "r", "Round", "Land on the tonics of keys called over a click, guitar in hand.", ("home",)),
    Command("loop", "o", "Loop", "Play over a loop in your weakest key, guitar in hand.", ("home",)),
    Command("decks", "d", "Decks", "Choose the deck for your daily drill.", ("home",)),
    Command("set-up", "s", "Set-up", "Set tuning, frets, hand, note names, minutes and tempo.", ("home",)),
    Command("key-press", "k", "Key press", "Measure how long a key press takes you.", ("home",)),
    Command("idea", "i", "Idea", "See the idea on one page: one shape, two tonics, two anchors.", ("home", "help")),
    Command("letters", "n", "Letters", "See the letters of the notes on one page, and how far apart they lie.",
            ("idea", "help")),
    Command("go", "enter", "Open", "Open the selected item.", ("home", "after")),
    Command("continue", "enter", "Continue", "Go on towards the first drill, or back from where you came.",
            ("welcome", "idea", "letters")),
    Command("yes", "y", "Yes", "Answer the question with yes.", ("placement",)),
    Command("no", "n", "No", "Answer the question with no.", ("placement",)),
    Command("pick", "enter", "Choose", "Choose the answer under the cursor.", ("placement",), shown=False),
    Command("skip-questions", "escape", "Skip", "Leave the questions out; your first answers decide.", ("placement",)),
    Command("begin", "enter", "Begin", "Start the first drill.", ("ready",)),
    Command("measured", "enter", "Continue", "Return to Home once a key press is measured.", ("key-press",)),
    Command("answer", "enter", "Answer", "Submit the answer; after the verdict, show the next question.", ("drill",)),
    Command("pause", "space", "Pause", "On an empty answer field: stop the clock and hide the question.", ("drill",)),
    Command("not-known", "question_mark", "Not known", "Say that you do not know, and see the answer.", ("drill",)),
    Command("hear-again", "f7", "Hear it again", "Play once more what the question is about.", ("drill",)),
    Command("scroll-up", "pageup,up", "Scroll up", "Move the page up.", _LONG, shown=False),
    Command("scroll-down", "pagedown,down", "Scroll down", "Move the page down.", _LONG, shown=False),
    Command("end", "escape", "End", "End the drill; every answer is saved.", ("drill",)),
    Command("go-on", "space,enter,escape", "Resume", "End the pause.", ("pause",)),
    Command("end-drill", "e", "End the drill", "End the paused drill; every answer is saved.", ("pause",)),
    Command("home", "escape,h", "Home", "Return to the first screen.", ("after",)),
    Command("play-round", "r", "Round", "Play it: a round of the keys just drilled, guitar in hand.", ("after",)),
    Command("play-loop", "l", "Loop", "Play over a loop in one of these keys.", ("after",)),
    Command("faster", "t", "Next tempo", "Drill at the next tempo from now on.", ("after",)),
    Command("next-deck", "d", "Next deck", "Take the deck that comes next for your daily drill.", ("after",)),
    Command("again", "a", "Another drill", "Start another drill of the same kind.", ("after",)),
    Command("drill-weakest", "w", "Weakest", "Start a drill on what is weakest now.", ("after",)),
    Command("weakest", "w", "Weakest", "Start a drill on what is weakest now.", ("progress",)),
    Command("sheet", "p", "Sheet", "Write a practice sheet of what is weakest, to print.", ("progress",), shown=False),
    Command("take", "enter", "Drill", "Drill the choice under the cursor.", ("widen",)),
    Command("select", "tab,space", "Select", "Select or deselect the line; Space while nothing is typed.", ("focus",)),
    Command("start", "enter", "Start", "Drill the selected lines, or the line under the cursor.", ("focus",)),
    Command("show", "enter", "Show", "Look up what you typed.", ("look-up",)),
    Command("semitone-up", "up", "Semitone up", "Look up the same a semitone higher.", ("look-up",), shown=False),
    Command("semitone-down", "down", "Semitone down", "Look up the same a semitone lower.", ("look-up",),
            shown=False),
    Command("fifth-up", "right", "Fifth up", "Look up the same a fifth higher: one sharp more.", ("look-up",),
            shown=False),
    Command("fifth-down", "left", "Fifth down", "Look up the same a fifth lower: one flat more.", ("look-up",),
            shown=False),
    Command("relative", "tab", "Relative", "Look up the relative key.", ("look-up",)),
    Command("dots", "f2", "Dots", "Change what the dots show: fingers, degrees or notes.", ("look-up",)),
    Command("page-up", "pageup", "Page up", "Move the page up.", ("look-up", "round", "play"), shown=False),
    Command("page-down", "pagedown", "Page down", "Move the page down.", ("look-up", "round", "play"), shown=False),
    Command("drill-this", "enter", "Drill this", "Drill what is under the cursor.", ("progress",)),
    Command("next-page", "tab", "Next page", "Turn to the next page.", ("progress",)),
    Command("previous-page", "shift+tab", "Previous page", "Turn to the previous page.", ("progress",), shown=False),
    Command("drill-key", "f3", "Drill it", "Drill the key that is shown, or the keys of the loop.", ("look-up",)),
    Command("rests", "f5", "Rests on", "Say on which chord the loop rests: each press takes the next.", ("look-up",)),
    Command("copy", "f6", "Copy", "Copy all that is shown, with the neck.", ("look-up",)),
    Command("play-it", "f7", "Play it", "Play the loop, with its shapes beside it.", ("look-up",)),
    Command("had-it", "space,enter", "Had it", "Say that you landed on the tonic. No need to; it moves no strength.",
            ("round",)),
    Command("hear-round", "l", "Listen", "Listen to your guitar and say how you landed; press again to stop listening.",
            ("round",)),
    Command("new-round", "a", "Another round", "Start another round.", ("round",)),
    Command("sound-check", "m", "Microphone", "Check microphone and sound: level, quiet and latency.",
            ("set-up",)),
    Command("check-on", "enter", "Go on", "Begin the check; leave out the step that is running.", ("sound-check",)),
    Command("check-again", "a", "Again", "Check from the beginning.", ("sound-check",)),
    Command("skip", "enter,space,escape", "Go on", "Go on, whatever has been heard of the strings.", ("tuning-check",)),
    Command("stop-start", "space", "Stop, start", "Stop the loop, or start it again with its count-in.", ("play",)),
    Command("chords", "c", "Chords", "Switch the chords off or on.", ("play",), shown=False),
    Command("bass", "b", "Bass", "Switch the bass off or on.", ("play",), shown=False),
    Command("drums", "d", "Drums", "Switch the drums off or on.", ("play",), shown=False),
    Command("other-key", "tab", "Other key", "Show the shapes of another key that the loop may be in.", ("play",)),
    Command("louder", "plus,up", "Louder", "Raise the volume a little.", ("round", "play")),
    Command("softer", "minus,down", "Softer", "Lower the volume a little.", ("round", "play")),
    Command("map", "m", "Speed", "Switch between the maps of strength and of speed.", ("progress",)),
    Command("choose", "enter", "Choose", "Use the selected deck for your daily drill.", ("decks",)),
    Command("change", "enter", "Change", "Change the selected setting.", ("set-up",)),
    Command("more", "right,plus", "Next value", "Switch the setting to its next value.", ("set-up",)),
    Command("less", "left,minus", "Previous value", "Switch the setting to its previous value.", ("set-up",)),
    Command("back", "escape", "Back", "Return to the previous screen.",
            ("focus", "widen", "look-up", "progress", "decks", "set-up", "help", "key-press", "welcome", "idea",
             "letters", "ready", "round", "play", "sound-check")),
    Command("help", "f1,question_mark", "Help", "Show every command and its key."),
    Command("colours", "f4", "Colours", "Switch the colours: woods, high contrast, your terminal's.", shown=False),
    *([_SUSPEND] if STANDS_STILL is not None else []),
    Command("quit", "q,ctrl+q", "Quit", "Leave the program; every answer is saved."),
)  # fmt: skip


def find(command_id: str) -> Command:
    """The command of an id."""
    return next(command for command in COMMANDS if command.id == command_id)


def of_screen(where: str) -> tuple[Command, ...]:
    """The commands of one screen, without those that work everywhere."""
    return tuple(command for command in COMMANDS if where in command.where)


def everywhere() -> tuple[Command, ...]:
    """The commands that work on every screen."""
    return tuple(command for command in COMMANDS if not command.where)


def bindings(where: str = "") -> list[BindingType]:
    """The bindings of a screen, or of the program itself."""
    return [command.binding(where) for command in (of_screen(where) if where else everywhere())]


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:] if len(words) > 1 else words
