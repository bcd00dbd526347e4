"""Pictures of keys and loops to print: their dots lie where the notes are, and ink alone tells the tonics apart."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from collections.abc import Callable
from pathlib import Path

import pytest

from drill.cli.main import main
from drill.errors import CannotWrite
from drill.export.look_up_pictures import key_picture, loop_picture
from drill.export.svg import FRET, LEFT, STRING, TOP
from drill.lookup.charts import read_chart
from drill.lookup.keys import KeyView
from drill.lookup.loops import LoopView
from drill.present.neck_drawing import Look
from drill.system.files import write_new
from drill.theory.keys import parse_key
from drill.theory.neck import STANDARD, Neck, Tuning

NECK = Neck(STANDARD)
SVG = "{http://www.w3.org/2000/svg}"
LEGEND = 1
"""Each kind of mark stands once in the legend."""


def key_drawn(name: str, look: Look | None = None, neck: Neck = NECK) -> ET.Element:
    return ET.fromstring(key_picture(KeyView.of(parse_key(name), neck), look or Look()))


def loop_drawn(chords: str) -> ET.Element:
    return ET.fromstring(loop_picture(LoopView.of(read_chart(chords), NECK), Look()))


def all_of(picture: ET.Element, tag: str, name: str) -> list[ET.Element]:
    return [each for each in picture.iter(SVG + tag) if name in each.get("class", "").split()]


def texts(picture: ET.Element) -> list[str]:
    return ["".join(text.itertext()) for text in picture.iter(f"{SVG}text")]


def spots(elements: list[ET.Element]) -> set[tuple[int, int]]:
    """String and fret of circles, by the measures of the drawing; those of the legend lie off the neck."""
    found = {(float(each.get("cx", "")), float(each.get("cy", ""))) for each in elements if each.get("r") != "9"}
    return {(round((y - TOP) / STRING) + 1, round((x - LEFT) / FRET + 0.5)) for x, y in found}


def test_major_tonics_are_rings_where_the_note_is() -> None:
    """A flat lies at fret 4 of both E strings, 1 and 13 of G, 11 of A, 9 of B (counted out)."""
    drawn = spots(all_of(key_drawn("Fm"), "circle", "major"))
    assert drawn == {(6, 4), (1, 4), (3, 1), (5, 11), (2, 9)}


def test_each_kind_of_note_has_an_outline_of_its_own() -> None:
    picture = key_drawn("Fm")
    minor, major = all_of(picture, "polygon", "minor"), all_of(picture, "circle", "major")
    assert len(minor) == 5 + LEGEND  # F at 6/1 1/1 4/3 5/8 3/10
    assert len(all_of(picture, "circle", "around")) == len(major)
    assert not all_of(picture, "circle", "minor")
    assert all_of(picture, "circle", "note")
    assert {"minor tonic", "major tonic", "other notes of the shapes"} <= set(texts(picture))


@pytest.mark.parametrize("draw", [lambda: key_drawn("Fm"), lambda: loop_drawn("Am F C G")], ids=["key", "loop"])
def test_nothing_is_drawn_over_anything_else(draw: Callable[[], ET.Element]) -> None:
    """Blocks lie one under the other: what one draws ends above the next, and the last ends on the page."""
    picture = draw()
    blocks = [(float(each.get("transform", "").split()[1].rstrip(")")), each) for each in picture.iter(f"{SVG}g")]
    ends = [top + max(float(text.get("y", "0")) for text in block.iter(f"{SVG}text")) for top, block in blocks]
    starts = [top for top, _ in blocks]
    assert len(blocks) >= 3
    assert all(end < start for end, start in zip(ends, [*starts[1:], float(picture.get("height", ""))], strict=True))


def test_a_key_says_in_words_where_it_lies() -> None:
    words = " ".join(texts(key_drawn("F minor")))
    assert "F minor, relative A♭ major, 4 flats" in words
    assert "Low-E-string shape: index fret 1" in words


def test_the_dots_show_what_the_learner_chose() -> None:
    assert "A♭" in texts(key_drawn("Fm", Look(show="notes")))
    assert "♭7" in texts(key_drawn("Fm", Look(show="degrees")))


def test_a_loop_has_a_neck_for_each_hand_position() -> None:
    assert len(all_of(loop_drawn("Am F C G"), "line", "nut")) == 1
    open_loop = loop_drawn("D C G")
    assert len(all_of(open_loop, "line", "nut")) == 2
    assert "D C G: fits D mixolydian or G major" in texts(open_loop)
    assert "over C: the pentatonic contains E but not C or G" in texts(open_loop)


def test_a_picture_is_alone_and_fetches_nothing() -> None:
    for picture in (key_drawn("C"), loop_drawn("C F G")):
        assert float(picture.get("width", "")) > 0
        assert not [each for each in picture.iter() if each.tag.endswith(("script", "image", "use", "a"))]
        assert not [name for each in picture.iter() for name in each.attrib if "href" in name]


def test_names_that_look_like_markup_are_text() -> None:
    hostile = Tuning.from_low_to_high("odd", '<script>&"', "D2 A2 D3 G3 A3 D4")
    words = " ".join(texts(key_drawn("C", neck=Neck(hostile))))
    assert '<script>&" has neighbouring strings' in words


@pytest.mark.parametrize("command", [["key", "Fm"], ["loop", "D", "C", "G"]])
def test_a_picture_is_saved_once_and_replaces_nothing(
    command: list[str], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "<b> & \x1b.svg"
    assert main([*command, "--svg", str(file)]) == 0
    assert ET.fromstring(file.read_text(encoding="utf-8")).tag == f"{SVG}svg"
    before, message = file.read_bytes(), capsys.readouterr().err
    assert "The picture is in " in message
    assert "\x1b" not in message
    assert main([*command, "--svg", str(file)]) == 73
    assert "already exists and was left alone" in capsys.readouterr().err
    assert file.read_bytes() == before


def test_a_picture_follows_no_link(tmp_path: Path) -> None:
    (tmp_path / "link.svg").symlink_to(tmp_path / "elsewhere")
    assert main(["key", "C", "--svg", str(tmp_path / "link.svg")]) == 73
    assert not (tmp_path / "elsewhere").exists()


@pytest.mark.parametrize("name", ["absent/a.svg", "x" * 300, "a\0b", ""])
def test_a_place_that_takes_no_file_is_said(name: str, tmp_path: Path) -> None:
    with pytest.raises(CannotWrite):
        write_new(tmp_path / name, "text")
    assert list(tmp_path.iterdir()) == []


def test_a_write_that_fails_leaves_nothing(tmp_path: Path) -> None:
    with pytest.raises(CannotWrite, match="cannot be written"):
        write_new(tmp_path / "a.svg", "\ud800")  # half a character, which UTF-8 cannot write
    assert list(tmp_path.iterdir()) == []


def test_a_scale_has_no_picture(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["key", "A", "--scale", "dorian", "--svg", str(tmp_path / "a.svg")]) == 2
    assert "A scale has no picture" in capsys.readouterr().err
