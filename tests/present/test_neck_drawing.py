"""The neck in characters: every mark stands over its fret's number and on its string's line, at any width and hand."""

from __future__ import annotations

import itertools
import re
import unicodedata
from typing import Literal

import pytest
from rich.cells import cell_len

from drill.present.neck_drawing import RAMP, SURE, Drawing, Look, MarkedNeck, NeckMap, block, draw, plain
from drill.questions.picture import Mark, asked, shape_picture
from drill.theory.keys import parse_key
from drill.theory.names import parse_note
from drill.theory.neck import STANDARD, Neck, Spot, Tuning
from drill.theory.shapes import placements

NECK = Neck(STANDARD)
LOOKS = [Look(hand, low) for hand, low in itertools.product(("right", "left"), ("bottom", "top"))]  # type: ignore[arg-type]
BASS = Tuning.from_low_to_high("bass", "Bass", "E1 A1 D2 G2")
SEVEN = Tuning.from_low_to_high("seven", "Seven strings", "B1 E2 A2 D3 G3 B3 E4")


def test_the_legend_of_the_map_tells_the_truth() -> None:
    assert f"{block(0.0)} unsure to {block(1.0)} sure; {block(0.45)}45 is 45% sure" == SURE


def rows(drawn: Drawing) -> list[str]:
    return ["".join(segment.text for segment in line) for line in drawn]


def found(drawn: Drawing, text: str) -> tuple[str, str]:
    """The line in which `text` stands, and the fret number nearest below it, as a reader finds them by eye."""
    *strings, numbers = rows(drawn)
    (line,) = [line for line in strings if text in line]
    middle = line.index(text) + len(text) / 2
    below = min(re.finditer(r"\d+", numbers), key=lambda match: abs((match.start() + match.end()) / 2 - middle))
    return line, below[0]


@pytest.mark.long(but=1)
@pytest.mark.parametrize("look", LOOKS)
@pytest.mark.parametrize("width", [None, 80, 40, 100, 130])
def test_every_spot_stands_over_its_fret_and_on_its_string(look: Look, width: int | None) -> None:
    for string, fret in itertools.product(range(1, 7), range(16)):
        drawn = draw(NECK, asked([Spot(string, fret)]), look, width=width)
        line, number = found(drawn, "[?]")
        assert f"{string} {'EBGDAE'[string - 1]}" in line
        assert number == str(fret)


@pytest.mark.parametrize(("low_string", "from_the_top"), [("bottom", "123456"), ("top", "654321")])
def test_the_low_string_is_where_it_is_wanted(low_string: Literal["bottom", "top"], from_the_top: str) -> None:
    *strings, _ = rows(draw(NECK, (), Look(low_string=low_string)))
    assert [line.split()[0] for line in strings] == [*from_the_top]


@pytest.mark.long(but=1)
@pytest.mark.parametrize("tuning", [BASS, STANDARD, SEVEN], ids=lambda tuning: tuning.id)
@pytest.mark.parametrize("frets", [12, 24])
def test_a_drawing_keeps_to_its_width_and_shows_what_is_asked(tuning: Tuning, frets: int) -> None:
    spot = Spot(len(tuning.strings), frets)
    for width, look in itertools.product(range(11, 121), LOOKS):
        lines = rows(draw(Neck(tuning, frets), asked([spot]), look, width=width))
        assert max(map(len, lines)) <= width, look
        assert sum("[?]" in line for line in lines) == 1, (width, look)


def test_fifteen_frets_fit_in_eighty_columns_without_a_window() -> None:
    assert rows(draw(NECK, (), width=80)) == rows(draw(NECK, ()))


def test_frets_grow_wider_where_there_is_room() -> None:
    for width in range(80, 140):
        breadths = [max(map(len, rows(draw(NECK, (), width=w)))) for w in (width, width + 1)]
        assert breadths[0] <= breadths[1] <= width + 1
    assert max(map(len, rows(draw(NECK, (), width=120)))) > 110


