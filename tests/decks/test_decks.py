"""Decks: what ships, what a deck file may say, every mistake in one, and what a focus leaves."""

from __future__ import annotations

import json
from datetime import date
from pathlib import Path

import pytest

from drill.cli.commands.decks import card_lines, check_lines, deck_lines, listed
from drill.cli.reference.objects import CARD, DECK
from drill.decks import Focus, check_deck, entry_of, load_deck, next_deck, shipped_decks
from drill.errors import BadFile, UnknownName, UsageProblem
from drill.present.tables import as_object
from drill.present.voice import Voice
from drill.questions.catalogue import FAMILIES
from drill.system import resources
from drill.system.tunings import find_tuning, tunings
from drill.theory.bars import bar_seconds
from drill.theory.keys import parse_key
from drill.theory.neck import STANDARD, Neck
from tests.support.asking import judged

NECK = Neck(STANDARD)
TODAY = date(2026, 11, 26)
MINIMAL = 'title = "Mine"\nabout = "For me."\n[[part]]\nfamilies = ["note-at-fret"]\n'


def written(folder: Path, text: str | bytes) -> Path:
    path = folder / "mine.toml"
    path.write_bytes(text if isinstance(text, bytes) else text.encode())
    return path


# -- what ships --------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", resources.deck_files())
def test_every_shipped_deck_is_without_mistakes(name: str) -> None:
    assert check_deck(resources.deck_files()[name]) == []


def test_every_family_is_in_a_deck_and_comes_after_what_it_needs() -> None:
    asked = {entry.item.family for deck in shipped_decks(Neck(STANDARD, 24)) for entry in deck.entries.values()}
    assert asked == FAMILIES.keys()
    taught: set[str] = set()
    for family in FAMILIES.values():
        assert taught.issuperset(family.needs), family.id
        taught.add(family.id)


def test_there_is_a_deck_for_every_stage() -> None:
    decks = shipped_decks(NECK)
    assert [deck.stage for deck in decks] == sorted(deck.stage for deck in decks)
    assert {deck.stage for deck in decks} == {1, 2, 3, 4, 5}
    assert decks[0].id == "naturals"
    assert load_deck("bass", NECK).neck.tuning.id == "bass"


def test_the_default_deck_goes_key_by_key_and_asks_the_whole_task_first() -> None:
    """Both core cards of two relatives, then what they rest on: the bond, and the two spots (a teacher's order;
    common practice, no source)."""
    entries = load_deck("two-shapes", NECK).entries
    second = list(entries)[16:24]
    assert second == [
        "shape-anchor:key=Em:shape=string-6",
        "shape-anchor:key=Em:shape=string-5",
        "shape-anchor:key=G:shape=string-6",
        "shape-anchor:key=G:shape=string-5",
        "relative-minor:key=G",
        "relative-major:key=Em",
        "fret-of-note:string=6:note=E",
        "fret-of-note:string=5:note=E",
    ]
    keys = [entry.facets.key for entry in entries.values() if entry.item.family == "shape-anchor"]
    assert [key.minor for key in keys[::4]] == [key.minor for key in keys[3::4]]
    assert len(set(keys)) == 24
    assert len(keys) == 48


def test_every_fact_of_the_default_deck_that_a_core_card_rests_on_has_a_card_of_its_own() -> None:
    items = load_deck("two-shapes", NECK).items
    alone = {item.facts for item in items if len(item.facts) == 1}
    core = {fact for item in items if item.family == "shape-anchor" for fact in item.facts}
    assert {(fact,) for fact in core} <= alone


def test_each_deck_leads_on_until_all_is_to_be_within_a_bar() -> None:
    deck, path = load_deck("naturals", NECK), ["naturals"]
    while following := next_deck(deck, NECK):
        deck = following
        path.append(deck.id)
    assert path[:3] == ["naturals", "two-shapes", "inside-the-shapes"]
    assert path[-1] == "one-bar"
    assert next_deck(load_deck("whole-neck", NECK), NECK) is not None


