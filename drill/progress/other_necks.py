"""What was learnt with another tuning or capo is kept, and a slip in Set-up must not look as if it were lost."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable

from drill.questions.catalogue import FAMILIES
from drill.questions.ids import family_of, split
from drill.system.tunings import tunings
from drill.theory.neck import Neck


def kept_elsewhere(cards: Iterable[str], neck: Neck) -> str:
    """That what was learnt on another neck is kept, in a sentence; `cards` are the ids of those that were seen.

    Empty where nothing was, and where something is known on this neck too.
    """
    about_a_neck = (split(card) for card in cards if _is_about_a_neck(card))
    necks = Counter((card.tuning, card.capo) for card in about_a_neck)
    if not necks or (neck.tuning.id, neck.capo) in necks:
        return ""
    (tuning, capo), _ = necks.most_common(1)[0]
    known = tunings().get(tuning)
    named = f" on “{known.title if known else tuning}”" if tuning != neck.tuning.id else ""
    with_capo = f" with a capo at fret {capo}" if capo else " without a capo" if neck.capo else ""
    return f"What you know{named}{with_capo} is kept: set it so again, and it is back."


def _is_about_a_neck(card: str) -> bool:
    family = FAMILIES.get(family_of(card))
    return family is not None and family.about_the_neck
