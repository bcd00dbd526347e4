"""Loops and clicks as numbers: samples, MIDI events and the bytes of files. Nothing here opens a device or a file.

arrangement  which notes the chords of a loop are played with, and when, in beats
pluck        a plucked string
noise        drums and clicks, made of noise
render       an arrangement as samples, each part of its own
volume       how loud sound starts and grows
mix          what the sound card is given, block by block: a loop with its count-in, or the clicks of a round
midi         an arrangement as a MIDI file
wav          samples as a WAV file

All but `arrangement`, `volume` and `midi` need numpy, and `midi` needs mido: each is imported only where it is wanted.
"""