def test_a_deck_that_an_instrument_cannot_be_asked_is_passed_over() -> None:
    dadgad = Neck(find_tuning("dadgad"))
    inside = next(deck for deck in shipped_decks(dadgad) if deck.id == "inside-the-shapes")
    following = next_deck(inside, dadgad)
    assert following is not None
    assert following.id == "keys"


def test_decks_that_lead_to_each_other_come_to_an_end(tmp_path: Path) -> None:
    path = written(tmp_path, "next = 'mine.toml'\n" + MINIMAL)
    deck = load_deck(str(path), NECK)
    assert deck.next == "mine.toml"
    assert next_deck(deck._replace(next=deck.id), NECK) is None


def test_targets_follow_the_bar() -> None:
    """One bar for the whole task, half of it for a part, and no part under 1.5 s, which reading and typing take."""

    def targets(bar_s: float) -> dict[str, float]:
        return {item.family: item.target_s for item in load_deck("two-shapes", NECK, bar_s).items}

    assert bar_seconds(80) == 3.0
    slow, quick = targets(bar_seconds(60)), targets(bar_seconds(120))
    assert (slow["shape-anchor"], slow["relative-minor"], slow["fret-of-note"]) == (4.0, 2.0, 2.0)
    assert (quick["shape-anchor"], quick["relative-minor"], quick["tonic-finger"]) == (2.0, 1.5, 1.5)
    assert entry_of("shape-anchor:key=Am:shape=string-6", 2.4)[0].item.target_s == 2.4


def test_a_target_that_would_measure_typing_is_lifted_and_the_check_says_so(tmp_path: Path) -> None:
    path = written(tmp_path, MINIMAL + "[targets]\nnote-at-fret = 0.8\n")
    assert {item.target_s for item in load_deck(str(path), NECK).items} == {1.5}
    lines = list(check_lines(path, TODAY))
    assert lines == [
        f"Note: {path}, targets.note-at-fret: 0.8 seconds would measure reading and typing; it counts as 1.5.",
        f"{path}: no problems found, 1 note.",
    ]


def test_key_by_key_a_part_asks_all_its_families_of_two_relatives_before_the_next(tmp_path: Path) -> None:
    text = MINIMAL.replace("note-at-fret", 'tonic-fret", "note-at-fret", "letter-skip')
    path = written(tmp_path, text + 'keys = ["Ebm", "A", "F#m"]\nstrings = [5]\norder = "key by key"\n')
    assert check_deck(path) == []
    assert list(load_deck(str(path), NECK).entries) == [
        "tonic-fret:key=Ebm:string=5",
        "note-at-fret:string=5:fret=6",
        "letter-skip:note=G:interval=third-down",
        "letter-skip:note=E:interval=third-up",
        "tonic-fret:key=A:string=5",
        "tonic-fret:key=F#m:string=5",
        "note-at-fret:string=5:fret=9",
        "letter-skip:note=A:interval=third-down",
        "letter-skip:note=F:interval=third-up",
    ]


@pytest.mark.long(but=1)
@pytest.mark.filterwarnings("error")
@pytest.mark.parametrize("tuning", tunings())
def test_every_deck_can_be_built_on_every_instrument(tuning: str) -> None:
    for frets, capo in ((12, 11), (24, 0)):
        for deck in shipped_decks(Neck(find_tuning(tuning), frets, capo)):
            first_of_each = {entry.item.family: card_id for card_id, entry in reversed(deck.entries.items())}
            for card_id in first_of_each.values():
                assert deck.card(card_id).id == card_id
            assert deck.entries or deck.left_out


