"""What notes, intervals, pitches, keys and necks have in common: each is a value.

A value cannot change, and equals only values of its own class with the same fields. Copying and unpickling go through
`__init__` again, so its checks always run. A frozen data class with slots would do the same, but importing
`dataclasses` slows the start of `fretsure key Am` by a tenth.

>>> class Fret(Value):
...     __slots__ = ("number",)
...     def __init__(self, number: int) -> None:
...         self.number = number
>>> Fret(3), Fret(3) == Fret(3), Fret(3) == 3
(Fret(3), True, False)
"""

from __future__ import annotations

from operator import attrgetter
from typing import ClassVar


class Value:
    """Base of values. A subclass names its fields in `__slots__`, in the order in which its `__init__` takes them."""

    __slots__: tuple[str, ...] = ()
    _content: ClassVar[attrgetter[object]]

    def __init_subclass__(cls) -> None:
        cls._content = attrgetter(*cls.__slots__)

    def __setattr__(self, name: str, value: object) -> None:
        if hasattr(self, name):
            raise AttributeError(f"{type(self).__name__}.{name} cannot be changed")
        object.__setattr__(self, name, value)

    def __delattr__(self, name: str) -> None:
        raise AttributeError(f"{type(self).__name__}.{name} cannot be deleted")

    def __eq__(self, other: object) -> bool:
        if type(other) is not type(self):
            return NotImplemented
        return self._content(self) == self._content(other)

    def __hash__(self) -> int:
        return hash(self._content(self))

    def __repr__(self) -> str:
        return f"{type(self).__name__}({', '.join(map(repr, self._fields()))})"

    def __reduce__(self) -> tuple[type[Value], tuple[object, ...]]:
        return type(self), self._fields()

    def _fields(self) -> tuple[object, ...]:
        return tuple(getattr(self, name) for name in self.__slots__)