@pytest.mark.parametrize("width", [None, 40])
def test_every_character_takes_one_cell(width: int | None) -> None:
    everything = shape_picture(placements(parse_key("F# minor"), NECK, 1))
    strengths = {Spot(string, fret): fret / 15 for string in range(1, 7) for fret in range(16)}
    shown = [draw(NECK, everything, Look(show=show), width=width) for show in ("fingers", "degrees", "notes")]  # type: ignore[arg-type]
    for char in "".join(itertools.chain(*map(rows, shown), rows(NeckMap(NECK, strengths, width=width).draw()))):
        assert cell_len(char) == 1
        assert unicodedata.east_asian_width(char) not in "WF"
        assert not unicodedata.combining(char)


def test_the_a_string_shape_of_f_minor() -> None:
    """Index on F at string 5 fret 8, little finger on A flat at fret 11 (common practice, no source)."""
    (shape,) = placements(parse_key("F minor"), NECK, 4)
    line = rows(draw(NECK, shape_picture([shape])))[4]
    assert line == "5 A     ║━━━┿━━━┿━━━┿━━━┿━━━┿━━━┿━━━┿◆1m┿━━━┿━━━┿●4M┿━━━┿━━━┿━━━┿━━━┥"


@pytest.mark.parametrize(
    ("show", "minor", "major"), [("fingers", "◆1m", "●4M"), ("degrees", "◆1m", "●♭3M"), ("notes", "◆Fm", "●A♭M")]
)
def test_the_two_tonics_differ_by_sign_and_letter_whatever_the_dots_show(show: str, minor: str, major: str) -> None:
    (shape,) = placements(parse_key("F minor"), NECK, 4)
    line = rows(draw(NECK, shape_picture([shape]), Look(show=show)))[4]  # type: ignore[arg-type]
    assert minor in line
    assert major in line


def test_a_dot_says_what_it_has_when_it_lacks_what_is_wanted() -> None:
    picture = (Mark(Spot(6, 8), "note", note=parse_note("C")),)
    assert "(C)" in plain(draw(NECK, picture, Look(show="fingers")))


def test_a_dot_that_may_say_nothing_says_nothing() -> None:
    assert "(○)" in plain(draw(NECK, (Mark(Spot(6, 8), "note"),)))


def test_an_arrow_says_that_a_mark_lies_beyond_the_window() -> None:
    picture = (*asked([Spot(6, 15)]), Mark(Spot(5, 0), "note"))
    lines = rows(draw(NECK, picture, width=40))
    assert lines[4].startswith("5 A ◂")
    assert "◂" not in lines[5]
    mirrored = rows(draw(NECK, picture, Look(hand="left"), width=40))
    assert mirrored[4].endswith("▸ 5 A")


def test_an_arrow_points_up_the_neck_to_what_lies_there() -> None:
    picture = (*asked([Spot(6, 0)]), Mark(Spot(5, 15), "note"))
    assert rows(draw(NECK, picture, width=40))[4].endswith("▸")
    assert rows(draw(NECK, picture, Look(hand="left"), width=40))[4].startswith("◂")


@pytest.mark.parametrize("look", LOOKS)
@pytest.mark.parametrize(("given", "right"), [(14, 5), (0, 12), (1, 13), (15, 2)])
def test_a_wrong_answer_far_from_the_right_one_stands_beside_it_on_a_folded_neck(
    look: Look, given: int, right: int
) -> None:
    wrong = Mark(Spot(6, given), "given", note=parse_note("F#"))
    picture = (wrong, Mark(Spot(6, right), "note", note=parse_note("A")))
    drawing = MarkedNeck(NECK, picture, look._replace(show="notes"), 40, range(right, right + 1), strings=(5, 6))
    drawn = drawing.draw()
    assert max(map(len, rows(drawn))) <= 40
    for text, fret in (("✗F♯", given), ("(A)", right)):
        line, number = found(drawn, text)
        assert "6 E" in line
        assert "┄" in line
        assert number == str(fret)
        column, row = line.index(text), rows(drawn).index(line)
        assert drawing.spot_at(column, row) == Spot(6, fret)


