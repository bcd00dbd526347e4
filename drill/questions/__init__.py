"""Questions derived from theory. Pure: values in, cards out.

    wording    sentences whose note names can be shown in any note language
    picture    what to draw on the neck
    answers    kinds of answer: how text is read, and what is told when it cannot be
    card       a card: prompt, accepted answers, reason, mix-ups; and the judging of an answer
    scope      what a deck covers: strings, frets, notes, keys, shapes
    family     what a kind of card must offer; the register of all of them
    spots, relatives, anchors ...   the families, grouped by subject
"""
