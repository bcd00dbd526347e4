"""The pictures of the report: where every line, dot and figure lies, worked out by hand."""

from __future__ import annotations

import re
from xml.etree import ElementTree

import pytest

from drill.export import svg
from drill.export.svg import Caption, Dot, Scale, bar, trend
from drill.present.figures import per_cent
from drill.present.neck_drawing import Look
from drill.theory.neck import STANDARD, Neck, Spot

CAPTION = Caption("name", "A <title>", "What it shows & why")
NECK = Neck(STANDARD, 12)
LOOK = Look()


def parts(picture: str) -> list[tuple[str, dict[str, str], str]]:
    """The elements of a picture: tag, attributes, text."""
    return [(part.tag, dict(part.attrib), part.text or "") for part in ElementTree.fromstring(picture).iter()]


def having(picture: str, **wanted: str) -> list[dict[str, str]]:
    """The attributes of all elements with these attributes (`class_` is `class`)."""
    attributes = {name.removesuffix("_"): value for name, value in wanted.items()}
    return [found for _, found, _ in parts(picture) if attributes.items() <= found.items()]


def texts(picture: str) -> dict[str, tuple[float, float]]:
    """Every text and where it stands."""
    return {text: (float(at["x"]), float(at["y"])) for tag, at, text in parts(picture) if tag == "text"}


def test_a_picture_has_a_title_and_a_description_for_a_screen_reader() -> None:
    picture = trend([("Monday", 0.5)], Scale(1.0, per_cent), CAPTION)
    (_, root, _), title, description, *_ = parts(picture)
    assert root["aria-labelledby"] == "name-title name-description"
    assert title == ("title", {"id": "name-title"}, "A <title>")
    assert description == ("desc", {"id": "name-description"}, "What it shows & why")
    assert root["viewBox"] == "0 0 800 180"


@pytest.mark.parametrize(("chance", "width"), [(0.0, "0.0"), (0.255, "25.5"), (1.0, "100.0")])
def test_a_bar_is_as_wide_as_its_chance(chance: float, width: str) -> None:
    assert having(bar(chance), class_="fill") == [{"class": "fill", "width": width, "height": "12"}]


def test_a_trend_runs_from_left_to_right_between_nothing_and_the_top() -> None:
    picture = trend([("Mon", 0.0), ("Tue", 0.5), ("Wed", 1.0), ("Thu", 2.0)], Scale(1.0, per_cent), CAPTION)
    # the axis is at y 150, its top at 20; points lie between x 64 + 44 and 756 - 44, what exceeds the top on the top
    [line] = having(picture, class_="trend")
    assert line["points"] == "108.0,150.0 309.3,85.0 510.7,20.0 712.0,20.0"
    assert [(each["cx"], each["cy"]) for each in having(picture, class_="point")] == [
        ("108.0", "150.0"), ("309.3", "85.0"), ("510.7", "20.0"), ("712.0", "20.0"),
    ]  # fmt: skip
    assert [each["y1"] for each in having(picture, class_="axis")] == ["150", "85", "20"]
    labels = texts(picture)
    assert labels["Mon"] == (108.0, 168.0)
    assert labels["Thu"] == (712.0, 168.0)
    assert "Tue" not in labels
    assert labels["50%"] == (56.0, 85.0)


def test_the_first_and_the_last_point_carry_their_figures_above_them() -> None:
    picture = trend([("Mon", 1.5), ("Tue", 1.0), ("Wed", 3.9)], Scale(4.0, "{:.1f}".format), CAPTION)
    # 1.5 of 4 is 48.75 above the axis at 150, 3.9 of 4 is 126.75 above; figures stand 12 higher, never above 8
    assert texts(picture)["1.5"] == (108.0, pytest.approx(150 - 48.75 - 12, abs=0.06))
    assert texts(picture)["3.9"] == (712.0, pytest.approx(150 - 126.75 - 12, abs=0.06))
    assert "1.0" not in texts(picture)


def test_a_single_point_stands_in_the_middle() -> None:
    picture = trend([("Mon", 0.25)], Scale(1.0, per_cent), CAPTION)
    assert having(picture, class_="trend")[0]["points"] == "410.0,117.5"


def neck(dots: dict[Spot, Dot], look: Look = LOOK, some: Neck = NECK) -> str:
    return svg.neck(some, dots, look, CAPTION)


def test_a_dot_lies_before_its_fret_and_an_open_string_before_the_nut() -> None:
    picture = neck({Spot(6, 0): Dot("80", "strong"), Spot(1, 12): Dot("", "unmet")})
    # frets are 46 wide from x 84; a dot lies half a fret before its wire; strings are 36 apart, string 6 at the bottom
    [strong], [unmet] = having(picture, class_="spot strong"), having(picture, class_="spot unmet")
    assert (strong["cx"], strong["cy"], strong["r"]) == ("61", "200", "15")
    assert (unmet["cx"], unmet["cy"], unmet["r"]) == ("613", "20", "3")
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


def test_a_capo_moves_the_inlays() -> None:
    picture = neck({}, some=Neck(STANDARD, 12, 2))
    # counted from a capo on 2, the inlays at 3, 5, 7, 9, 12 of the guitar are at 1, 3, 5, 7, 10
    assert [each["cx"] for each in having(picture, class_="inlay")] == ["107", "199", "291", "383", "521", "521"]


def test_texts_of_a_picture_cannot_act() -> None:
    picture = trend([("<b>", 1.0)], Scale(1.0, lambda value: "<i>"), Caption("n", "<script>", "\x1b[31m"))
    assert not re.search(r"<(b|i|script)>|\x1b", picture)
    assert "\\x1b[31m" in picture
