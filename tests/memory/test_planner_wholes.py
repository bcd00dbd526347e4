"""Whole tasks and the parts they rest on: which is asked when, and what proves what."""

from __future__ import annotations

import pytest

from drill.memory import Attempt, Item, Learner, Planner, ReasonKind
from drill.memory.board import Board
from drill.memory.kinds import TIRES_AFTER
from tests.memory.drills import DAY, NOW, Drill, asked, cards, keys, wholes


@pytest.mark.parametrize("start", [None, "notes", "shapes", "speed"])
def test_the_whole_task_is_asked_in_the_first_drill(start):
    assert wholes(Drill(keys(), lambda card, before: before > 0, start=start).run())


def test_whoever_misses_a_whole_is_asked_the_part_that_failed_and_then_the_whole_again():
    hard = "whole:0:major:6"
    drill = Drill(keys(), lambda card, before: card != hard or before > 0, start="shapes", blames={hard: "relative:0"})
    log = drill.run()
    order = cards(log)
    first = order.index(hard)
    part = order.index("relative:0")
    again = order.index(hard, first + 1)
    assert first < part < again
    assert part - first <= 3, "the next question but one: the verdict has just told the answer"
    assert log[part][0].reason.kind == "failed part"
    assert log[part][0].reason.other == hard
    assert log[again][0].reason.kind == "missed"


def test_without_a_mixup_the_weakest_part_is_asked():
    learner, items, now = Learner(), {item.card: item for item in keys(3)}, NOW
    for card, right in (("fret:6:0", True), ("fret:5:0", True), ("relative:0", False)):
        learner.observe(items[card], Attempt(card, now - 3600, right, 1.0))
    planner = Planner(learner, items.values(), now, "speed")
    missed = Attempt("whole:0:major:6", now, False, 4.0)
    learner.observe(items[missed.card], missed)
    planner.observe(missed)
    following = {}
    for k in range(1, 4):
        choice = planner.next(now + 8 * k, 250.0)
        following[choice.card] = choice.reason.kind
        attempt = Attempt(choice.card, now + 8 * k + 3, True, 1.0)
        learner.observe(items[choice.card], attempt)
        planner.observe(attempt)
    assert following["relative:0"] is ReasonKind.PART, "nobody knows whether this part failed"
    assert "fret:6:0" not in following


def test_a_mixup_that_leaves_the_parts_right_sends_none_of_them():
    learner, items = Learner(), {item.card: item for item in keys(12)}
    planner = Planner(learner, items.values(), NOW, "shapes")
    missed = Attempt("whole:0:minor:6", NOW, False, 4.0, parts_right=True)
    learner.observe(items[missed.card], missed)
    planner.observe(missed)
    for k in range(1, 30):
        choice = planner.next(NOW + 8 * k, 250.0)
        assert choice.reason.kind is not ReasonKind.PART
        attempt = Attempt(choice.card, NOW + 8 * k + 3, None if choice.solved else True, 1.0)
        learner.observe(items[choice.card], attempt)
        planner.observe(attempt)


def test_a_part_of_a_kind_that_rests_does_not_keep_a_whole_from_coming_back():
    learner, items = Learner(), {item.card: item for item in keys(3)}
    board = Board(learner, items.values(), NOW, "shapes")
    whole, part = items["whole:0:minor:6"], items["fret:6:0"]
    board.diary.add(whole, Attempt(whole.card, NOW, False), new=True, part=part.card)
    for number in range(4):
        other = items[f"relative:{number % 3}"]
        board.diary.add(other, Attempt(other.card, NOW + number, True), new=False)
    board.now_s = NOW + 100
    assert not list(board.back()), "its part comes first"
    for _ in range(TIRES_AFTER):
        board.kinds.observe(part, False, True)
    assert list(board.back()) == [whole]


@pytest.mark.long
def test_of_a_kind_that_rests_one_more_card_is_asked_and_what_is_asked_instead_says_that_it_rests():
    drill = Drill(keys(2), lambda card, before: not card.startswith("fret"), start="notes")
    drill.run()
    log = drill.run(1)
    frets, rests_at = [], None
    for number, (choice, attempt) in enumerate(log):
        if choice.card.startswith("fret") and attempt.right is False:
            frets.append((choice.card, number))
        if rests_at is None and len(frets) == TIRES_AFTER:
            rests_at = number
    after = [card for card, number in frets if number > rests_at]
    assert len(after) == 1
    kinds = {choice.reason.kind for choice, _ in log[rests_at + 1 :]}
    assert ReasonKind.INSTEAD in kinds
    assert not kinds & {ReasonKind.AGAIN, ReasonKind.HOLDING}


