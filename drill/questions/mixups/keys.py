"""A key taken for another: its relative, its parallel, its neighbour in signs, or one whose tonic lies beside."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from drill.questions.facts import Fact
from drill.questions.mixups.claims import (
    Claim,
    GivenKey,
    HasSigns,
    LastSign,
    LettersApart,
    NoSignature,
    Parallels,
    Relatives,
    RelativeTonic,
    RightTonic,
    SameSound,
    Sign,
    ThreeFretsApart,
)
from drill.questions.mixups.mixup import Mixup, MixupName
from drill.questions.mixups.notes import Say, off_by_little, other_signs
from drill.questions.reasons import same_sound
from drill.questions.wording import signature_in_words
from drill.theory.keys import KEYS, MOST_SIGNS, Key, Mode
from drill.theory.neck import names_of
from drill.theory.pitch import Note

THREE_FRETS = 3
BY_SIGNATURE = {(key.signature, key.mode): key for key in KEYS}
"""Every key by its sharps (flats negative) and its mode."""


def named_in(mode: Mode) -> Say:
    """How a tonic is said as a key of this mode."""
    return lambda tonic: f"{tonic.name} {mode}"


def other(mode: Mode) -> Mode:
    """Minor of major, major of minor."""
    return "major" if mode == "minor" else "minor"


def beside(key: Key) -> Iterator[Mixup]:
    """The keys a sign, a letter or a fret beside the right one."""
    return off_by_little(key.tonic, named_in(key.mode))


def misnamed(key: Key, why: Claim | None = None) -> Iterator[Mixup]:
    """The names of keys that sound like the right one; `why` says what rules them out where a signature does not."""
    for name in same_sound(key.tonic):
        unwritable = abs(_signs(name, key.mode)) > MOST_SIGNS
        reason = NoSignature(name, key.mode) if unwritable or why is None else why
        if unwritable or why is not None:
            claims = (SameSound(name, key.tonic), reason)
            yield Mixup("right sound, wrong name", f"{name.name} {key.mode}", claims, "{0}, but {1}.")


def in_wrong_mode(key: Key, fact: Fact | None = None) -> Mixup:
    """The right tonic in the other mode."""
    mode = other(key.mode)
    claim = RightTonic(key.tonic, mode, key.mode)
    return Mixup("mode not changed", f"{key.tonic.name} {mode}", (claim,), "{0}.", fact)


def relative_given(key: Key, fact: Fact | None = None) -> Mixup:
    """The relative of the key that was asked for."""
    claim = Relatives(key.relative, key)
    return Mixup("mode not changed", key.relative.name, (claim,), "{0}, which was asked for.", fact)


def relative_tonic(key: Key, fact: Fact | None = None) -> Mixup:
    """The tonic of the relative, with the mode that was asked for."""
    claim = RelativeTonic(key.relative.tonic, key)
    return Mixup("other tonic", f"{key.relative.tonic.name} {key.mode}", (claim,), "{0}.", fact)


def given_back(key: Key) -> Mixup:
    """The key that the question named."""
    return Mixup("question given back", key.name, (GivenKey(key),))


def wrong_way(start: Note, key: Key, fact: Fact | None = None) -> Iterator[Mixup]:
    """Three frets from a tonic, but the other way than to its relative `key`."""
    up = key.mode == "minor"
    frame = "{0}; from a major tonic go down to the minor." if up else "{0}; from a minor tonic go up to the major."
    for note in names_of((start.pitch_class + (THREE_FRETS if up else -THREE_FRETS)) % 12):
        claim = ThreeFretsApart(note, start, up)
        yield Mixup("wrong way", f"{note.name} {key.mode}", (claim,), frame, fact)


def neighbours(key: Key) -> Iterator[Mixup]:
    """The keys with a sign more or less."""
    for signature in (key.signature - 1, key.signature + 1):
        if abs(signature) <= MOST_SIGNS:
            yield of_signature("one sign off", BY_SIGNATURE[signature, key.mode], key)


def of_signature(name: MixupName, owner: Key, key: Key) -> Mixup:
    """A key taken for another by its signature."""
    claims = (HasSigns(owner, owner.signature), HasSigns(key, key.signature))
    return Mixup(name, owner.name, claims, "{0}; {1}.")


# -- relatives ---------------------------------------------------------------------------------------------------------


def wrong_relatives(key: Key) -> Iterator[Mixup]:
    """What is taken for the relative of a key."""
    relative = key.relative
    letters = LettersApart(Note.of(relative.tonic.letter), Note.of(key.tonic.letter), 3, key.mode == "minor")
    yield Mixup("parallel for relative", f"{key.tonic.name} {relative.mode}", (_parallel(key),))
    yield from wrong_way(key.tonic, relative)
    for name in same_sound(relative.tonic):
        claims = (SameSound(name, relative.tonic), letters)
        yield Mixup("right sound, wrong name", f"{name.name} {relative.mode}", claims, "{0}, but {1}.")
    yield in_wrong_mode(relative)
    yield given_back(key)
    yield from neighbours(relative)
    yield from beside(relative)


def _parallel(key: Key) -> Parallels:
    return Parallels(key.tonic, other(key.mode), key)


# -- signatures --------------------------------------------------------------------------------------------------------


def wrong_signatures(key: Key) -> Iterator[Mixup]:
    """What is taken for the signature of a key: answers are signatures, each that of another key."""
    if parallel := key.parallel:
        frame = "{0}: the parallel key, not the relative."
        yield _signs_of(parallel, "parallel for relative", frame)
    yield _signs_of(BY_SIGNATURE[-key.signature, key.mode], "sharp for flat")
    for signature in (key.signature - 1, key.signature + 1):
        if abs(signature) <= MOST_SIGNS:
            yield _signs_of(BY_SIGNATURE[signature, key.mode], "one sign off")
    for name in same_sound(key.tonic):
        if owner := _key_or_none(name, key.mode):
            frame = "{0}; {1}, but is another name."
            yield _signs_of(owner, "right sound, wrong name", frame, SameSound(name, key.tonic))
    for tonic, slip in other_signs(key.tonic):
        if slip != "sharp for flat" and (owner := _key_or_none(tonic, key.mode)):
            yield _signs_of(owner, slip, "{0}; {1}.", Sign(tonic, key.tonic))
    if key.mode == "minor":
        below = names_of((key.tonic.pitch_class - THREE_FRETS) % 12)[0]
        for tonic in (below, *same_sound(below)):
            if owner := _key_or_none(tonic, "major"):
                claim = ThreeFretsApart(tonic, key.tonic, up=False)
                yield _signs_of(owner, "wrong way", "{0}; {1}, the wrong way to the relative.", claim)


def _signs_of(owner: Key, name: MixupName, frame: str = "{0}.", *more: Claim) -> Mixup:
    answer = signature_in_words(owner.signature) if owner.signature else "0"
    return Mixup(name, answer, (HasSigns(owner, owner.signature), *more), frame)


def wrong_owners(key: Key) -> Iterator[Mixup]:
    """Which key is taken for the owner of a signature."""
    relative = key.relative
    yield relative_given(key)
    yield Mixup("parallel for relative", f"{relative.tonic.name} {key.mode}", (Relatives(relative, key),), _SAME_SIGNS)
    yield from misnamed(key, HasSigns(key, key.signature))
    yield of_signature("sharp for flat", BY_SIGNATURE[-key.signature, key.mode], key)
    yield from neighbours(key)
    yield in_wrong_mode(key)
    if key.signature:
        last = key.altered_notes[-1]
        yield Mixup("last sign for tonic", f"{last.name} {key.mode}", (LastSign(last, key),), "{0}, not its tonic.")
    if key.mode == "minor":
        yield from wrong_way(relative.tonic, key)
    yield from beside(key)


_SAME_SIGNS = "{0}: relatives share the signature, not the tonic."


def _key_or_none(tonic: Note, mode: Mode) -> Key | None:
    return BY_SIGNATURE.get((_signs(tonic, mode), mode))


def _signs(tonic: Note, mode: Mode) -> int:
    """Sharps that a key would have, flats negative; a minor key has three fewer than the major key of its tonic."""
    return tonic.fifths - (3 if mode == "minor" else 0)


# -- loops -------------------------------------------------------------------------------------------------------------


def wrong_homes(keys: Iterable[Key]) -> Iterator[Mixup]:
    """What is taken for the key of a loop, beside the chords in it."""
    keys = tuple(keys)
    for key in keys:
        yield in_wrong_mode(key)._replace(name="wrong quality")
        frame = "{0}, where this loop comes home."
        yield Mixup("other tonic", key.relative.name, (Relatives(key.relative, key),), frame)
    for key in keys:
        for name in same_sound(key.tonic):
            claim = SameSound(name, key.tonic)
            frame = "{0}, as the chords of this loop are written."
            yield Mixup("right sound, wrong name", f"{name.name} {key.mode}", (claim,), frame)


def near_homes(keys: Iterable[Key]) -> Iterator[Mixup]:
    """Keys beside that of a loop."""
    keys = tuple(keys)
    for key in keys:
        yield from neighbours(key)
    for key in keys:
        yield from beside(key)


# -- by ear ------------------------------------------------------------------------------------------------------------


def wrong_rest(key: Key) -> Iterator[Mixup]:
    """What five notes are heard as if the other tonic is taken for home."""
    frame = "{0} and has the same five notes; home is where the chords come to rest."
    yield Mixup("other tonic", key.relative.mode, (Relatives(key.relative, key),), frame)
