"""One way to say things, the same in every part of the program."""
