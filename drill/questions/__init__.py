"""Questions derived from theory. Pure: values in, cards out.

    wording    sentences whose note names can be shown in any note language
    picture    what to draw on the neck
    answers    kinds of answer: how text is read, and what is told when it cannot be
    card       a card: prompt, accepted answers, reason, mix-ups; and the judging of an answer
    scope      what a deck covers: strings, frets, notes, keys, shapes
    ids        card ids: how facets become a permanent name, and how it is read
    family     what a kind of card must offer; the register of all of them
    reasons    how a player finds a note, and what goes wrong on the way
    in_shapes  where a shape lies for a key

Families by subject, each module a page of the curriculum:

    spots      octaves     letters    relatives    signatures    fingers
    anchors    diagrams    links      numerals     loops         chord_tones

    catalogue  all of them in order; reads card ids
"""
