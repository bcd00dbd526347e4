"""Models what a learner knows and how fast, and plans what to ask next.

Cards and facts are strings here, and times are seconds since the epoch. No function reads a clock, a file or random
numbers.

Design decisions:

- Absence. The learner's own offset becomes less certain with every day away, so the first answers afterwards move it
  more. Cards that faded meanwhile come first, those with the highest gain before the others; nothing is "overdue", and
  nothing is lost by waiting.
- Pauses. The caller takes pauses out of the thinking time, or passes None. Times outside 0.2 to 30 s say nothing about
  speed, and no single answer moves it by more than its clip.
- Slips of the hand. What is retyped before Enter never gets here, nor does a line that cannot be read. Once judged, an
  answer stands: the card returns within the drill, and one wrong answer moves an offset little.
- A clock set back. Time that runs backwards counts as no time passed.
- People differ. In what differs between people, no crowd is averaged: how much a corrected miss teaches, how steeply
  recall follows practice and forgetting, how thinking times spread, and how much they shorten with strength. Each is
  one number of the learner, which begins with what is usual and follows their answers. A right answer moves none of
  them down, so it lowers the strength of no card.
- A miss stands. A card missed last does not hold, however fresh the correction is, until it has come right again.
- The key press. It is measured by attempts at KEY_PRESS, corrected by any answer that was quicker, and subtracted from
  all thinking times.
- First sight. The first answer to a card is evidence about the family, about the card, and a little about the learner.
  What was known at first sight does not fade like what was learned here: a card that was never missed is at least as
  strong as a fresh one of its family.
- Shared facts. A card's activation leans towards that of its weakest fact, which every card that rests on it practises.
  A named mix-up counts against the fact it points at, and for the others.

A first look:

>>> from drill.memory import Attempt, Item, Learner, Planner, dump, load
>>> low_g = Item("note-at-fret:string=6:fret=3", "note-at-fret", order=0, target_s=2.5, facts=("spot:6:3",))
>>> low_c = Item("note-at-fret:string=6:fret=8", "note-at-fret", order=1, target_s=2.5, facts=("spot:6:8",))
>>> learner, now = Learner(), 1_700_000_000.0
>>> planner = Planner(learner, [low_g, low_c], now)
>>> choice = planner.next(now, seconds_left=300)
>>> choice.card, choice.reason.kind.value
('note-at-fret:string=6:fret=3', 'fresh')
>>> attempt = Attempt(choice.card, at_s=now + 4, right=True, thinking_s=2.9)
>>> changed = learner.observe(low_g, attempt)        # the rows to write with the attempt, in one transaction
>>> planner.observe(attempt)
>>> changed
('learner', 'card:note-at-fret:string=6:fret=3', 'fact:spot:6:3')
>>> rows = dump(learner, changed)
>>> load(rows).strength(low_g, now + 86_400) == learner.strength(low_g, now + 86_400)
True
>>> learner.strength(low_g, now + 600) > learner.strength(low_g, now + 86_400)
True
"""

from drill.memory.board import Start
from drill.memory.calibration import Bin, Calibration, Tally, calibration_error
from drill.memory.constants import DEFAULT, Constants
from drill.memory.forecast import fades_at, forecast, readiness
from drill.memory.item import Attempt, Item
from drill.memory.learner import KEY_PRESS, Learner
from drill.memory.planner import Choice, Planner, Preview, Standing
from drill.memory.reasons import Ending, Reason, ReasonKind
from drill.memory.rows import UnreadableState, dump, load
from drill.memory.sitting import Settled, Sitting
from drill.memory.states import TARGET_STRENGTH, State, is_fresh, is_holding, state_of

__all__ = [
    "DEFAULT",
    "KEY_PRESS",
    "TARGET_STRENGTH",
    "Attempt",
    "Bin",
    "Calibration",
    "Choice",
    "Constants",
    "Ending",
    "Item",
    "Learner",
    "Planner",
    "Preview",
    "Reason",
    "ReasonKind",
    "Settled",
    "Sitting",
    "Standing",
    "Start",
    "State",
    "Tally",
    "UnreadableState",
    "calibration_error",
    "dump",
    "fades_at",
    "forecast",
    "is_fresh",
    "is_holding",
    "load",
    "readiness",
    "state_of",
]
