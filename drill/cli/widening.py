"""A focus of few cards in lines: whoever sits there is offered wider ones, a pipe is told on standard error."""

from __future__ import annotations

from drill.cli.line_input import attended, read_line
from drill.cli.output import notify, print_lines
from drill.decks import Deck, Focus, is_narrow, other_names, shipped_decks, widenings
from drill.present.idea import without_shapes
from drill.present.narrow import narrow_sentence, offer, other_name_sentence
from drill.settings import Settings
from drill.system.environment import Environment
from drill.theory.bars import bar_seconds

HOW = "Type a number to widen it, or press Enter to leave it as it is."


def widened(
    deck: Deck, focus: Focus | None, settings: Settings, environment: Environment, *, as_json: bool
) -> tuple[Deck, Focus | None]:
    """The deck and the focus to drill: as they were asked for, or as the learner widens them.

    Raises UsageProblem for a string or a shape that the instrument lacks.
    """
    if focus and (told := other_name_sentence(other_names(deck, deck.known(focus)))):
        notify(environment, [settings.voice.say(told)])
    if not focus or not is_narrow(deck, deck.known(focus)):
        return deck, focus
    sentence = narrow_sentence(deck.count(deck.known(focus)))
    if deck.left_out and (instead := without_shapes(deck.neck.tuning)):
        sentence = f"{sentence} {instead}"
    wider = widenings(deck, deck.known(focus), shipped_decks(settings.neck, bar_seconds(settings.tempo_bpm)))
    offers = [settings.voice.say(offer(each.words, each.cards)) for each in wider]
    if as_json or not attended(environment) or not wider:
        notify(environment, [f"{sentence} Wider: {'; '.join(offers)}." if offers else sentence])
        return deck, focus
    adds = [settings.voice.say(each.adds) for each in wider]
    lines = (f"{at}. {words}. {more}" for at, (words, more) in enumerate(zip(offers, adds, strict=True), 1))
    print_lines(environment, [sentence, *lines, HOW])
    number = _number(environment, len(wider))
    return (wider[number - 1].deck, wider[number - 1].focus) if number else (deck, focus)


def _number(environment: Environment, most: int) -> int:
    """The number that is typed; 0 for an empty line, and at the end of input."""
    numbers = {str(number) for number in range(1, most + 1)}
    while (line := read_line(environment)) and (text := line.strip()):
        if text in numbers:
            return int(text)
        print_lines(environment, [f"Type a number from 1 to {most}, or press Enter."])
    return 0
