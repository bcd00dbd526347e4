"""What is new: how much of it a drill brings, in which order, and where it begins."""

from __future__ import annotations

import pytest

from drill.memory import Attempt, Item, Learner, Planner
from drill.memory.board import Board
from drill.memory.front import PROBE_MISSES, SHARE, SPARING_S
from drill.memory.recent import BREAK_S, KEPT, Recent
from tests.memory.drills import DAY, NOW, Drill, asked, keys, wholes

# -- the front ---------------------------------------------------------------------------------------------------------


@pytest.mark.long(but=1)
@pytest.mark.parametrize("thinking", [1.5, 3.5])
@pytest.mark.parametrize("right", [0.9, 1.0])
def test_every_drill_brings_something_new_while_anything_is_new(right, thinking):
    """At 90 % right and 3.5 s the first planner asked one core card in forty days."""
    drill = Drill(keys(), lambda card, before: (hash_of(card) + before) % 100 < 100 * right, thinking, start="shapes")
    met: set[str] = set()
    for day in range(14):
        if len(met) == len(drill.items):
            break
        log = drill.run(day)
        assert set(asked(log)) - met, f"day {day}"
        met |= set(asked(log))
    assert {item.card for item in keys() if item.family == "whole"} <= met


def hash_of(card):
    """A number that looks random, and is the same in every run."""
    return sum((k + 7) * ord(letter) for k, letter in enumerate(card))


@pytest.mark.long
def test_a_slow_card_does_not_outrank_a_new_task_unless_it_is_slower_than_a_bar():
    """The parts' own target is half a bar; that is for later."""
    drill = Drill(keys(), thinking=2.2, start="shapes")
    log = drill.run() + drill.run(1)
    unmet = {item.card for item in keys() if item.family == "whole"}
    for choice, _ in log:
        unmet.discard(choice.card)
        if unmet:
            assert choice.reason.kind != "slow" or choice.reason.speed_s > 3.0


def test_a_part_has_half_a_bar_only_once_every_task_was_met():
    items = {item.card: item for item in keys(2)}
    board = Board(Learner(), items.values(), NOW, None)
    assert board.limit_s(items["fret:6:0"]) == 3.0
    board.fresh = {card: item for card, item in board.fresh.items() if item.family in ("fret", "relative")}
    assert board.limit_s(items["fret:6:0"]) == 1.5


def recent_of(*answers):
    """First answers, given as (kind, how many right, how many wrong)."""
    rights = [(kind, True) for kind, right, _ in answers for _ in range(right)]
    wrongs = [(kind, False) for kind, _, wrong in answers for _ in range(wrong)]
    both = wrongs + rights
    return Recent([right for _, right in both], [kind for kind, _ in both])


def test_a_handful_of_misses_at_the_very_beginning_is_not_too_many():
    assert not recent_of(("whole", 0, 8)).too_many_misses
    assert recent_of(("whole", 14, 6)).too_many_misses
    assert not recent_of(("whole", 15, 5)).too_many_misses


@pytest.mark.parametrize(
    ("answers", "too_many"),
    [
        ([("rule", 0, 6), ("whole", 14, 0)], False),  # one kind that goes badly holds nothing else up,
        ([("rule", 2, 4), ("whole", 12, 2)], False),
        ([("rule", 0, 5), ("whole", 11, 4)], True),  # unless too much of the others went wrong as well;
        ([("rule", 3, 3), ("whole", 11, 3)], True),  # a kind that comes right as often as not counts,
        ([("whole", 4, 6), ("fret", 10, 0)], True),  # and so does one that is half of all,
        ([("rule", 0, 5), ("fret", 0, 5), ("whole", 10, 0)], True),  # and all kinds but one
    ],
)
def test_one_kind_that_goes_badly_does_not_hold_up_what_is_new_of_others(answers, too_many):
    assert recent_of(*answers).too_many_misses == too_many


def misses(count):
    learner = Learner()
    learner.recent = recent_of(("whole", KEPT - count, count))
    learner.clock.last_s = NOW - DAY
    return learner


