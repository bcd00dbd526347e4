"""The command line.

main        runs a command; exit codes
parser      what was typed becomes a command and a typed request
command     a command as one row
commands    the commands, one module a subject
learner     what commands open: settings, deck, record, progress
output      results and messages
line_mode   a drill line by line, in words or as JSON
"""