def test_a_neck_is_folded_neither_where_both_are_in_sight_nor_where_there_is_room_for_one_only() -> None:
    near, far = ((Mark(Spot(6, 5), "note", finger=1), Mark(Spot(6, fret), "given", finger=1)) for fret in (7, 14))
    assert "┄" not in plain(draw(NECK, near, width=40))
    assert "┄" in plain(draw(NECK, far, width=40))
    assert "┄" not in plain(draw(NECK, far, width=80))
    assert max(map(len, rows(draw(NECK, far, width=13)))) <= 13


def test_no_fret_stands_twice_where_the_only_mark_is_a_wrong_answer() -> None:
    for fret in (0, 1, 2):
        lines = rows(draw(NECK, (Mark(Spot(6, fret), "given"),), width=26))
        assert re.findall(r"\d", lines[-1]) == ["0", "1", "2"]
        assert "".join(lines).count("✗") == 1


def test_numbers_stand_midway_between_their_wires() -> None:
    """A fret takes four cells, the last of them its wire."""
    right, left = (rows(draw(NECK, (), Look(hand=hand))) for hand in ("right", "left"))  # type: ignore[arg-type]
    for fret in range(1, 10):
        assert right[-1][right[0].index("║") + 4 * fret - 2] == str(fret)
        assert left[-1][left[0].index("║") - 4 * fret + 2] == str(fret)


def test_numbers_of_a_window_stand_midway_between_their_wires_too() -> None:
    _, unmarked, *_, numbers = rows(draw(NECK, asked([Spot(1, 6)]), width=30))
    assert re.findall(r"\d", numbers) == list("45678")
    assert all(unmarked[each.start() - 2] + unmarked[each.start() + 2] == "┼┼" for each in re.finditer(r"\d", numbers))


def test_a_long_name_of_a_tonic_takes_the_place_of_its_letter() -> None:
    """In German F sharp is called Fis (common practice)."""
    line = rows(draw(NECK, (Mark(Spot(6, 2), "minor tonic", note=parse_note("F#")),), Look(language="german")))[5]
    assert line.startswith("6 E     ║━━━┷◆Fis━━━┷")


def test_a_window_holds_home_whole_where_it_is_wide_enough_and_the_most_marks_where_it_is_not() -> None:
    picture = (Mark(Spot(6, 1), "note"), *(Mark(Spot(5, fret), "minor tonic") for fret in range(5, 15)))
    for width, seen in ((40, True), (20, False)):
        numbers = re.findall(r"\d+", rows(draw(NECK, picture, width=width, home=range(1, 5)))[-1])
        assert ({"1", "4"} <= set(numbers)) is seen
    assert "1" not in re.findall(r"\d+", rows(draw(NECK, picture, width=40))[-1])


def test_a_window_leaves_no_end_of_home_out_for_the_sake_of_more_marks() -> None:
    picture = tuple(Mark(Spot(6, fret), "note") for fret in range(5))
    numbers = re.findall(r"\d+", rows(draw(NECK, picture, width=40, home=range(5, 9)))[-1])
    assert {"5", "8"} <= set(numbers)


def test_a_window_on_nothing_begins_at_the_nut() -> None:
    assert re.findall(r"\d+", rows(draw(NECK, (), width=40))[-1])[0] == "0"


def test_inlays_are_marked_and_a_capo_moves_them() -> None:
    """Dots at 3 5 7 9 15 17 19 21, two at 12 and 24 (common practice, no source)."""
    numbers = rows(draw(Neck(STANDARD, 24), ()))[-1]
    assert re.findall(r"·(\d+)·", numbers) == ["3", "5", "7", "9", "15", "17", "19", "21"]
    assert re.findall(r":(\d+):", numbers) == ["12", "24"]
    assert "·1·" in rows(draw(Neck(STANDARD, 24, capo=2), ()))[-1]