def new_cards(learner, items, seconds=300.0):
    drill = Drill(items, start="shapes")
    drill.learner = learner
    before = {card for card, state in learner.cards.items() if state.asked}
    return [card for card in dict.fromkeys(asked(drill.run(seconds=seconds))) if card not in before]


def met(learner, items, cards_met):
    for item in items:
        if item.card in cards_met:
            recent = Recent.load(learner.recent.dump())
            learner.observe(item, Attempt(item.card, NOW - DAY, True, 2.0))
            learner.recent = recent
    return learner


@pytest.mark.parametrize("minutes", [1, 2, 5])
def test_after_too_many_misses_a_little_is_new_all_the_same_and_parts_come_before_wholes(minutes):
    items = keys()
    first_pair = {item.card for item in items[:8]}
    new = new_cards(met(misses(6), items, first_pair), items, 60.0 * minutes)
    assert len(new) == round(60.0 * minutes / SPARING_S) > 0
    assert new[0] in {"fret:6:1", "fret:5:1", "relative:1"}
    assert len(new_cards(met(misses(5), items, first_pair), items)) > 5, "one in four is not too much"


def test_whoever_misses_half_meets_something_new_in_every_drill_and_is_told_so_before():
    """Such a learner met nothing new in two drills of three, and saw the same twelve cards."""
    drill = Drill(keys(), lambda card, before: (hash_of(card) + before) % 2 == 0, start="shapes")
    known: set[str] = set()
    for day in range(10):
        now = NOW + day * DAY
        foreseen = Planner(drill.learner, drill.items.values(), now, "shapes").preview(now, 300.0).new
        new = set(asked(drill.run(day))) - known
        known |= new
        assert len(new) >= 2, f"day {day}"
        assert foreseen, f"day {day}"


def test_a_tenth_of_the_time_at_least_is_new_however_much_fades():
    items = keys()
    drill = Drill(items, lambda card, before: True, thinking=2.5, start="shapes")
    for item in items[:56]:
        for day in (3, 2):
            drill.learner.observe(item, Attempt(item.card, NOW - (60 + day) * DAY, day == 2, 9.0))
    known = set(drill.learner.cards)
    log = drill.run()
    assert {choice.reason.kind for choice, _ in log} >= {"fading", "fresh"}
    new = sum(attempt.thinking_s + 4.3 for choice, attempt in log if choice.card not in known and attempt.right)
    assert new >= SHARE * 300 * 0.8


@pytest.mark.parametrize(("misses_of_twenty", "comes_first"), [(5, True), (6, False)])
def test_new_cards_come_before_those_that_fade_while_what_was_met_goes_well(misses_of_twenty, comes_first):
    """And not for more than a third of the time, as long as anything fades."""
    items = keys()
    drill = Drill(items, thinking=2.5, start="shapes")
    drill.learner = misses(misses_of_twenty)
    known = {item.card for item in items[:32]}
    for item in items[:32]:
        recent = Recent.load(drill.learner.recent.dump())
        drill.learner.observe(item, Attempt(item.card, NOW - 90 * DAY, True, 2.0))
        drill.learner.recent = recent
    log = [choice.card not in known for choice, _ in drill.run()]
    assert (sum(log[:20]) > 6) == comes_first
    assert sum(log[:20]) <= 12


def test_of_what_is_new_facts_never_met_come_first():
    """The fourth whole of a pair asks for nothing that the first three have not brought up, nor does the way back.

    In the first pair a card was shown solved, so there the order is another.
    """
    log = Drill(keys(6), thinking=2.0, start="shapes").run()
    order = list(dict.fromkeys(asked(log)))
    least_new = [order.index(card) for pair in range(1, 6) for card in (f"whole:{pair}:major:5", f"back:{pair}")]
    others = [order.index(f"whole:{pair}:{mode}:6") for pair in range(1, 6) for mode in ("minor", "major")]
    assert max(others) < min(least_new)


