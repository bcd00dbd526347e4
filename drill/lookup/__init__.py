"""Looking things up while playing: as text with a neck, or as JSON.

It starts quickly: it needs no record and no screen.
"""
