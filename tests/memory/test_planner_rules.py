"""The rules of the planner, one by one: when a drill ends, kinds that go badly, solved cards."""

from __future__ import annotations

from collections import Counter
from itertools import groupby, pairwise

import pytest

from drill.memory import Attempt, Ending, Item, Learner, Planner, ReasonKind
from drill.memory import kinds as kinds_module
from drill.memory.diary import MOST_ASKED
from drill.memory.front import OPEN_MISSES
from drill.memory.kinds import TIRES_AFTER
from drill.memory.planner import ENOUGH_S
from drill.memory.solved import MOST
from tests.memory.drills import DAY, NOW, Drill, asked, cards, keys, wholes


def test_a_reason_tells_a_card_that_was_shown_from_a_new_one_and_a_second_example_from_the_first():
    drill = Drill(keys(1), lambda card, before: False, start="shapes")
    log = drill.run()
    first_example, *again = [choice.reason.kind for choice, _ in log if choice.solved and choice.card[0] == "w"]
    assert first_example is ReasonKind.FRESH
    assert again and set(again) == {ReasonKind.EXAMPLE}
    shown, asked_after = set(), {}
    for choice, _ in log:
        if choice.solved:
            shown.add(choice.card)
        elif choice.card in shown:
            asked_after.setdefault(choice.card, choice.reason.kind)
    assert asked_after
    assert ReasonKind.FRESH not in asked_after.values()


# -- the end -----------------------------------------------------------------------------------------------------------


def test_a_drill_says_why_it_ends():
    drill = Drill(keys(), thinking=3.4, start="shapes")
    drill.run()
    assert drill.planner.ending is Ending.TIME
    planner = Planner(Learner(), [], NOW)
    assert planner.next(NOW, 300.0) is None
    assert planner.ending is Ending.EMPTY


@pytest.mark.long
def test_a_drill_ends_early_once_everything_is_known_and_has_stood_days_without_a_question():
    drill = Drill(keys(1), lambda card, before: before > 0, thinking=1.0, start="speed")
    lengths = [len(drill.run(day)) for day in (0, 1, 2, 4, 8, 12, 18, 24, 30)]
    assert drill.planner.ending is Ending.KNOWN
    assert lengths[0] > 40
    assert lengths[-1] < 20


@pytest.mark.long
def test_nothing_is_asked_twice_in_a_row():
    drill = Drill(keys(1), lambda card, before: before % 2 > 0, start="notes")
    for day in range(3):
        assert all(before != after for before, after in pairwise(cards(drill.run(day))))


@pytest.mark.long
def test_a_drill_ends_after_a_while_if_what_is_left_holds_and_has_held_overnight():
    drill = Drill(keys(3), lambda card, before: before > 0, thinking=1.0, start="speed")
    first, *later = [drill.run(day) for day in range(8)]
    assert first[-1][1].at_s - NOW > 280, "what came right in one sitting only is drilled on"
    last = later[-1]
    assert drill.planner.ending is Ending.KNOWN
    assert ENOUGH_S <= last[-1][1].at_s - (NOW + 7 * DAY) < 2 * ENOUGH_S


@pytest.mark.parametrize("slips", [(), ("whole:4:minor:5", "whole:2:major:6")])
def test_who_knows_all_of_a_deck_is_done_once_each_card_came_right_in_time(slips):
    drill = Drill(keys(8), lambda card, before: card not in slips or before > 0, thinking=1.2, start="speed")
    log = drill.run()
    assert drill.planner.ending is Ending.IN_TIME
    assert log[-1][1].at_s - NOW < 240
    last = {choice.card: attempt.right for choice, attempt in log}
    assert all(last[card] for card in drill.items if card.startswith("whole"))
    repeated = [card for card, times in Counter(cards(log)).items() if times > 1]
    assert set(repeated) <= {*slips}, "nothing comes twice to fill the time"