def test_what_whole_tasks_practise_needs_no_question_of_its_own_until_it_was_missed():
    """Even while the whole is too slow to prove it."""
    items = {item.card: item for item in keys(2)}
    whole, back, other = items["whole:0:major:6"], items["back:0"], items["back:1"]
    learner = Learner()
    for item in (whole, back, other):
        learner.observe(item, Attempt(item.card, NOW - DAY, True, 20.0))
    board = Board(learner, items.values(), NOW, "shapes")
    assert not board.is_proved(back)
    assert board.is_spared(back)
    assert not board.is_spared(other), "no whole task with this fact was met"
    assert not board.is_spared(whole)
    learner.observe(back, Attempt(back.card, NOW - 3600, False, 2.0))
    assert not Board(learner, items.values(), NOW, "shapes").is_spared(back)


def test_recent_answers_are_the_first_of_a_drill_to_cards_met_before():
    recent = Recent()
    recent.add(60.0, False)
    assert recent.first_answers == []
    recent.add(DAY, False)
    recent.add(BREAK_S, True)
    assert recent.first_answers == [False]
    assert Recent.load(recent.dump()) == recent


@pytest.mark.parametrize(
    "value",
    [
        None,
        [],
        [[1]],
        [[2], ["a"]],
        [[1] * 21, ["a"] * 21],
        [[0.5], ["a"]],
        [[1], []],
        [[1], [2]],
        [[1], 0, 1, ["a"]],
    ],
)
def test_what_no_answers_lead_to_is_not_read_as_the_latest_answers(value):
    with pytest.raises(ValueError, match="latest answers"):
        Recent.load(value)


# -- the place to begin ------------------------------------------------------------------------------------------------


def pair_of(card):
    return int(card.split(":")[1]) if card.startswith("whole") else None


@pytest.mark.long
def test_an_expert_has_every_key_judged_in_the_first_drill():
    for start in (None, "speed"):
        log = Drill(keys(), thinking=1.6, start=start).run()
        assert set(wholes(log)) == {item.card for item in keys() if item.family == "whole"}
        first_ten = [pair_of(card) for card in wholes(log)[:10]]
        assert len(set(first_ten)) >= 7, "keys from all over the deck"


def test_whoever_says_to_know_it_all_is_shown_nothing_solved():
    assert not any(choice.solved for choice, _ in Drill(keys(), thinking=1.6, start="speed").run())


def test_whoever_misses_in_the_probe_goes_on_key_by_key():
    drill = Drill(keys(), lambda card, before: before > 0 or not card.startswith("whole"), start=None)
    new = list(dict.fromkeys(wholes(drill.run() + drill.run(1))))
    assert pair_of(new[0]) > 2
    assert max(map(pair_of, new[1:7])) <= 2


def test_a_slip_or_two_late_answers_decide_the_place_once_some_came_in_time():
    probe = asked(Drill(keys(), thinking=1.6, start=None).run())[:9]
    drill = Drill(keys(), lambda card, before: card not in probe[2 : 2 + PROBE_MISSES], 1.6, start=None)
    new = wholes(drill.run())
    assert new[: 2 + PROBE_MISSES] == probe[: 2 + PROBE_MISSES]
    assert max(map(pair_of, new[2 + PROBE_MISSES :][:6])) <= 2 < max(map(pair_of, probe[2 + PROBE_MISSES :]))


def test_a_rule_is_not_blamed_while_something_of_the_whole_itself_may_have_failed():
    items = [*keys(3), Item("rule:0", "rule", 90, 1.5, ("finger",))]
    items = [i._replace(needs=(*i.needs, "rule")) if i.family == "whole" else i for i in items]
    hard = "whole:0:minor:6"
    log = Drill(items, lambda card, before: card != hard or before > 0, start="speed").run()
    parts = [choice.card for choice, _ in log if choice.reason.kind == "part"]
    assert parts == ["fret:6:0"]


def test_whoever_knows_no_notes_gets_them_inside_the_first_keys():
    drill = Drill(keys(), lambda card, before: before > 0, start="notes")
    log = drill.run()
    order = asked(log)
    assert order[0].startswith("fret")
    for card in list(dict.fromkeys(wholes(log)))[1:4]:  # the first follows a solved one at once
        _, pair, _, string = card.split(":")
        assert order.index(f"fret:{string}:{pair}") < order.index(card)
    assert max(pair_of(card) for card in wholes(log)) < 6
