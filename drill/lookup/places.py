"""Where to land on the tonic of a key, in a few words."""

from __future__ import annotations

from drill.questions.wording import string_label, to_screen
from drill.theory.keys import Key
from drill.theory.names import NoteLanguage
from drill.theory.neck import Neck


def tonic_places(key: Key, neck: Neck, language: NoteLanguage) -> str:
    """The frets of a tonic on the strings of the anchors: 'string 6 (low E): fret 1 or 13; string 5 (A): fret 8'."""
    places = []
    for string in neck.tuning.anchor_strings:
        frets = [str(spot.fret) for spot in neck.spots_of(key.tonic.pitch_class, (string,))]
        places.append(f"{string_label(neck.tuning, string)}: fret {' or '.join(frets)}")
    return to_screen("; ".join(places), language)
