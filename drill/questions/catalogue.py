"""Every family, in the order of the curriculum: importing a module registers what it holds."""

from drill.questions import anchors, relatives, spots
from drill.questions.family import FAMILIES, find_family

__all__ = ["FAMILIES", "anchors", "find_family", "relatives", "spots"]
