"""Handing on: the record as open data and as a page for a teacher, and an exported log read back.

export     a Tabular Data Package, the log as JSON Lines with its JSON Schema, and one HTML page
merge      an exported log into a record, without doubling anything
is_backup  whether a file is a backup rather than a log

tables     the CSV files and their Table Schema
model      the lines of the log, and their JSON Schema
staging    files put in place together, never over someone else's
report     the page
reading    the log read back
"""

from drill.export.package import FILES, export
from drill.export.reading import is_backup, merge

__all__ = ["FILES", "export", "is_backup", "merge"]