def test_what_an_instrument_cannot_be_asked_is_said() -> None:
    deck = load_deck("two-shapes", Neck(find_tuning("dadgad")))
    assert not {entry.item.family for entry in deck.entries.values()} & {"tonic-finger", "shape-anchor", "other-tonic"}
    assert deck.left_out == (
        "Index fret of a shape, Finger on the tonic, Other tonic of the shape: Guitar, DADGAD has neighbouring strings "
        "7 semitones apart; box shapes need 4 or 5. Drill notes on this tuning, or pick one in fourths for shapes.",
    )
    short = load_deck("two-shapes", Neck(STANDARD, 12, capo=11))
    assert short.left_out[-1].endswith("none of the cards fit on 1 fret.")
    with pytest.raises(UsageProblem, match=r"nothing to ask.*box shapes"):
        load_deck("five-shapes", Neck(find_tuning("dadgad")))


# -- deck files --------------------------------------------------------------------------------------------------------


def test_a_deck_file_is_read(tmp_path: Path) -> None:
    path = written(
        tmp_path, MINIMAL + 'notes = "naturals"\nstrings = [2]\nfrets = [0, 5]\n[targets]\nnote-at-fret = 3\n'
    )
    deck = load_deck(str(path), NECK)
    assert (deck.id, deck.title, deck.about, deck.stage) == ("mine", "Mine", "For me.", 5)
    assert [card_id.split("fret=")[1] for card_id in deck.entries] == ["0", "1", "3", "5"]
    assert {item.target_s for item in deck.items} == {3.0}
    assert list(check_lines(path, TODAY)) == [f"{path}: no problems found."]


def test_a_byte_order_mark_does_no_harm(tmp_path: Path) -> None:
    assert check_deck(written(tmp_path, b"\xef\xbb\xbf" + MINIMAL.encode())) == []


