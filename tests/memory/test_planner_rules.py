"""The rules of the planner, one by one: whole tasks and parts, the front, the place to begin, solved cards, the end."""

from __future__ import annotations

from collections import Counter
from itertools import groupby, pairwise

import pytest

from drill.memory import Attempt, Ending, Item, Learner, Planner, ReasonKind
from drill.memory import kinds as kinds_module
from drill.memory.board import Board
from drill.memory.diary import MOST_ASKED
from drill.memory.front import OPEN_MISSES, PROBE_MISSES, SHARE, SPARING_S
from drill.memory.kinds import TIRES_AFTER
from drill.memory.planner import ENOUGH_S
from drill.memory.recent import BREAK_S, KEPT, Recent
from drill.memory.solved import MOST
from tests.memory.drills import DAY, NOW, Drill, asked, cards

WHOLE_NEEDS = ("fret", "relative")


def keys(pairs=12):
    """Per pair of relatives: the index fret on two strings in both keys, then two spots and the bond, one by one."""
    items: list[Item] = []

    def add(card, family, target_s, facts, needs, groups):
        items.append(Item(card, family, len(items), target_s, facts, needs, frozenset(groups)))

    for pair in range(pairs):
        spots = {string: f"spot:{string}:{pair}" for string in (6, 5)}
        for mode in ("minor", "major"):
            bond = (f"relative:{pair}",) if mode == "major" else ()
            for string, spot in spots.items():
                groups = (f"key-{pair}{mode}", f"string-{string}")
                add(f"whole:{pair}:{mode}:{string}", "whole", 3.0, (spot, *bond, "finger"), WHOLE_NEEDS, groups)
        for string, spot in spots.items():
            add(f"fret:{string}:{pair}", "fret", 1.5, (spot,), (), (f"string-{string}", f"note-{pair}"))
        groups = (f"key-{pair}minor", f"key-{pair}major")
        add(f"relative:{pair}", "relative", 1.5, (f"relative:{pair}",), (), groups)
        add(f"back:{pair}", "back", 1.5, (f"relative:{pair}",), ("relative",), groups)
    return items


def wholes(log):
    return [card for card in asked(log) if card.startswith("whole")]


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


# -- whole tasks and their parts ---------------------------------------------------------------------------------------


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
def test_of_what_rests_itself_it_is_not_said_that_it_goes_well():
    drill = Drill(keys(1), lambda card, before: not card.startswith("fret") or before % 4 == 1)
    frets = [choice for day in range(3) for choice, _ in drill.run(day) if choice.card.startswith("fret")]
    assert frets
    assert all(choice.reason.kind is not ReasonKind.INSTEAD for choice in frets)


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


@pytest.mark.long
def test_no_drill_ends_early_while_a_card_stands_missed():
    drill = Drill(keys(3), lambda card, before: card != "whole:1:major:6", thinking=1.0, start="speed")
    for day in range(8):
        drill.run(day)
        assert drill.planner.ending is Ending.TIME


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
