"""The families of cards, one module a subject."""
