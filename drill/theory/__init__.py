"""What is true of pitches, keys, necks and shapes. Pure: nothing here reads a clock, a file or a random source.

value       what every value has in common: it cannot change, and equals only its own kind
pitch       spelled notes, pitches and intervals on the lattice of fifths
names       text to note and note to text, in five note languages
keys        the thirty keys and their relatives
scales      formulas of degrees, and scales spelled from them
neck        tunings, strings, frets
shapes      movable shapes, generated, with the finger under each note
positions   a whole scale under one hand, with every fingering that is equally cheap
neighbours  the way from one shape to the next
chords      chord names and the notes in them
landing     chord tones and blue notes inside a shape
harmony     the chords of a key and their roman numerals
functions   what part a chord plays in a key
modes       what marks a mode, and what part a chord plays in its scale
loop_evidence  what in a chord loop speaks for a key, and how strongly
loops       which key or keys a chord loop is heard in, and how likely each is
bars        how long beats and bars last at a tempo
profiles    how well counted notes fit each key (a second opinion)
"""