@pytest.mark.long
def test_of_what_rests_itself_it_is_not_said_that_it_goes_well():
    drill = Drill(keys(1), lambda card, before: not card.startswith("fret") or before % 4 == 1)
    frets = [choice for day in range(3) for choice, _ in drill.run(day) if choice.card.startswith("fret")]
    assert frets
    assert all(choice.reason.kind is not ReasonKind.INSTEAD for choice in frets)


@pytest.mark.long(but=1)
@pytest.mark.parametrize("thinking", [1.3, 1.6, 2.5])
def test_slow_is_said_only_of_what_is_slower_than_its_target(thinking):
    drill = Drill(keys(3), lambda card, before: before != 1, thinking=thinking, start="notes")
    reasons = [choice.reason for day in range(6) for choice, _ in drill.run(day)]
    slow = [reason for reason in reasons if reason.kind is ReasonKind.SLOW]
    assert all(reason.speed_s > reason.target_s for reason in slow)
    assert bool(slow) == (thinking > 2.0)


def test_the_whole_does_not_come_back_before_its_part_came_right():
    hard = "whole:0:major:6"
    drill = Drill(
        keys(), lambda card, before: card not in (hard, "relative:0") or before > 1, blames={hard: "relative:0"}
    )
    log = drill.run()
    order, rights = cards(log), [attempt.right for _, attempt in log]
    again = order.index(hard, order.index(hard) + 1)
    part_right = next(k for k, card in enumerate(order) if card == "relative:0" and rights[k])
    assert part_right < again


def test_parts_that_the_whole_keeps_proving_are_left_until_everything_else_was_asked():
    drill = Drill(keys(6), thinking=1.2, start="speed")
    log = drill.run()
    order = asked(log)
    last_whole = max(order.index(card) for card in set(wholes(log)))
    assert len(set(wholes(log))) == 24
    assert not [card for card in order[:last_whole] if card.startswith(("fret", "relative"))]


def test_a_rule_is_proved_on_one_key_and_trusted_on_the_others():
    items = [Item(f"finger:{k}", "finger", k, 1.5, ("finger",), (), frozenset({f"key-{k}"})) for k in range(10)]
    items += [Item(f"note:{k}", "note", 10 + k, 1.5, (f"spot:{k}",)) for k in range(20)]
    order = asked(Drill(items, thinking=1.0).run())
    later = order.index("note:19")
    assert sum(card.startswith("finger") for card in set(order[:later])) == 1


def test_a_whole_is_not_proved_by_another_that_rests_on_the_same_facts():
    learner, items = Learner(), {item.card: item for item in keys(3)}
    for day in (4, 3, 2, 1):
        learner.observe(items["whole:0:major:6"], Attempt("whole:0:major:6", NOW - day * DAY, True, 1.2))
    board = Board(learner, items.values(), NOW, None)
    assert board.is_proved(items["fret:6:0"])
    assert board.is_proved(items["relative:0"])
    assert not board.is_proved(items["whole:0:minor:6"])
    assert not board.is_proved(items["fret:5:0"])


def test_a_part_missed_when_last_asked_is_proved_by_no_whole_and_ends_no_drill():
    drill = Drill(keys(1), thinking=1.0, start="speed")
    items, learner, missed = drill.items, drill.learner, "relative:0"
    for day in (-40, -20):
        for item in items.values():
            learner.observe(item, Attempt(item.card, NOW + day * DAY, True, 1.0))
    learner.observe(items[missed], Attempt(missed, NOW - 19 * DAY, False))
    for item in items.values():
        if item.card != missed:
            learner.observe(item, Attempt(item.card, NOW - DAY, True, 1.0))
    board = Board(learner, items.values(), NOW, "speed")
    assert not board.is_proved(items[missed])
    assert [item.card for item in board.unproven()] == [missed]
    assert missed in asked(drill.run())
