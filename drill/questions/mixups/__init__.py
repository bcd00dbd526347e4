"""What a learner confuses who gives a wrong answer: one layer under all families, compared by sound.

    mixup        a mix-up: its name, the answer it leads to, what it claims; which of them fit an answer
    claims       statements about notes, frets and keys, of which the sentences are made
    shape_claims the same about shapes, degrees and chords
    notes        a note taken for another: by its sign, its letter, its sound
    frets        a fret taken for another: of the next string, from the nut, of another note
    keys         a key taken for another: its relative, its parallel, its neighbour
    shapes       a finger, a shape or a degree in it taken for another
    chords       a chord or a numeral of a key taken for another

A family lists the mix-ups that its question invites, the likelier first, and adds what is its own.
"""
