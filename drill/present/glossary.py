"""The words of the program, the signs on the neck, and how its screens are called."""

from __future__ import annotations

SCREENS = {
    "welcome": "First start",
    "idea": "The idea",
    "letters": "The letters",
    "placement": "Where to begin",
    "ready": "First drill",
    "key-press": "Key press",
    "home": "Home",
    "drill": "Drill",
    "pause": "Pause",
    "after": "After a drill",
    "round": "Round",
    "play": "Loop",
    "tuning-check": "Tuning check",
    "sound-check": "Sound and microphone",
    "focus": "Focus",
    "widen": "Few cards",
    "look-up": "Look up",
    "progress": "Progress",
    "decks": "Decks",
    "set-up": "Set-up",
}

WORDS = (
    ("card", "one question with its accepted answers"),
    ("fact", "one thing to remember, on which many cards rest: where a note lies, a relative, a finger"),
    ("thinking time", "from the question to the first key of the answer; verdicts leave out reading and that key"),
    ("strength", "the chance that you would answer correctly now"),
    ("fresh", "never asked"),
    ("fading", "strength has dropped below its target"),
    ("holding", "strength is at its target or above"),
    ("slow", "holding, but slower than the card's target time"),
    ("fluent", "holding, and answered within the target time"),
    ("mix-up", "a recognised reason behind a wrong answer"),
    ("readiness", "the chance that you recall all you need to play in a key within one bar"),
)

NECK = (
    ("◆1m", "the minor tonic, under finger 1"),
    ("●4M", "the major tonic, under finger 4"),
    ("(3)", "another note of the shape, under finger 3"),
    ("[?]", "the place in question"),
    ("▇83", "strength on the map: a block that grows with it, and per cent"),
    ("◂ ▸", "more marks beyond the edge"),
    ("┄", "frets left out between"),
)