MISTAKES = {
    'colour = "red"\n' + MINIMAL: ("colour", "there is no such field.", "Every field: title, about"),
    MINIMAL.replace('about = "For me."\n', ""): ("about", "is missing.", "Write about ="),
    MINIMAL.replace('"Mine"', '""'): ("title", "“” does not fit.", "Write title ="),
    MINIMAL.replace('"Mine"', '"a\\u001b[2Jb"'): ("title", "“a?[2Jb” does not fit.", "Write title ="),
    'next = "two-shpes"\n' + MINIMAL: ("next", "There is no deck “two-shpes”.", "Decks: bass, "),
    MINIMAL + 'order = "by key"\n': ("part.1.order", "“by key” does not fit.", 'Write order = "key by key"'),
    "stage = 9\n" + MINIMAL: ("stage", "“9” does not fit.", "Write stage = 1"),
    'tuning = "bas"\n' + MINIMAL: ("tuning", "“bas” is not a tuning.", "Nearest: bass."),
    MINIMAL + "[targets]\nnote-at-frt = 2\n": (
        "targets",
        "There is no family “note-at-frt”.",
        "The nearest is “note-at-fret”.",
    ),
    MINIMAL + "[targets]\nnote-at-fret = 0\n": ("targets.note-at-fret", "“0” does not fit.", "seconds from 1.5 to 60"),
    MINIMAL + "[targets]\nnote-at-fret = nan\n": ("targets.note-at-fret", "“nan” does not fit.", "seconds"),
    'title = "a"\nabout = "b"\n': ("part", "is missing, or is not a list of parts.", "Write [[part]]"),
    'title = "a"\nabout = "b"\npart = 3\n': ("part", "is missing, or is not a list of parts.", "Write [[part]]"),
    'title = "a"\nabout = "b"\npart = [{families = ["note-at-fret"]}, 3]\n': (
        "part",
        "is missing, or is not a list of parts.",
        "Write [[part]]",
    ),
    MINIMAL.replace("note-at-fret", "note-at-fre"): (
        "part.1.families",
        "There is no family “note-at-fre”.",
        "note-at-fret",
    ),
    MINIMAL.replace('["note-at-fret"]', "[]"): ("part.1.families", "“[]” does not fit.", "Write families ="),
    MINIMAL + "string = [5]\n": ("part.1.string", "there is no such field.", "The nearest is “strings”."),
    MINIMAL + "strings = [7]\n": (
        "part.1.strings",
        "Guitar, standard tuning has no string 7.",
        'to 6. A deck for an instrument with 7 strings needs its tuning: tuning = "seven-string".',
    ),
    MINIMAL + "strings = [9]\n": ("part.1.strings", "Guitar, standard tuning has no string 9.", "to 6."),
    MINIMAL + 'strings = ["6"]\n': ("part.1.strings.1", "“6” does not fit.", "Write strings = [6, 5]"),
    MINIMAL + 'strings = "most"\n': ("part.1.strings", "“most” does not fit.", "Write strings = [6, 5]"),
    MINIMAL + "strings = []\n": ("part.1.strings", "is an empty list.", "Write strings = [6, 5]"),
    MINIMAL + "frets = [5, 3]\n": ("part.1.frets", "[5, 3] runs backwards.", "Write the lower fret first."),
    MINIMAL + "frets = [0, 25]\n": ("part.1.frets.2", "“25” does not fit.", "whole numbers from 0 to 24"),
    MINIMAL + "frets = [0, 5, 12]\n": ("part.1.frets", "“[0, 5, 12]” does not fit.", "Write frets = [0, 12]"),
    MINIMAL + "frets = [0]\n": ("part.1.frets", "“[0]” does not fit.", "Write frets = [0, 12]"),
    MINIMAL + 'notes = "sharps"\n': ("part.1.notes", "“sharps” does not fit.", 'Write notes = "naturals"'),
    MINIMAL + 'keys = ["X"]\n': ("part.1.keys", "“X” is not a key.", "Eb minor"),
    MINIMAL + 'keys = ["H"]\n': (
        "part.1.keys",
        "“H” is not a key.",
        'It is German, and a deck has English note names: write "B".',
    ),
    MINIMAL + 'keys = ["Es-Moll"]\n': ("part.1.keys", "“Es-Moll” is not a key.", 'write "Ebm".'),
    MINIMAL + 'keys = "Am"\n': (
        "part.1.keys",
        "“Am” does not fit.",
        'Write keys = ["Am"], in brackets, or keys = "everyday"',
    ),
    MINIMAL + "strings = 6\n": ("part.1.strings", "“6” does not fit.", "Write strings = [6], in brackets"),
    MINIMAL.replace('["note-at-fret"]', '"shape-anchor"'): (
        "part.1.families",
        "“shape-anchor” does not fit.",
        'Write families = ["shape-anchor"], in brackets.',
    ),
    MINIMAL + 'loops = ["Am-F-C-G"]\n': ("part.1.loops", "“Am-F-C-G” is not a chord.", 'loops = ["Am F C G"]'),
    MINIMAL + 'loops = ["Am/F/C/E"]\n': ("part.1.loops", "“Am/F/C/E” is not a chord.", 'loops = ["Am F C E"]'),
    MINIMAL + 'loops = ["Am-X"]\n': ("part.1.loops", "“Am-X” is not a chord.", "Write a root and a kind"),
    MINIMAL + 'keys = ["G#"]\n': ("part.1.keys", "G# major would need 8 sharps", "The same sound is written Ab major."),
    MINIMAL + 'shapes = ["string-2"]\n': ("part.1.shapes", "There is no shape “string-2”.", "string-6"),
    MINIMAL + 'loops = ["Am X"]\n': ("part.1.loops", "“X” is not a chord.", "Write a root and a kind"),
    MINIMAL + 'loops = [""]\n': ("part.1.loops", "0 chords: a loop has 1 to 64.", "Write the chords of one round."),
    MINIMAL.replace("note-at-fret", "loop-tonic"): (
        "part.1.families",
        "“loop-tonic” finds nothing to ask here.",
        "List chord loops",
    ),
    MINIMAL.replace("note-at-fret", "tonic-octave") + "strings = [2]\n": (
        "part.1.families",
        "“tonic-octave” finds nothing to ask",
        "Widen",
    ),
    MINIMAL + MINIMAL[MINIMAL.index("[[part]]") :]: (
        "part.2",
        "adds no cards that earlier parts don't already have.",
        "Leave it out",
    ),
    'tuning = "dadgad"\n' + MINIMAL.replace("note-at-fret", "tonic-finger"): (
        "part.1.families",
        "“tonic-finger” cannot be asked: Guitar, DADGAD has neighbouring strings",
        "fourths",
    ),
    'tuning = "bass"\n' + MINIMAL + "strings = [5]\n": (
        "part.1.strings",
        "Bass guitar, four strings has no string 5.",
        "1, the highest, to 4",
    ),
}


