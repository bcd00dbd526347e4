"""The world outside: clock, files, streams, signals. Nothing else touches it.

audio         the sound card
duplex        the microphone and the sound card in one stream

environment   the world as the program sees it: clock, chance, paths, terminal
platforms     what differs between operating systems
steady        a clock that leaves out the time in which the program is stopped
signals       an orderly end, an orderly pause
garbage       when Python looks for garbage

files         files that only their owner can read, written whole or not at all
input_files   files that others wrote, read up to a limit
validation    which values fit in which field of such a file
resources     the files that ship with the program
tunings       the tunings that ship with the program

streams       standard input and output as they may really be
text          text made fit for a terminal
slow_notice   a notice while slow work keeps the learner waiting
crash_report  the report of an internal error
"""
