"""Looking things up while playing: as text with a neck, or as JSON. Starts quickly: it needs no record and no screen.

keys      where a key lies on the neck: relative, signature, both anchor shapes, all five
loops     which key or keys a chord loop is in, why, and where to put the finger
scales    any scale: all over the neck, by notes per string, under the hand
query     reads what was typed: a key, or the chords of a loop
"""