@pytest.mark.parametrize("text", MISTAKES, ids=lambda text: MISTAKES[text][0] + ": " + MISTAKES[text][1][:30])
def test_a_mistake_is_reported_with_its_field_and_its_fix(tmp_path: Path, text: str) -> None:
    field, problem, fix = MISTAKES[text]
    path = written(tmp_path, text)
    (found,) = check_deck(path)
    assert found.field == field
    assert found.problem.startswith(problem)
    assert fix in found.fix
    with pytest.raises(BadFile) as refused:
        list(check_lines(path, TODAY))
    assert str(refused.value).startswith(f"{path}, {field}: {problem}")


def test_every_family_that_cannot_be_asked_is_named(tmp_path: Path) -> None:
    path = tmp_path / "mine.toml"
    families = '["tonic-finger", "shape-anchor", "note-at-fret"]'
    path.write_text('tuning = "dadgad"\n' + MINIMAL.replace('["note-at-fret"]', families), encoding="utf-8")
    assert [problem.problem.split(":")[0] for problem in check_deck(path)] == [
        "“tonic-finger” cannot be asked",
        "“shape-anchor” cannot be asked",
    ]


def test_all_mistakes_are_reported_at_once(tmp_path: Path) -> None:
    text = (
        'titel = "x"\nabout = 3\n[targets]\nnote-at-frt = 1\n'
        '[[part]]\nfamilies = ["note-at-fret", "shape-ancor"]\nstrings = [7]\nfrets = [9, 3]\nkeys = ["Q"]\n'
        '[[part]]\nfret = [0, 12]\nnotes = "x"\n[[part]]\nfamilies = ["signature"]\nshapes = ["string-9"]\n'
    )
    problems = check_deck(written(tmp_path, text))
    assert [problem.field for problem in problems] == [
        "title", "about", "titel", "targets", "part.1.families", "part.1.keys", "part.1.frets", "part.2.families",
        "part.2.notes", "part.2.fret", "part.1.strings", "part.3.shapes",
    ]  # fmt: skip
    assert all(problem.problem and problem.fix for problem in problems)


TWO_MISTAKES = {
    "string = 5\n": ["part.1.string", "part.1.strings"],
    'famlies = ["note-at-frett"]\n': ["part.1.famlies", "part.1.families"],
    'keys = ["F", 3, "H"]\n': ["part.1.keys.2", "part.1.keys"],
    "strings = [6, 'x', 9]\n": ["part.1.strings.2", "part.1.strings"],
    'notse = "all"\nfrets = [12, 0]\n': ["part.1.notse", "part.1.frets"],
    'tempo = 80\nfamilies = ["loop-tonic"]\n': ["part.1.tempo", "part.1.families"],
}


@pytest.mark.parametrize("lines", TWO_MISTAKES)
def test_a_wrong_field_does_not_hide_a_wrong_value(tmp_path: Path, lines: str) -> None:
    """Otherwise the second mistake would come to light only once the first is mended."""
    text = MINIMAL if "note-at-frett" not in lines and "loop-tonic" not in lines else MINIMAL.partition("families")[0]
    found = {problem.field for problem in check_deck(written(tmp_path, text + lines))}
    assert found >= set(TWO_MISTAKES[lines])


def test_a_goal_out_of_reach_is_told_with_another_mistake_above_the_parts(tmp_path: Path) -> None:
    text = 'goal = "9 keys ready"\nuntil = "soon"\n' + MINIMAL
    assert [problem.field for problem in check_deck(written(tmp_path, text))] == ["until", "goal"]


