"""What is true of pitches, keys, necks and shapes. Pure: nothing here reads a clock, a file or a random source.

    pitch     spelled notes, pitches and intervals on the lattice of fifths
    names     text to note and note to text
    keys      the thirty keys and their relatives
    scales    formulas and spelled scales
    neck      tunings, strings, frets
    shapes    movable shapes, generated, with the finger under each note
    anchors   the two shapes every key is played from
"""
