"""The command line.

main        runs a command; exit codes
parser      what was typed becomes a command and a typed request
commands    the commands, each one row; one module a subject
focus       what a drill was focused on, as it was typed
learner     what commands open: settings, deck, record, progress
output      results and messages
line_mode   a drill line by line, in words or as JSON
"""