NO_TOML = {
    'title = "Mine\n': (1, "A quotation mark is missing"),
    'title = Mine"\n': (1, "A quotation mark is missing"),
    '"Mine': (1, "A quotation mark is missing"),
    MINIMAL + 'keys = ["Am", C"]': (5, "A quotation mark is missing"),
    "stage = 1\ntitle = “Mine”\n": (2, "Its quotation marks are curly"),
    "title = Mine\n": (1, "After = stands a text in quotation marks"),
    "title: Mine\n": (1, "A = stands between the name of a field and its value."),
    MINIMAL + 'keys = ["Am" "C"]\n': (5, "A list has a comma between two values and a ] at its end."),
    "stage = 1\nstage = 2\n": (2, "The same name stands twice"),
}


@pytest.mark.parametrize("text", NO_TOML)
def test_a_line_that_is_not_toml_is_shown_with_what_is_likely_wrong(tmp_path: Path, text: str) -> None:
    number, reason = NO_TOML[text]
    path = written(tmp_path, text)
    with pytest.raises(BadFile) as refused:
        check_deck(path)
    line = text.split("\n")[number - 1]
    assert str(refused.value).startswith(f"{path}, line {number}: “{line}” is not TOML. {reason}")
    assert str(refused.value).endswith("See the format: fretsure help deck")


@pytest.mark.parametrize(
    ("text", "problem"),
    [
        (b"\xff\xfe", "byte 0 is not UTF-8 text."),
        (b"title = ", "is not TOML"),
        (b"title = " + b"9" * 5000, "is not TOML"),
        (b"a = " + b"[" * 15_000, "is not TOML"),
        (b"#" * 300_000, "is too large. It may hold at most 20000 bytes."),
    ],
)
def test_what_is_no_deck_file_at_all(tmp_path: Path, text: bytes, problem: str) -> None:
    with pytest.raises(BadFile, match=problem) as refused:
        load_deck(str(written(tmp_path, text)), NECK)
    assert refused.value.fix


def test_no_file_and_no_deck(tmp_path: Path) -> None:
    with pytest.raises(BadFile, match="No such file"):
        load_deck(str(tmp_path / "none.toml"), NECK)
    with pytest.raises(BadFile, match="is a folder, not a file"):
        check_deck(tmp_path)
    with pytest.raises(UnknownName, match="Did you mean two-shapes or five-shapes"):
        load_deck("two-shape", NECK)


# -- focus -------------------------------------------------------------------------------------------------------------


def test_a_focus_narrows_and_widens() -> None:
    deck = load_deck("two-shapes", NECK)
    sixth = deck.focused(Focus(strings=(6,)))
    both = deck.focused(Focus(strings=(6, 5)))
    narrow = deck.focused(Focus(strings=(6,), keys=(parse_key("Am"),), families=("shape-anchor",)))
    assert 0 < len(sixth.entries) < len(both.entries) < len(deck.entries)
    assert list(narrow.entries) == ["shape-anchor:key=Am:shape=string-6"]
    assert deck.focused(Focus(shapes=("string-5",))).entries.keys() < deck.entries.keys()
    same = "shape-anchor:key=Am:shape=string-6"
    assert narrow.card(same) == deck.card(same)
    assert not narrow.card(same) != deck.card(same)  # noqa: SIM202
    assert narrow.card(same) != deck.card("shape-anchor:key=Am:shape=string-5")


def test_a_key_in_focus_finds_every_card_that_says_something_of_it() -> None:
    left = load_deck("inside-the-shapes", NECK).focused(Focus(keys=(parse_key("F#"),)))
    assert {entry.item.family for entry in left.entries.values()} == {"finger-key", "neck-diagram", "next-shape"}
    assert all("F# major" in left.card(card_id).accepts for card_id in left.entries if "mode=major" in card_id)


