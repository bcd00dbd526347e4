"""Families about key signatures: how many sharps or flats a key has, and which key has so many."""

from collections.abc import Iterator
from typing import NamedTuple

from drill.questions.answers import KeyAnswer, SignatureAnswer, signature_name
from drill.questions.card import Ask, Card
from drill.questions.facets import Group
from drill.questions.facts import Fact, relative_fact, signature_fact
from drill.questions.families.relatives import OneKey, steps_to_relative
from drill.questions.family import Family, key_groups
from drill.questions.mixups.keys import wrong_owners, wrong_signatures
from drill.questions.picture import low_notes, low_tonic
from drill.questions.scope import Scope
from drill.questions.wording import capital, named, named_key, named_notes, signature_in_words
from drill.theory.keys import KEYS, Key, Mode
from drill.theory.neck import Neck

_BY_SIGNATURE = {(key.signature, key.mode): key for key in KEYS}


def _signature_facts(key: Key) -> tuple[Fact, ...]:
    """The signature of the major key, and for a minor key its bond with it."""
    return (signature_fact(key.major), *((relative_fact(key),) if key.mode == "minor" else ()))


class Signature(Family[OneKey]):
    """How many sharps or flats a key has."""

    id = "signature"
    title = "Signature of a key"
    idea = (
        "A key signature lists the sharps or flats of a key; "
        "relatives, the major and the minor key of the same notes, share it."
    )
    facet_type = OneKey
    needs = ("relative-major",)
    about_the_neck = False

    def spread(self, scope: Scope) -> Iterator[OneKey]:
        return (OneKey(key) for key in scope.keys)

    def facts(self, facets: OneKey, neck: Neck) -> tuple[Fact, ...]:
        return _signature_facts(facets.key)

    def card(self, facets: OneKey, neck: Neck) -> Card:
        key = facets.key
        return Card(
            self.name(facets, neck),
            neck,
            ask=Ask(named_key(key), "", "How many sharps or flats?"),
            kind=SignatureAnswer(),
            accepts=(signature_name(key.signature),),
            explain=lambda: (*(steps_to_relative(key) if key.mode == "minor" else ()), *_count(key.major)),
            confuse=lambda: wrong_signatures(key),
            draw=lambda: low_tonic(neck, key),
            draw_answer=lambda: (
                *low_tonic(neck, key),
                *low_notes(neck, (n for n in key.altered_notes if n != key.tonic)),
            ),
        )


class SignatureAndMode(NamedTuple):
    """A number of sharps, flats negative, and which of the two keys is asked for."""

    signature: int
    mode: Mode


class SignatureKey(Family[SignatureAndMode]):
    """Which key has so many sharps or flats."""

    id = "signature-key"
    title = "Key of a signature"
    idea = (
        "Every number of sharps or flats belongs to one major key and to its relative, the minor key of the same notes."
    )
    facet_type = SignatureAndMode
    needs = ("signature",)
    about_the_neck = False

    def spread(self, scope: Scope) -> Iterator[SignatureAndMode]:
        return (SignatureAndMode(key.signature, key.mode) for key in scope.keys)

    def facts(self, facets: SignatureAndMode, neck: Neck) -> tuple[Fact, ...]:
        return _signature_facts(_key(facets))

    def groups(self, facets: SignatureAndMode, neck: Neck) -> frozenset[Group]:
        return key_groups((_key(facets),))

    def card(self, facets: SignatureAndMode, neck: Neck) -> Card:
        key = _key(facets)
        return Card(
            self.name(facets, neck),
            neck,
            ask=Ask(capital(signature_in_words(key.signature)), "", f"Which {key.mode} key?"),
            kind=KeyAnswer(key.mode),
            accepts=(key.name,),
            explain=lambda: (*_back(key.major), *(steps_to_relative(key.major)[1:] if key.mode == "minor" else ())),
            confuse=lambda: wrong_owners(key),
            draw_answer=lambda: low_tonic(neck, key),
        )


def _key(facets: SignatureAndMode) -> Key:
    return _BY_SIGNATURE[facets.signature, facets.mode]


def _count(major: Key) -> tuple[str, ...]:
    """From a major key to its signature, as it is worked out on paper."""
    signs, total = named_notes(major.altered_notes), signature_in_words(major.signature)
    if major.signature == 0:
        return (f"{named_key(major)} has {total}",)
    if major.signature == -1:
        return (f"know it by heart: {named_key(major)} has {total}, {signs}",)
    if major.signature > 0:
        last = f"last sharp, a semitone below {named(major.tonic)}: {named(major.altered_notes[-1])}"
        return last, f"sharps in order up to it: {signs}", total
    return f"last flat but one: {named(major.tonic)}", f"flats in order, one past it: {signs}", total


def _back(major: Key) -> tuple[str, ...]:
    """From a signature to its major key."""
    if major.signature == 0:
        return (f"without sharps or flats: {named_key(major)}",)
    signs = f"{signature_in_words(major.signature)}: {named_notes(major.altered_notes)}"
    if major.signature > 0:
        return signs, f"a semitone above the last sharp: {named_key(major)}"
    if major.signature == -1:
        return signs, f"know it by heart: {named_key(major)}"
    return signs, f"the last flat but one: {named_key(major)}"
