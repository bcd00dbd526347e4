"""How long what a drill shows stands, and how soon keys are heeded, in seconds."""

TICK_S = 0.1
"""How often the screen looks at the clock: for the beats, the time that is left, and the next question."""
KEY_REPEAT_S = 0.25
"""Enters that follow each other faster come from a key that is held down, and are ignored."""
TOO_SOON_S = 0.5
"""An Enter or a click so soon after a question or a verdict came was meant for what was there before."""
THOUGHT_S = 1.0
"""Who rests so long while typing thinks again: that belongs to the thinking time."""
UNREAD_S = 0.25
"""Nobody has read a question that came by itself so soon: a key was meant for what was there before."""
SUMMARY_S = 1.5
"""An Enter so soon after the summary came was meant for the last verdict."""
LESSON_S = 1.5
"""So long a card that is shown with its answer stays at the least."""
NEXT_S = 1.0
"""After a right answer the next question comes by itself when no key was pressed for so long."""
LATE_S = 2.5
"""The same where it came too late: there are more figures to be read, and what was thought out at length sinks in."""
NEW_S = 4.0
"""The same where the card, or its rule, is new: so long takes a reason of a dozen words to be read."""
ALONE_S, ALONE_READING_S = 30.0, 120.0
"""A question without a key for so long was left alone, and so was what is there to be read."""
ONE_FRAME_S = 1 / 60
"""The neck follows its verdict by so much: drawn at once, it would keep the words from the thread that writes them."""
