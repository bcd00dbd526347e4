"""The learner's record: every drill and every answer, in an SQLite database that survives what machines do to it.

Record       open, append, read, merge, check, back up
restore      puts a backup in the record's place, keeping what it replaces
backups      the automatic copies: where they lie, which is the last good one
AttemptRow, DrillRow    what the log holds
"""

from drill.record import backups
from drill.record.opening import restore
from drill.record.rows import AttemptRow, DrillRow, Kind
from drill.record.store import Record

__all__ = ["AttemptRow", "DrillRow", "Kind", "Record", "backups", "restore"]