def test_the_map_shows_a_block_and_a_figure_and_a_dot_for_the_unmet() -> None:
    strengths = {Spot(6, 1): 0.0, Spot(6, 2): 0.834, Spot(6, 3): 1.0, Spot(6, 4): None}
    line = rows(NeckMap(NECK, strengths).draw())[5]
    assert line.startswith("6 E     ║▁00┷▇83┷█99┷━·━┷━━━┷")


@pytest.mark.parametrize(
    ("strength", "role"),
    [(None, "unmet"), (0.0, "weak"), (0.49, "weak"), (0.5, "middling"), (0.79, "middling"), (0.8, "strong")],
)
def test_a_spot_of_the_map_is_weak_below_a_half_and_strong_from_four_fifths(strength: float | None, role: str) -> None:
    roles = {segment.role for line in NeckMap(NECK, {Spot(6, 1): strength}).draw() for segment in line}
    assert roles & {"unmet", "weak", "middling", "strong"} == {role}


def test_the_map_drops_the_figures_where_they_do_not_fit_and_keeps_every_fret() -> None:
    strengths = {Spot(6, fret): fret / 15 for fret in range(16)}
    lines = rows(NeckMap(NECK, strengths, width=40).draw())
    assert max(map(len, lines)) <= 40
    assert sum(char in RAMP for char in lines[5]) == 16
    assert lines[5].rstrip().endswith("█┙")


def test_the_picked_spot_is_in_brackets_and_in_sight() -> None:
    strengths: dict[Spot, float | None] = {Spot(6, fret): 0.42 for fret in range(25)}
    assert found(NeckMap(NECK, strengths, picked=Spot(6, 7)).draw(), "[42]")[1] == "7"
    assert "]" in plain(NeckMap(Neck(STANDARD, 24), strengths, width=40, picked=Spot(6, 24)).draw())


def test_blocks_grow_with_strength() -> None:
    blocks = [block(step / 100) for step in range(101)]
    assert [RAMP.index(b) for b in blocks] == sorted(RAMP.index(b) for b in blocks)
    assert (blocks[0], blocks[-1]) == (RAMP[0], RAMP[-1])


@pytest.mark.long(but=1)
@pytest.mark.parametrize("look", LOOKS)
@pytest.mark.parametrize("width", [80, 40, 30, 110])
def test_a_cell_of_the_map_leads_back_to_its_spot(look: Look, width: int) -> None:
    for string, fret in itertools.product(range(1, 7), range(16)):
        spot, nowhere = Spot(string, fret), dict[Spot, float | None]()
        shown = NeckMap(NECK, nowhere, look, width, picked=spot)
        lines = rows(shown.draw())
        ((row, column),) = [(y, line.index("]")) for y, line in enumerate(lines) if "]" in line]
        place = column - 1
        assert shown.spot_at(place, row) == spot


def test_beside_the_strings_there_is_no_spot() -> None:
    assert NeckMap(NECK, {}, width=80).spot_at(0, 0) is None
    assert NeckMap(NECK, {}, width=80).spot_at(10, 6) is None
    assert NeckMap(NECK, {}, width=80).spot_at(79, 0) is None


def test_other_figures_stand_in_the_place_of_per_cents() -> None:
    line = rows(NeckMap(NECK, {Spot(6, 1): 0.5}, figures={Spot(6, 1): "2.4"}).draw())[5]
    assert "▅2.4" in line


def test_a_map_of_some_strings_with_room_between_them() -> None:
    strengths = {Spot(6, 3): 0.5, Spot(5, 3): 0.9, Spot(1, 3): 0.9}
    roomy = NeckMap(NECK, strengths, figures={Spot(5, 3): ""}, pitch=3, strings=(5, 6))
    lines = rows(roomy.draw())
    assert [line[:3] for line in lines if line[:3].strip()] == ["5 A", "6 E"]
    assert lines.index(next(line for line in lines if line.startswith("6 E"))) == 3
    assert f"━{block(0.9)}━" in lines[0] and f"{block(0.5)}50" in lines[3]
    column = lines[3].index("50")
    assert roomy.spot_at(column, 3) == Spot(6, 3) and roomy.spot_at(column, 0) == Spot(5, 3)
