"""Drills over many days: what comes when, what never comes, and that the drill ends on time."""

from collections import Counter
from itertools import pairwise
from random import Random

import pytest

from drill.memory import Attempt, Item, Learner, Planner, is_holding, state_of
from drill.memory import board as board_module
from drill.memory.diary import MOST_ASKED, RETURN_AFTER, RETURN_S
from drill.memory.front import OPEN_MISSES, SPARING_S
from drill.memory.kinds import TIRES_AFTER
from drill.memory.planner import LEAST_S, SHORTLIST, SLICE, Choice
from drill.present.reasons import reason_sentence
from tests.memory.drills import DAY, NOW, Drill, asked, cards


def deck(size=60):
    """Two cards to each spot on six strings; an anchor to each spot once its note holds."""
    items = []
    for k in range(size):
        spot, string = k // 3, f"string-{k // 3 % 6 + 1}"
        facts = (f"spot:{spot}",)
        if k % 3 == 0:
            items.append(Item(f"note:{spot}", "note", k, 3.0, facts, (), frozenset({string})))
        elif k % 3 == 1:
            items.append(Item(f"fret:{spot}", "fret", k, 3.0, facts, ("note",), frozenset({string})))
        else:
            both = (*facts, f"finger:{spot % 2}")
            items.append(Item(f"anchor:{spot}", "anchor", k, 3.0, both, ("note",), frozenset({string})))
    return items


def test_a_first_drill_goes_through_the_deck_in_order_and_leaves_parts_for_later():
    log = Drill(deck(), start="shapes").run()
    fresh = [choice.card for choice, _ in log if choice.reason.kind == "fresh" and not choice.solved]
    spots = [int(card.split(":")[1]) for card in fresh if not card.startswith("note")]
    assert cards(log)[0] == "fret:0"
    assert "anchor:1" in fresh[:3]
    assert max(spots[:8]) <= 5
    assert min(spots[20:]) >= 8 - 2 * len([choice for choice, _ in log if choice.solved])
    assert log[0][0].reason.kind == "fresh"


@pytest.mark.long(but=1)
@pytest.mark.parametrize("share_right", [0.5, 0.8, 1.0])
def test_no_question_gives_the_next_one_away(share_right):
    source = Random(5)
    drill = Drill(deck(), lambda card, before: source.random() < share_right)
    for day in range(4):
        asked = [drill.items[card] for card in cards(drill.run(day))]
        assert asked
        for before, after in pairwise(asked):
            assert before.card != after.card
            shared = set(before.facts) & set(after.facts)
            assert not [fact for fact in shared if not fact.startswith("finger")], "a rule gives nothing away"


def test_a_missed_card_comes_back_after_a_minute_and_a_few_others():
    drill = Drill(deck(), lambda card, before: card != "anchor:1" or before > 0)
    log = drill.run()
    first, second = [k for k, card in enumerate(cards(log)) if card == "anchor:1"][:2]
    assert second - first > RETURN_AFTER
    assert RETURN_S <= log[second][1].at_s - log[first][1].at_s <= RETURN_S + 45
    assert log[second][0].reason.kind == "missed"
    assert "missed" in reason_sentence(log[second][0].reason)


@pytest.mark.parametrize("right", [False, True])
def test_no_card_is_asked_more_than_four_times_in_a_drill_while_there_are_others(right):
    """A part that failed with its whole again and again came seven times."""
    drill = Drill(deck(), lambda card, before: right and before > 0 and before % 2 == 0)
    for day in range(3):
        assert max(Counter(asked(drill.run(day))).values()) <= MOST_ASKED


@pytest.mark.long
def test_a_hopeless_card_does_not_eat_the_drill():
    drill = Drill(deck(), lambda card, before: card != "note:1")
    assert cards(drill.run(seconds=1800)).count("note:1") <= MOST_ASKED


