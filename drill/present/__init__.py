"""One way to say things: the neck in characters, figures, dates."""
