"""Export: a learner's log as open data, a report for a teacher, and an exported log read back.

export     writes a Tabular Data Package, the log as JSON Lines with its JSON Schema, and the report in HTML
merge      adds an exported log to a record, without duplicates
is_backup  whether a file is a backup rather than a log

package    every file of an export; `one_file` packs them into an archive to mail
calendar_file  the daily drill as an event for a calendar
tables     the CSV files with their Table Schema
model      the lines of the log with their JSON Schema
staging    puts files in place together, and overwrites nothing that is not ours
report     the report; `trends` tells what grew, `svg` draws its pictures, `pages` fills the templates
reading    reads the log back
"""

from drill.export.package import FILES, export
from drill.export.reading import is_backup, merge

__all__ = ["FILES", "export", "is_backup", "merge"]