def test_a_new_learner_starts_gently():
    """A kind that was missed three times running may rest until tomorrow: the misses of one such kind do not count."""
    log = Drill(deck(), lambda card, before: before > 1).run(seconds=150)
    missed, running, new = set(), Counter(), 0
    for choice, attempt in log:
        kind = choice.card.split(":")[0]
        if choice.reason.kind == "fresh":
            of_a_kind = Counter(card.split(":")[0] for card in missed)
            resting = max((of_a_kind[each] for each in running if running[each] >= TIRES_AFTER), default=0)
            assert len(missed) - resting <= OPEN_MISSES or new < round((attempt.at_s - NOW) / SPARING_S)
            new += 1
        if attempt.right is not None:
            (missed.discard if attempt.right else missed.add)(choice.card)
            running[kind] = 0 if attempt.right else running[kind] + 1


def test_a_learner_who_misses_everything_still_gets_a_whole_drill():
    log = Drill(deck(), lambda card, before: False).run()
    assert len(log) > 25
    assert all(a != b for a, b in pairwise(cards(log)))
    assert len(set(cards(log))) <= OPEN_MISSES + MOST_ASKED + len(log) // MOST_ASKED


def test_a_first_drill_places_an_advanced_learner():
    """Six families of forty cards: one who knows them all is through the easy ones in five minutes."""
    items = [Item(f"{f}:{k}", f, 40 * n + k, 3.0, (f"{f}{k}",)) for n, f in enumerate("abcdef") for k in range(40)]
    known = Drill(items, thinking=1.0)
    assert {card[0] for card in cards(known.run())} == set("abcdef")
    novice = Drill(items, lambda card, before: before > 0)
    assert {card[0] for card in cards(novice.run())} == {"a"}


