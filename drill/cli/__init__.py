"""The command line.

main        runs a command; exit codes
parser      what was typed becomes a command and a typed request
commands    the commands, each one row; one module a subject
focus       reads what was typed to focus a drill
learner     what commands open: settings, deck, record, progress
output      results and messages
owners      whose a log or a backup is, asked at a terminal
line_mode   a drill in sentences, line by line
json_mode   a drill as JSON Lines
line_input  answers from standard input, for both
"""
