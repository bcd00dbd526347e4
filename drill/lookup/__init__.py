"""Looking things up while playing: as text with a neck, or as JSON. Starts quickly: it needs no record and no screen.

keys      where a key lies on the neck: relative, signature, both anchor shapes, all five
charts    what stands on a chord chart: chords however they are spelled, bars, repeats
typed_loop   reads a loop that is typed with its key
loops     which key or keys a chord loop is heard in, where to put the finger, and why
scales    any scale: all over the neck, by notes per string, under the hand
query     reads what was typed: a key, or the chords of a loop
"""