def test_what_comes_late_from_who_knows_the_rest_is_asked_again_before_parts_that_the_whole_keeps_proving():
    late = {"whole:1:minor:5", "whole:6:major:6"}

    class Late(Drill):
        def answer(self, item, now):
            self.thinking = 4.0 if item.card in late and not self.times[item.card] else 1.2
            return super().answer(item, now)

    drill = Late(keys(8), start="speed")
    log = drill.run()
    assert drill.planner.ending is Ending.IN_TIME
    again = [choice for choice, _ in log if choice.reason.kind is ReasonKind.SETTLING]
    assert sorted(choice.card for choice in again) == sorted(late)


def test_who_was_told_most_of_it_or_comes_too_late_goes_on_until_the_time_is_up():
    for knows, thinking in ((lambda card, before: before > 0, 1.2), (lambda card, before: True, 3.4)):
        drill = Drill(keys(2), knows, thinking=thinking, start="speed")
        drill.run()
        assert drill.planner.ending is Ending.TIME


def test_what_was_asked_today_is_through_for_today_and_no_longer():
    drill = Drill(keys(3), thinking=1.2, start="speed")
    log = drill.run()
    half = [attempt for _, attempt in log[: len(log) // 2]]
    later = NOW + 3600
    assert Planner(drill.learner, drill.items.values(), later).is_through(attempt for _, attempt in log)
    for attempts in (half, []):
        assert not Planner(drill.learner, drill.items.values(), later).is_through(attempts)


@pytest.mark.parametrize(("thinking", "through"), [(1.4, True), (2.6, False)])
def test_a_part_that_took_the_whole_bar_did_not_come_in_time(thinking, through):
    """A bar lasts 3 s; a single note or relative has to come within 1.5 s."""
    learner, items = Learner(), {item.card: item for item in keys(2)}
    attempts = [Attempt(card, NOW + 5 * number, True, thinking) for number, card in enumerate(items)]
    for attempt in attempts:
        learner.observe(items[attempt.card], attempt)
    assert Planner(learner, items.values(), NOW + 3600).is_through(attempts) is through


def test_once_a_missed_card_was_asked_four_times_it_rests_and_what_is_asked_instead_says_so():
    """While it stands missed it is not true that nothing is more urgent than a card that holds."""
    hard = "whole:0:minor:5"
    drill = Drill(keys(6), lambda card, before: card != hard, start="shapes")
    drill.run()
    log = drill.run(1)
    times = [number for number, (choice, _) in enumerate(log) if choice.card == hard]
    assert len(times) == MOST_ASKED
    kinds = {choice.reason.kind for choice, _ in log[times[-1] + 1 :]}
    assert ReasonKind.INSTEAD in kinds
    assert not kinds & {ReasonKind.AGAIN, ReasonKind.HOLDING}


@pytest.mark.long
def test_no_drill_ends_early_while_a_card_stands_missed():
    drill = Drill(keys(3), lambda card, before: card != "whole:1:major:6", thinking=1.0, start="speed")
    for day in range(8):
        drill.run(day)
        assert drill.planner.ending is Ending.TIME


# -- a kind that goes badly --------------------------------------------------------------------------------------------


def keys_with_fingers(pairs=6):
    """The same, and for each key two cards about the finger, one for each string: all of them ask the same rule."""
    items = []
    for item in keys(pairs):
        if item.family != "whole":
            items.append(item._replace(order=len(items)))
            continue
        finger = Item(item.card.replace("whole", "rule"), "rule", 0, 1.5, ("finger",), (), item.groups)
        items.append(item._replace(order=len(items), needs=(*item.needs, "rule")))
        items.append(finger._replace(order=len(items)))
    return items


def of_kind(log, kind):
    return [card for card in asked(log) if card.startswith(kind)]


@pytest.mark.long(but=1)
@pytest.mark.parametrize("kind", ["rule", "fret", "whole", "relative"])
def test_a_kind_that_is_missed_again_and_again_rests_until_tomorrow_and_holds_nothing_else_up(kind):
    drill = Drill(keys_with_fingers(), lambda card, before: not card.startswith(kind), thinking=4.0, start="notes")
    untroubled = Drill(keys_with_fingers(), thinking=4.0, start="notes")
    for day in range(3):
        log, smooth = drill.run(day), untroubled.run(day)
        news = len(set(of_kind(log, kind)))
        assert len(of_kind(log, kind)) <= TIRES_AFTER + news
        assert len(of_kind(log, kind)) <= len(log) / 4
        runs = [len(list(run)) for is_it, run in groupby(cards(log), lambda card: card.startswith(kind)) if is_it]
        assert max(runs, default=0) <= 4, "at most shown, asked, shown, asked"
        if day == 0:
            assert of_kind(log, kind)
            others = {card for card in asked(log) if not card.startswith(kind)}
            assert len(others) >= len({card for card in asked(smooth) if not card.startswith(kind)}) / 2
            assert kind == "whole" or of_kind(log, "whole"), "the whole task does not wait for it"


@pytest.mark.parametrize("start", ["notes", "shapes"])
def test_cards_that_come_right_once_they_were_told_make_no_kind_rest(start, monkeypatch):
    """Whoever begins misses what is new; that is no sign that the kind goes badly."""

    def drilled():
        drill = Drill(keys(), lambda card, before: card in drill.learner.cards, start=start)
        return cards(drill.run())

    log = drilled()
    monkeypatch.setattr(kinds_module, "TIRES_AFTER", 10**9)
    assert log == drilled()


def test_where_there_is_only_one_kind_nothing_is_new_while_it_goes_badly():
    items = [Item(f"note:{k}", "note", k, 3.0, (f"spot:{k}",)) for k in range(40)]
    log = Drill(items, lambda card, before: False, start="notes").run()
    assert len(set(asked(log))) <= OPEN_MISSES + MOST_ASKED
    assert len(asked(log)) > 25, "and the drill is not over"


def test_a_rule_comes_before_its_first_whole_and_not_again_in_every_key():
    log = Drill(keys_with_fingers(), thinking=2.0, start="notes").run()
    order = asked(log)
    first, eighth = (order.index(wholes(log)[nth]) for nth in (1, 7))  # one follows a solved card at once
    assert [card for card in order[:first] if card.startswith("rule")]
    assert len({card for card in order[:eighth] if card.startswith("rule")}) <= 2


# -- solved cards ------------------------------------------------------------------------------------------------------


def test_the_first_card_of_a_kind_is_shown_solved_and_the_next_is_asked_in_another_key():
    log = Drill(keys(), start="shapes").run()
    (shown, attempt), (following, _) = log[:2]
    assert shown.solved
    assert attempt.right is None
    assert not following.solved
    items = {item.card: item for item in keys()}
    assert items[following.card].family == items[shown.card].family
    assert not items[following.card].groups & items[shown.card].groups
    kinds = [items[choice.card].family for choice, _ in log if choice.solved]
    assert len(kinds) == len(set(kinds)), "one solved card a kind, if nothing is missed"
    assert shown.card in asked(log), "it stays fresh, and is asked later"


def test_a_miss_on_a_kind_that_was_never_right_brings_a_solved_card_again():
    drill = Drill(keys(), lambda card, before: not card.startswith("whole"), start="shapes")
    log = drill.run()
    shown = [choice.card for choice, _ in log if choice.solved and choice.card.startswith("whole")]
    assert 2 <= len(shown) <= MOST


def test_a_miss_on_a_kind_that_was_right_brings_none():
    drill = Drill(keys(), lambda card, before: card != "whole:1:minor:6", start="shapes")
    shown = [choice.card for choice, _ in drill.run() if choice.solved and choice.card.startswith("whole")]
    assert len(shown) == 1


def test_a_kind_that_another_deck_asked_is_not_shown_again():
    learner = Learner()
    learner.observe(Item("whole:elsewhere", "whole"), Attempt("whole:elsewhere", NOW - DAY, True, 2.0))
    assert not Planner(learner, keys(), NOW, "shapes").next(NOW, 300.0).solved