@pytest.mark.long
def test_after_a_month_what_faded_comes_first_and_what_is_new_has_its_least_share():
    drill = Drill(deck(), lambda card, before: (len(card) + before) % 3 > 0)
    for day in range(2):
        drill.run(day)
    now = NOW + 40 * DAY
    fading = {i.card for i in drill.items.values() if state_of(drill.learner, i, now) == "fading"}
    assert fading, "a month away lets some fade"
    log = drill.run(40)
    begin = log[: len(fading) // 2]
    new = [choice for choice, _ in begin if choice.reason.kind == "fresh"]
    assert {choice.card for choice, _ in begin} & fading
    assert len(new) <= len(begin) / 3


def test_no_card_is_trusted_far_beyond_the_longest_gap_it_has_stood():
    items = [Item(f"c{k}", "f", k, 3.0, (f"x{k}",)) for k in range(40)]
    learner = Learner()
    for day in range(30):
        for item in items[:3]:
            learner.observe(item, Attempt(item.card, NOW + day * DAY, True, 1.0))
    soon, late = NOW + 30 * DAY, NOW + 39 * DAY
    assert all(is_holding(learner, item, late) for item in items[:3])
    assert Planner(learner, items, soon).next(soon, 300.0).reason.kind == "fresh"
    choice = Planner(learner, items, late).next(late, 300.0)
    assert choice.card in ("c0", "c1", "c2")
    assert "for 10 days" in reason_sentence(choice.reason)


@pytest.mark.long
def test_a_known_but_slow_card_keeps_coming_until_it_is_fast():
    items = [Item(f"c{k}", "f", k, 2.0, (f"x{k}",)) for k in range(12)]
    slow, fast = Drill(items, thinking=8.0), Drill(items, thinking=1.0)
    for day in range(0, 18, 3):
        log = slow.run(day)
        fast.run(day, 60)
    now = NOW + 16 * DAY
    assert all(is_holding(slow.learner, item, now) for item in items)
    assert {choice.reason.kind for choice, _ in log} <= {"slow", "untried", "settling"}
    slowly = next(choice.reason for choice, _ in log if choice.reason.kind == "slow")
    assert "target" in reason_sentence(slowly) or "slow" in reason_sentence(slowly)
    assert Planner(slow.learner, items, now).preview(now, 300).slow == 12
    assert Planner(fast.learner, items, now).preview(now, 300).fluent == 12


@pytest.mark.long(but=1)
@pytest.mark.parametrize(
    ("misses", "seconds", "least"), [(0, 60.0, 10), (0, 150.0, 25), (1, 300.0, 48), (1, 1800.0, 300)]
)
def test_a_drill_ends_on_time_and_is_full(misses, seconds, least):
    log = Drill(deck(), lambda card, before: before >= misses).run(seconds=seconds)
    assert seconds - 12 < log[-1][1].at_s - NOW <= seconds
    assert len(log) >= least


def test_what_cannot_be_answered_in_the_time_left_waits():
    items = [Item("slow", "s", 0), Item("quick", "q", 1)]
    learner = Learner()
    for k in range(10):
        learner.observe(items[0], Attempt("slow", NOW + k * DAY, True, 15.0))
        learner.observe(items[1], Attempt("quick", NOW + k * DAY + 60, True, 1.0))
    now = NOW + 11 * DAY
    assert Planner(learner, items, now).next(now, 300.0).card == "slow"
    assert Planner(learner, items, now).next(now, 5.0).card == "quick"
    assert Planner(learner, items[:1], now).next(now, 5.0) is None
    assert Planner(learner, items, now).next(now, LEAST_S - 0.1) is None


@pytest.mark.parametrize("size", [1, 2, 3, 4, 5])
def test_a_tiny_deck_works(size):
    items = [Item(f"c{k}", "f", k, 3.0, (f"x{k}",)) for k in range(size)]
    log = Drill(items, lambda card, before: before % 3 > 0).run()
    assert len(log) > 30
    assert set(cards(log)) == {item.card for item in items}
    if size > 1:
        assert all(a != b for a, b in pairwise(cards(log)))


def test_a_deck_of_one_fact_works():
    items = [Item(f"c{k}", "f", k, 3.0, ("one",)) for k in range(6)]
    log = Drill(items).run()
    assert set(cards(log)) == {item.card for item in items}
    assert all(a != b for a, b in pairwise(cards(log)))


def test_no_cards_no_question():
    planner = Planner(Learner(), [], NOW)
    assert planner.next(NOW, 300.0) is None
    preview = planner.preview(NOW, 300.0)
    assert (preview.asks, preview.needed) == (False, 0)


def test_an_attempt_at_a_card_outside_the_drill_is_none_of_its_business():
    planner = Planner(Learner(), deck()[:3], NOW)
    planner.observe(Attempt("elsewhere", NOW, False, 2.0))
    assert planner.next(NOW, 300.0) == Planner(Learner(), deck()[:3], NOW).next(NOW, 300.0)


def test_neighbours_differ_where_they_can():
    items = [Item(f"c{k}", f"f{k % 3}", k, 3.0, (f"x{k}",), (), frozenset({f"string-{k % 2}"})) for k in range(24)]
    drill = Drill(items)
    for day in range(4):
        log = drill.run(day, 200)
    asked = [drill.items[card] for card in cards(log)]
    alike = sum(bool(a.groups & b.groups) and a.family == b.family for a, b in pairwise(asked))
    assert alike <= len(asked) * 0.1


@pytest.mark.long
def test_the_same_answers_bring_the_same_drill():
    def run():
        drill = Drill(deck(), lambda card, before: (len(card) + before) % 3 > 0)
        return [drill.run(day) for day in range(3)]

    assert run() == run()


def test_the_preview_says_what_the_drill_holds():
    drill = Drill(deck())
    preview = Planner(drill.learner, drill.items.values(), NOW).preview(NOW, 300.0)
    assert (preview.fresh, preview.fading, preview.slow, preview.fluent) == (60, 0, 0, 0)
    assert preview.asks and preview.needed > len(drill.items) / 2, "but for what other cards prove"
    drill.run()
    after = Planner(drill.learner, drill.items.values(), NOW + 60).preview(NOW + 60, 300.0)
    assert after.fresh + after.fading + after.slow + after.fluent == 60


def test_a_choice_costs_the_work_of_a_few_cards_however_large_the_deck(monkeypatch):
    """The clock is left out of it: what is counted is how many cards are worked out before a question."""
    drill = Drill([Item(f"c{k}", "f", k, 3.0, (f"x{k}",)) for k in range(2000)])
    planner = Planner(drill.learner, drill.items.values(), NOW)
    worked = []
    rate = board_module.rate
    monkeypatch.setattr(board_module, "rate", lambda *arguments: worked.append(1) or rate(*arguments))
    choice = planner.next(NOW, 300.0)
    planner.observe(Attempt(choice.card, NOW + 3, True, 2.0))
    assert len(worked) <= 40


@pytest.mark.parametrize("right", [True, False])
def test_of_many_cards_that_may_come_only_the_worthiest_few_are_looked_at(monkeypatch, right):
    drill = Drill([Item(f"c{k}", "f", k, 3.0, (f"x{k}",)) for k in range(500)])
    for item in drill.items.values():
        drill.learner.observe(item, Attempt(item.card, NOW - 40 * DAY + item.order, right, 2.0))
    planner = Planner(drill.learner, drill.items.values(), NOW)
    looked = []
    prover = board_module.Board.prover
    monkeypatch.setattr(board_module.Board, "prover", lambda board, item: looked.append(1) or prover(board, item))
    assert planner.next(NOW, 300.0) is not None
    assert len(looked) <= 2 * SHORTLIST


@pytest.mark.long
def test_every_reason_is_a_sentence():
    drill = Drill(deck(), lambda card, before: before > 0, thinking=4.0)
    said = {
        choice.reason.kind: reason_sentence(choice.reason) for day in (0, 1, 2, 9, 30) for choice, _ in drill.run(day)
    }
    assert set(said) >= {"fresh", "missed", "fading", "slow"}
    assert all(why[0].isupper() and why.endswith(".") for why in said.values())
    assert isinstance(Planner(drill.learner, deck(), NOW).next(NOW, 60.0), Choice)


def test_one_card_that_teaches_a_fact_is_groundwork_enough():
    """Of two cards that teach the same fact the later one may still be fresh."""
    first = Item("tonic:Am", "tonic", order=0, facts=("spot:6:5",))
    built = Item("anchor:Am", "anchor", order=1, facts=("spot:6:5", "index"), needs=("tonic",))
    later = Item("tonic:A", "tonic", order=2, facts=("spot:6:5",))
    learner, now = Learner(), NOW
    for day in range(8):
        learner.observe(first, Attempt(first.card, now + day * DAY, True, 1.0))
    planner = Planner(learner, [first, built, later], now + 8 * DAY)
    choice = planner.next(now + 8 * DAY, 300.0)
    assert choice is not None
    planner.observe(Attempt(first.card, now + 8 * DAY, True, 1.0))
    asked = [c.card for c in (planner.next(now + 8 * DAY + 60 * k, 300.0) for k in range(1, 3)) if c]
    assert built.card in asked or choice.card == built.card


@pytest.mark.long
def test_what_an_answer_says_of_a_card_with_the_same_fact_counts_at_the_next_choice():
    items = [Item(f"c{k}", "f", k, facts=(f"x{k // 2}",)) for k in range(10 * SLICE)]
    drill = Drill(items)
    for day in range(12):
        drill.run(day)
    now = NOW + 100 * DAY
    planner = Planner(drill.learner, items, now)
    asked, twin = items[4 * SLICE : 4 * SLICE + 2]  # further on than the slice that is looked at anyway
    before = planner._board.prospects[twin.card].strength
    attempt = Attempt(asked.card, now, False, 2.0, asked.facts[0])
    drill.learner.observe(asked, attempt)
    planner.observe(attempt)
    assert planner.next(now, 200.0) is not None
    after = planner._board.prospects[twin.card].strength
    assert after == pytest.approx(drill.learner.strength(twin, now))
    assert after != pytest.approx(before, rel=1e-3)


def test_the_preview_names_what_is_new_and_what_comes_back():
    drill = Drill(deck())
    first = Planner(drill.learner, drill.items.values(), NOW).preview(NOW, 300.0)
    asked = {choice.card for choice, _ in drill.run()}
    assert first.new and first.back == ()
    assert first.new[0] in asked
    later = NOW + 3 * DAY
    planner = Planner(drill.learner, drill.items.values(), later)
    preview, choice = planner.preview(later, 300.0), planner.next(later, 300.0)
    assert set(preview.back) <= asked and not set(preview.new) & asked
    assert choice is not None and choice.card in (*preview.back, *preview.new)
