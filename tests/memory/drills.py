"""Drills over days with learners who answer as a test says."""

from __future__ import annotations

from drill.memory import Attempt, Choice, Item, Learner, Planner
from drill.memory.planner import Start

NOW, DAY = 1_700_000_000.0, 86_400.0
WHOLE_NEEDS = ("fret", "relative")


class Drill:
    """Runs drills: `knows(card, times asked before)` says whether the answer is right."""

    def __init__(
        self, items, knows=lambda card, before: True, thinking=2.0, start: Start | None = "speed", blames=None
    ):
        self.items = {item.card: item for item in items}
        self.learner, self.knows, self.thinking, self.start = Learner(), knows, thinking, start
        self.blames = blames or {}
        self.times = dict.fromkeys(self.items, 0)
        self.planner: Planner | None = None

    def run(self, day: float = 0.0, seconds: float = 300.0) -> list[tuple[Choice, Attempt]]:
        """Every choice of one drill with what came of it; cards that are shown take eight seconds."""
        now, log = NOW + day * DAY, []
        end = now + seconds
        self.planner = planner = Planner(self.learner, self.items.values(), now, self.start)
        while (choice := planner.next(now, end - now)) is not None:
            item = self.items[choice.card]
            attempt = self.shown(item, now) if choice.solved else self.answer(item, now)
            self.learner.observe(item, attempt)
            planner.observe(attempt)
            log.append((choice, attempt))
            now = attempt.at_s + (8.0 if attempt.right is None else 2.0 if attempt.right else 6.0)
        return log

    def shown(self, item: Item, now: float) -> Attempt:
        return Attempt(item.card, now, None)

    def answer(self, item: Item, now: float) -> Attempt:
        right = self.knows(item.card, self.times[item.card])
        self.times[item.card] += 1
        blamed = None if right else self.blames.get(item.card)
        return Attempt(item.card, now + self.thinking + 0.3, right, self.thinking, blamed)


def cards(log):
    """The cards asked or shown, in their order."""
    return [choice.card for choice, _ in log]


def asked(log):
    """The cards that were asked."""
    return [choice.card for choice, _ in log if not choice.solved]


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
    """The whole tasks that were asked."""
    return [card for card in asked(log) if card.startswith("whole")]
