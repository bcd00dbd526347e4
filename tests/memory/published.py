"""Figures from published experiments, in percent recalled unless said otherwise; gaps and delays in days.

Cepeda, Vul, Rohrer, Wixted & Pashler 2008, Psychological Science 19:1095-1102 (trivia facts), and Cepeda, Coburn,
Rohrer, Wixted, Mozer & Pashler 2009, Experimental Psychology 56:236-246: read from the published figures, to about
0.4 points. Carpenter, Pashler, Wixted & Vul 2008, Memory & Cognition 36:438-448, Experiment 1. Ebbinghaus 1885 in the
reading of Murre & Dros 2015, PLoS ONE 10:e0120644.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Material:
    """Group means of one material.

    `forgetting`: gap -> recall at the start of the second session. `spacing`: (gap, delay) -> recall at the last test,
    the delay counted from the second session. `criterion`: how often an item had to come right in the first session.
    """

    name: str
    criterion: int
    forgetting: dict[float, float]
    spacing: dict[tuple[float, float], float]


SWAHILI = Material(
    "Swahili words, 2009 experiment 1",
    1,
    {0: 92.2, 1: 83.9, 2: 68.9, 4: 52.3, 7: 43.9, 14: 28.3},
    {(0, 10): 55, (1, 10): 74, (2, 10): 69, (4, 10): 68, (7, 10): 69, (14, 10): 65},
)
FACTS = Material(
    "obscure facts, 2009 experiment 2a",
    1,
    {0: 96, 1: 92, 7: 79, 28: 48, 84: 28, 168: 22},
    {(0, 168): 26, (1, 168): 33, (7, 168): 47, (28, 168): 56, (84, 168): 43, (168, 168): 45},
)
NAMES = Material(
    "names of objects, 2009 experiment 2b",
    1,
    {0: 93, 1: 84, 7: 57, 28: 25, 84: 9, 168: 6},
    {(0, 168): 8, (1, 168): 9, (7, 168): 14, (28, 168): 26, (84, 168): 19, (168, 168): 17},
)
TRIVIA_BY_DELAY = {
    7: {0: 88.2, 1: 97.3, 2: 95.0, 7: 93.8, 21: 93.3, 105: 80.6},
    35: {0: 51.7, 1: 68.9, 4: 73.9, 7: 79.9, 11: 81.9, 21: 75.9, 105: 59.1},
    70: {0: 29.1, 1: 42.1, 7: 60.1, 14: 51.3, 21: 61.2, 105: 42.4},
    350: {0: 12.4, 1: 12.5, 7: 14.7, 21: 21.9, 35: 19.9, 70: 20.6, 105: 13.3},
}
TRIVIA = Material(
    "trivia, 2008",
    1,
    {},
    {(gap, delay): recall for delay, by_gap in TRIVIA_BY_DELAY.items() for gap, recall in by_gap.items()},
)
CEPEDA = (SWAHILI, FACTS, NAMES, TRIVIA)

CARPENTER_2008 = {5 / 1440: 93, 1: 88, 2: 86, 7: 66, 14: 47, 42: 34}
"""Delay -> recall after a test with feedback."""

EBBINGHAUS_SAVINGS = {19: 0.582, 63: 0.442, 525: 0.358, 1440: 0.337, 2880: 0.278, 8640: 0.254, 44640: 0.211}
"""Minutes -> savings. Savings are no chance of recall: only the shape of the curve is used."""
