"""Questions derived from theory. Pure: values in, cards out.

    wording    sentences whose note names can appear in any note language
    picture    what to draw on the neck
    answers    kinds of answer: how text is read, and the error for text that is not an answer
    facets     what a card is about, as typed values; their text; groups of cards that share one
    ids        the permanent name of a card, and its text
    facts      what an answer rests on
    card       a card: question, accepted answers, reason, mix-ups; and how an answer is judged
    mixups     what is confused by who gives a wrong answer; a package of its own
    by_ear     what to play instead of typing, where a note tells the whole answer
    scope      what a deck covers: strings, frets, notes, keys, shapes
    family     what a kind of card must offer
    reasons    how a player finds a note
    in_shapes  where a shape lies for a key
    loop_sentences   the evidence for the key of a loop, in sentences

Families by subject, each module a page of the curriculum:

    spots      octaves     letters    relatives    signatures    fingers
    anchors    diagrams    links      degrees      numerals      loops
    chord_tones

    catalogue  all of them in order; reads card ids
"""
