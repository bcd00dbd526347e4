"""Loops and clicks as numbers: samples, MIDI events and the bytes of files. Nothing here opens a device or a file.

All but `arrangement`, `volume` and `midi` need numpy, and `midi` needs mido: each is imported only where it is wanted.
"""
