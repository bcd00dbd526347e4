"""Looking things up while playing: as sentences with a neck, or as JSON. Starts light: no record, no screen is needed.

keys      where a key lives: relative, signature, both anchor shapes, all five
loops     which key or keys a chord loop is in, why, and where to put the finger
scales    any scale: all over the neck, by notes a string, under the hand
"""
