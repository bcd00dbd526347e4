"""The pictures of the report: where every line, dot and figure lies, worked out by hand."""

from __future__ import annotations

import re
from datetime import date, timedelta
from xml.etree import ElementTree

import pytest

from drill.export import svg
from drill.export.pages import STYLE
from drill.export.svg import Caption, Dot, Scale, bar, trend
from drill.present.figures import per_cent
from drill.present.neck_drawing import Look
from drill.system.tunings import find_tuning
from drill.theory.neck import STANDARD, Neck, Spot

MONDAY = date(2026, 1, 5)
CAPTION = Caption("name", "A <title>", "What it shows & why")
NECK = Neck(STANDARD, 12)
LOOK = Look()


def parts(picture: str) -> list[tuple[str, dict[str, str], str]]:
    """The elements of a picture: tag, attributes, text."""
    return [(part.tag, dict(part.attrib), _text(part)) for part in ElementTree.fromstring(picture).iter()]


def _text(part: ElementTree.Element) -> str:
    return "".join(part.itertext()) if part.tag == "text" else part.text or ""


def having(picture: str, **wanted: str) -> list[dict[str, str]]:
    """The attributes of all elements with these attributes (`class_` is `class`)."""
    attributes = {name.removesuffix("_"): value for name, value in wanted.items()}
    return [found for _, found, _ in parts(picture) if attributes.items() <= found.items()]


def texts(picture: str) -> dict[str, tuple[float, float]]:
    """Every text and where it stands."""
    return {text: (float(at["x"]), float(at["y"])) for tag, at, text in parts(picture) if tag == "text"}


def test_a_picture_has_a_title_and_a_description_for_a_screen_reader() -> None:
    picture = trend([(MONDAY, 0.5)], Scale(1.0, per_cent), CAPTION)
    (_, root, _), title, description, *_ = parts(picture)
    assert root["aria-labelledby"] == "name-title name-description"
    assert title == ("title", {"id": "name-title"}, "A <title>")
    assert description == ("desc", {"id": "name-description"}, "What it shows & why")
    assert root["viewBox"] == "0 0 420 170"


@pytest.mark.parametrize(("chance", "width"), [(0.0, "0.0"), (0.255, "25.5"), (1.0, "100.0")])
def test_a_bar_is_as_wide_as_its_chance(chance: float, width: str) -> None:
    assert having(bar(chance), class_="fill") == [{"class": "fill", "width": width, "height": "12"}]


def weekly(*values: float) -> list[tuple[date, float]]:
    """Values of weeks that follow one another."""
    return [(MONDAY + timedelta(weeks=number), value) for number, value in enumerate(values)]


def test_a_trend_runs_from_left_to_right_between_nothing_and_the_top() -> None:
    picture = trend(weekly(0.0, 0.5, 1.0, 2.0), Scale(1.0, per_cent), CAPTION)
    # the axis is at y 140, its top at 24; points lie between x 52 + 34 and 412 - 34, what exceeds the top on the top
    [line] = having(picture, class_="trend")
    assert line["points"] == "86.0,140.0 183.3,82.0 280.7,24.0 378.0,24.0"
    assert [(each["cx"], each["cy"]) for each in having(picture, class_="point")] == [
        ("86.0", "140.0"), ("183.3", "82.0"), ("280.7", "24.0"), ("378.0", "24.0"),
    ]  # fmt: skip
    assert [each["y1"] for each in having(picture, class_="axis")] == ["140", "82", "24"]
    labels = texts(picture)
    assert labels["5 Jan 2026"] == (86.0, 158.0)
    assert labels["26 Jan 2026"] == (378.0, 158.0)
    assert "12 Jan 2026" not in labels
    assert labels["50%"] == (44.0, 82.0)


def test_a_gap_of_eight_weeks_is_as_wide_as_eight_weeks_and_breaks_the_line() -> None:
    later = MONDAY + timedelta(weeks=9)
    picture = trend([*weekly(0.5, 0.5), (later, 0.5), (later + timedelta(weeks=1), 0.5)], Scale(1.0, per_cent), CAPTION)
    # ten weeks over 292 units: one week is 29.2 wide, eight are 233.6
    assert [line["points"] for line in having(picture, class_="trend")] == [
        "86.0,82.0 115.2,82.0",
        "348.8,82.0 378.0,82.0",
    ]


def test_the_first_and_the_last_point_carry_their_figures_above_them() -> None:
    picture = trend(weekly(1.5, 1.0, 3.9), Scale(4.0, "{:.1f}".format), CAPTION)
    # 1.5 of 4 is 43.5 above the axis at 140, 3.9 of 4 is 113.1 above; figures stand 12 higher, never above 8
    assert texts(picture)["1.5"] == (86.0, pytest.approx(140 - 43.5 - 12, abs=0.06))
    assert texts(picture)["3.9"] == (378.0, pytest.approx(140 - 113.1 - 12, abs=0.06))
    assert "1.0" not in texts(picture)


