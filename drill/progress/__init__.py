"""How well the learner knows a deck, and what to drill next: figures from the log, the memory and the deck.

    progress = Progress(learner, log, deck, settings, now_s)
    progress.weakest                 the one thing to drill next: focus, label, reason
    progress.spots                   the neck map: Spot -> SpotRow (strength, speed_s, statuses, focus)
    progress.table("string")         the cards by "string", "key", "shape" or "family", each row with its focus
    progress.keys                    readiness of the 24 everyday keys, with what holds each back
    progress.forecast                how many cards fade in each coming day
    progress.weeks, .days, .mixups   from the log, read once when first asked for
    progress.calibration             the chances predicted, and the share of right answers observed
    card_history(card, progress)     one card: status, attempts, why it is or is not asked next

Every figure is worked out once, when it is first asked for. Only `weeks`, `days`, `mixups` and `card_history` read the
log; all others cost the same however long the log is.
"""

from drill.progress.card_history import CardHistory
from drill.progress.card_status import GROUPINGS, CardGroup, CardStatus, Grouping, GroupRow, SpotRow
from drill.progress.history import Period
from drill.progress.mixup_counts import MixupRow
from drill.progress.overview import Progress
from drill.progress.readiness import KeyReadiness, Needed
from drill.progress.weakest import Weakest

__all__ = [
    "GROUPINGS",
    "CardGroup",
    "CardHistory",
    "CardStatus",
    "GroupRow",
    "Grouping",
    "KeyReadiness",
    "MixupRow",
    "Needed",
    "Period",
    "Progress",
    "SpotRow",
    "Weakest",
]