def test_a_focus_that_leaves_nothing_says_what_there_is() -> None:
    deck = load_deck("naturals", NECK)
    with pytest.raises(UsageProblem, match=r"no card for this focus. It asks: Note at a fret, Fret of a note\."):
        deck.focused(Focus(keys=(parse_key("Am"),)))
    with pytest.raises(UsageProblem, match="Alone, there are cards for string 6"):
        deck.focused(Focus(strings=(6,), keys=(parse_key("Am"),)))


def test_a_key_is_found_by_either_of_its_names() -> None:
    """E flat minor and D sharp minor, C flat and B major sound the same (circle of fifths; common practice)."""
    deck = load_deck("two-shapes", NECK)
    for asked, found in (("Ebm", "D#m"), ("Cb", "B")):
        on_five = Focus(strings=(5,), keys=(parse_key(asked),))
        left = deck.focused(on_five).entries
        assert left == deck.focused(on_five._replace(keys=(parse_key(found),))).entries
        assert len(left) == deck.count(on_five) > 0


def test_a_focus_on_what_the_instrument_lacks_says_what_it_has() -> None:
    deck = load_deck("two-shapes", NECK)
    with pytest.raises(
        UsageProblem, match=r"Guitar, standard tuning has no string 9\. Strings: 1, the highest, to 6\."
    ):
        deck.focused(Focus(strings=(6, 9)))
    with pytest.raises(UsageProblem, match="There is no shape “9”"):
        deck.focused(Focus(shapes=("9",)))


def test_a_shape_in_focus_may_be_named_by_its_number() -> None:
    """Shape 1 has its minor tonic under the index finger on the lowest string (common practice, no source)."""
    deck = load_deck("two-shapes", NECK)
    assert deck.focused(Focus(shapes=("1",))).entries == deck.focused(Focus(shapes=("string-6",))).entries


# -- lists -------------------------------------------------------------------------------------------------------------


@pytest.mark.long
def test_lists_of_decks_and_cards() -> None:
    decks = shipped_decks(NECK)
    assert next(iter(deck_lines(decks))).startswith("naturals: Naturals on two low strings, 30 cards, stage 1")
    objects = [json.loads(json.dumps(as_object(DECK, deck))) for deck in decks]
    assert [each["deck"] for each in objects] == [deck.id for deck in decks]
    assert all(each["cards"] == len(deck.entries) for each, deck in zip(objects, decks, strict=True))
    for deck in decks:
        for each in listed(deck):
            line = json.dumps(as_object(CARD, each), ensure_ascii=False)
            card = json.loads(line)
            assert line.isascii()
            assert set(card) == {"card", "family", "prompt", "facets", "accepts", "because", "target_s"}
            assert all(judged(deck.card(card["card"]), answer).right for answer in card["accepts"])


def test_a_part_with_a_mistake_is_not_laid_out_whatever_else_is_wrong(tmp_path: Path) -> None:
    text = MINIMAL.replace('"Mine"', '""') + 'keys = ["H"]\n'
    assert [problem.field for problem in check_deck(written(tmp_path, text))] == ["title", "part.1.keys"]


def test_a_card_of_another_deck_is_refused_by_its_name() -> None:
    with pytest.raises(UnknownName, match="There is no card “signature:key=C” in the deck “naturals”"):
        load_deck("naturals", NECK).card("signature:key=C")


def test_a_focus_in_plain_names() -> None:
    focus = Focus((6,), (parse_key("F#m"),), ("signature",), ("string-6",))
    names = {"strings": [6], "keys": ["F# minor"], "families": ["signature"], "shapes": ["string-6"]}
    assert focus.as_names() == names


def test_a_list_of_cards_names_shapes_as_the_learner_does() -> None:
    deck = load_deck("two-shapes", NECK).focused(Focus(families=("shape-anchor",), shapes=("string-6",)))
    assert not any("number" in line for line in card_lines(deck, Voice()))
    assert all("low-E-string shape (number 1)" in line for line in card_lines(deck, Voice(shape_numbers=True)))
