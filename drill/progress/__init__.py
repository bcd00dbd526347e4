"""Where the learner stands and what to drill next: tables from the record, the memory and a deck; no screen.

    progress = Progress.of(recall, deck, settings, now_s)
    progress.weakest                 the one thing to drill next: focus, label, reason
    progress.spots                   the neck map: Spot -> SpotRow (strength, speed_s, standings, focus)
    progress.table("string")         rows by "string", "key", "shape" or "family", each with its focus
    progress.keys                    readiness of the 24 everyday keys, with what holds each back
    progress.forecast                how many cards fade in each coming day
    progress.weeks, .days, .mixups   from the log: one pass, made when first asked for
    progress.calibration             chance told against share right
    progress.story(card)             one card: standing, history, why it is or is not asked next

Properties are worked out once, when first asked for. `weeks`, `days`, `mixups` and `story` aside, they read no log, so
that they cost the same however long the record is.

    standing    CardStatus, Row, SpotRow
    ready       KeyReadiness, Needed
    history     Period, MixupRow
    weakest     Weakest
    story       CardHistory
"""

from drill.progress.card_history import CardHistory
from drill.progress.card_status import KINDS, CardStatus, Group, Kind, Row, SpotRow
from drill.progress.history import MixupRow, Period
from drill.progress.readiness import KeyReadiness, Needed
from drill.progress.tables import Progress
from drill.progress.weakest import Weakest

__all__ = [
    "KINDS",
    "CardHistory",
    "CardStatus",
    "Group",
    "KeyReadiness",
    "Kind",
    "MixupRow",
    "Needed",
    "Period",
    "Progress",
    "Row",
    "SpotRow",
    "Weakest",
]
