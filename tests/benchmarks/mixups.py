"""How many of the plausible confusions get a name, and is every sentence true?

    python tests/benchmarks/mixups.py [--quick]

Over every card of every shipped deck. The first table tells, by family and confusion, how many wrong answers the
confusion leads to (tests/questions/confusions.py), how many of them get a name that fits, and how many its own. The
second gives every wrong answer that could be typed: how many are told a mix-up at all, and how many sentences are
untrue (tests/questions/mixup_truth.py). `--quick` takes every tenth card.
"""

from __future__ import annotations

import argparse
import time
from collections import Counter
from collections.abc import Sequence

import checkout  # noqa: F401

from drill.questions.card import Card
from drill.theory.neck import STANDARD, Neck
from tests.questions.mixup_truth import untruths, wrong_ones
from tests.questions.planted import Named, every_card
from tests.support.asking import judged


def main() -> None:
    """Print both tables; exit with 1 if a sentence is untrue."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--quick", action="store_true", help="every tenth card")
    cards = list(every_card(Neck(STANDARD)))[:: 10 if parser.parse_args().quick else 1]
    _print_named(Named.of(cards))
    raise SystemExit(1 if _print_true(cards) else 0)


def _print_named(named: Named) -> None:
    print(f"{'family and confusion':46}{'planted':>9}{'named':>8}{'itself':>8}")
    for family in dict.fromkeys(family for family, _ in named.planted):
        places = sorted(place for place in named.planted if place[0] == family)
        print(f"{family:46}{sum(named.planted[p] for p in places):9}{named.share(family):8.1%}")
        for place in places:
            planted = named.planted[place]
            shares = f"{named.fitting[place] / planted:8.1%}{named.itself[place] / planted:8.1%}"
            print(f"    {place[1]:42}{planted:9}{shares}")
    print(f"{'all':46}{named.planted.total():9}{named.share():8.1%}\n")


def _print_true(cards: Sequence[Card]) -> int:
    """Print how many wrong answers are told something, and return how many things told are untrue."""
    wrong: Counter[str] = Counter()
    told: Counter[str] = Counter()
    false: list[str] = []
    judging_s = 0.0
    for card in cards:
        for given in wrong_ones(card):
            began = time.perf_counter()
            mixups = judged(card, given).mixups
            judging_s += time.perf_counter() - began
            wrong[card.family] += 1
            told[card.family] += bool(mixups)
            false += [line for mixup in mixups for line in untruths(card, given, mixup)]
    print(f"{'family':46}{'wrong':>9}{'told':>8}")
    for family, count in wrong.items():
        print(f"{family:46}{count:9}{told[family] / count:8.1%}")
    print(f"{'all':46}{wrong.total():9}{told.total() / wrong.total():8.1%}")
    print(f"untrue: {len(false)}; judging one: {1000 * judging_s / wrong.total():.2f} ms")
    print("\n".join(false[:20]))
    return len(false)


if __name__ == "__main__":
    main()
