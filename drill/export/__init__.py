"""Export: a learner's log as open data, a report for a teacher, and an exported log read back.

export     writes a Tabular Data Package, the log as JSON Lines with its JSON Schema, and the report in HTML
merge      adds an exported log to a record, without duplicates
is_backup  whether a file is a backup rather than a log
"""

from drill.export.package import FILES, export
from drill.export.reading import is_backup, merge

__all__ = ["FILES", "export", "is_backup", "merge"]