def test_a_single_point_stands_in_the_middle() -> None:
    picture = trend(weekly(0.25), Scale(1.0, per_cent), CAPTION)
    assert having(picture, class_="trend")[0]["points"] == "232.0,111.0"


def neck(dots: dict[Spot, Dot], look: Look = LOOK, some: Neck = NECK) -> str:
    return svg.neck(some, dots, look, CAPTION)


def test_a_dot_lies_before_its_fret_and_an_open_string_before_the_nut() -> None:
    picture = neck({Spot(6, 0): Dot("80", "strong"), Spot(1, 12): Dot("", "unmet")})
    # frets are 46 wide from x 84; a dot lies half a fret before its wire; strings are 36 apart, string 6 at the bottom
    [strong], [unmet] = having(picture, class_="spot strong"), having(picture, class_="spot unmet")
    assert (strong["cx"], strong["cy"], strong["r"]) == ("61", "200", "15")
    assert (unmet["cx"], unmet["cy"], unmet["r"]) == ("613", "20", "5")
    assert texts(picture)["80"] == (61.0, 200.0)
    [nut] = having(picture, class_="nut")
    assert (nut["x1"], nut["y1"], nut["y2"]) == ("84", "20", "200")
    assert len(having(picture, class_="wire")) == 12
    assert texts(picture)["12"] == (613.0, 234.0)


def test_for_a_left_hand_the_neck_is_mirrored_and_the_low_string_may_be_on_top() -> None:
    picture = neck({Spot(6, 1): Dot("80", "strong")}, Look(hand="left", low_string="top"))
    width = 84 + 46 * 12 + 20
    assert parts(picture)[0][1]["viewBox"] == f"0 0 {width} 248"
    [dot] = having(picture, class_="spot strong")
    assert (dot["cx"], dot["cy"]) == (f"{width - 107}", "20")


def test_wound_strings_and_inlays_are_those_of_a_guitar() -> None:
    picture = neck({})
    # common practice: the three lowest strings are wound; inlays at 3, 5, 7, 9 and two at 12
    assert len(having(picture, class_="string wound")) == 3
    assert len(having(picture, class_="string")) == 3
    assert [each["cx"] for each in having(picture, class_="inlay")] == ["199", "291", "383", "475", "613", "613"]
    assert [each["cy"] for each in having(picture, class_="inlay")] == ["110"] * 4 + ["74", "146"]
    assert {"1 E", "2 B", "3 G", "4 D", "5 A", "6 E"} <= texts(picture).keys()


@pytest.mark.parametrize("tuning", ["half-step-down", "whole-step-down"])
def test_a_lower_tuning_winds_no_other_string(tuning: str) -> None:
    # common practice, no source: the third string of a guitar is plain, and stays on when it is tuned lower
    assert len(having(neck({}, some=Neck(find_tuning(tuning), 12)), class_="string wound")) == 3


def test_a_capo_moves_the_inlays() -> None:
    picture = neck({}, some=Neck(STANDARD, 12, 2))
    # counted from a capo on 2, the inlays at 3, 5, 7, 9, 12 of the guitar are at 1, 3, 5, 7, 10
    assert [each["cx"] for each in having(picture, class_="inlay")] == ["107", "199", "291", "383", "521", "521"]


def test_texts_of_a_picture_cannot_act() -> None:
    picture = trend(weekly(1.0), Scale(1.0, lambda value: "<i>"), Caption("n", "<script>", "\x1b[31m"))
    assert not re.search(r"<(i|script)>|\x1b", picture)
    assert "\\x1b[31m" in picture


def test_each_text_says_what_it_stands_on() -> None:
    """Programs that measure contrasts go by it, so it has to be what is painted there."""
    style = STYLE.read_text(encoding="utf-8")
    painted = {name: ground for names, ground in re.findall(r"((?:svg \.\w+(?:, )?)+) \{ fill: var\(--(\w+)\)", style)
               for name in re.findall(r"\.(\w+)", names)}  # fmt: skip
    said = dict.fromkeys(("weak", "middling", "strong", "note", "minor", "major"), "paper")
    for names, ground in re.findall(r"((?:svg \.on-\w+(?:, )?)+) \{ --ground: var\(--(\w+)\)", style):
        said |= dict.fromkeys(re.findall(r"\.on-(\w+)", names), ground)
    assert said == {name: painted[name] for name in said}


@pytest.mark.parametrize("band", ["weak", "strong", "minor"])
def test_a_figure_on_a_dot_names_the_dots_band(band: str) -> None:
    picture = svg.neck(NECK, {Spot(6, 4): Dot("77", band)}, LOOK, CAPTION)
    [dot] = [attributes for tag, attributes, _ in parts(picture) if attributes.get("class") == f"spot {band}"]
    [text] = [attributes for tag, attributes, words in parts(picture) if tag == "text" and words == "77"]
    assert (text["class"], text["x"], text["y"]) == (f"on-{band}", dot["cx"], dot["cy"])
