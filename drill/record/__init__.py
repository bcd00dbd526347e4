"""The learner's record: every drill and every answer, in an SQLite database that survives what machines do to it.

Record       open, append, read, merge, back up
restore      puts a backup in the record's place, keeping what it replaces
whose        whose record a file is, told without opening it for use
backups      the automatic copies: where they lie, which is the last good one
LearnerRow, DrillRow, AttemptRow, LandingRow    what the log holds
How, Kind    how an answer was given; whether its card was asked or only shown
Place, BEFORE_ALL       where an attempt stands in the order of the log
LATEST, BASE           the snapshots of derived state, and the names of two of their rows: POSITION, PLACE
"""

from drill.record import backups
from drill.record.opening import restore
from drill.record.ownership import Whose, name_if_nameless, whose
from drill.record.rows import BEFORE_ALL, AttemptRow, DrillRow, How, Kind, LandingRow, LearnerRow, Place
from drill.record.store import BASE, LATEST, PLACE, POSITION, Record

__all__ = [
    "BASE",
    "BEFORE_ALL",
    "LATEST",
    "PLACE",
    "POSITION",
    "AttemptRow",
    "DrillRow",
    "How",
    "Kind",
    "LandingRow",
    "LearnerRow",
    "Place",
    "Record",
    "Whose",
    "backups",
    "name_if_nameless",
    "restore",
    "whose",
]
