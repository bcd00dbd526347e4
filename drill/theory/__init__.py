"""What is true of pitches, keys, necks and shapes. Pure: nothing here reads a clock, a file or a random source."""
