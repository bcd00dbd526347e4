"""The settings file: what it says, what it may not say, and that it is written whole, for its owner only."""

from __future__ import annotations

import os
import resource
import tomllib
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drill import settings
from drill.cli.commands import MOST_MINUTES
from drill.errors import BadFile, CannotWrite
from drill.settings import Settings
from drill.system.files import temporary_path
from tests.support.children import told_by_child

WRONG = {
    "tuning": ['""', '"  "', "6", '"drop\\nd"', "[1]"],
    "frets": ["11", "25", '"15"', "15.0", "true", "99999999999999999999999"],
    "capo": ["-1", "12", "nan"],
    "hand": ['"both"', '"Right"', "1"],
    "low_string": ['"left"', "true"],
    "note_language": ['"dutch"', '""'],
    "shape_names": ['"letters"'],
    "show": ['"dots"'],
    "colours": ['"oak"', "1"],
    "next_question": ['"never"', "true"],
    "motion": ['"slow"', "false"],
    "minutes": ["0", "61", '"five"', "1979-05-27"],
    "tempo_bpm": ["39", "241", "80.5"],
    "start": ['""', '"shape"', "true"],
    "answers": ['"sung"', '"hands-free"', "true"],
    "decibels_down": ["19", "61", "-20"],
    "microphone": ["1", '"a\\u0007b"', '"' + "x" * 201 + '"'],
    "speaker": ["true", '"' + "x" * 201 + '"'],
    "path_ms": ["-1", "2001", "30.5"],
    "deck": ['""', "2"],
    "report_title": ["1", '"' + "x" * 81 + '"'],
    "learner": ['"a\\u0007b"', "['me']", '"' + "x" * 81 + '"'],
}


def a_setting(field: settings.Setting) -> st.SearchStrategy[str | int]:
    """Every value the field allows."""
    if field.choices:
        return st.sampled_from(field.choices)
    if field.low is not None and field.high is not None:
        return st.integers(field.low, field.high)
    texts = st.text(st.characters(exclude_categories=("Cc", "Cs")), min_size=field.shortest, max_size=80)
    return texts.filter(str.strip) if field.shortest else texts


some_keys = st.dictionaries(
    st.from_regex(r"[a-z-]{1,12}", fullmatch=True), st.from_regex(r"[a-z+0-9?]{1,9}", fullmatch=True)
).map(lambda table: tuple(table.items()))
some_settings = st.builds(Settings, **{field.name: a_setting(field) for field in settings.fields()}, keys=some_keys)


def test_a_drill_lasts_no_longer_by_its_option_than_by_its_setting() -> None:
    minutes = next(field for field in settings.fields() if field.name == "minutes")
    assert (minutes.low, minutes.high) == (1, MOST_MINUTES)


def test_without_a_file_the_defaults_hold(tmp_path: Path) -> None:
    assert settings.load(tmp_path / "settings.toml") == Settings()
    assert Settings() == Settings(
        tuning="standard",
        frets=15,
        capo=0,
        hand="right",
        low_string="bottom",
        note_language="english",
        shape_names="facts",
        show="fingers",
        colours="rosewood",
        next_question="by itself",
        motion="running",
        minutes=5,
        tempo_bpm=80,
        deck="two-shapes",
        report_title="Fretboard progress",
        learner="",
    )


def test_numbers_may_reach_their_limits_and_texts_their_lengths() -> None:
    for field in settings.fields():
        ends: tuple[object, ...] = (field.low, field.high) if field.low is not None else ()
        if field.longest:
            ends = ("x" * field.shortest, "x" * field.longest)
            assert not field.takes("x" * (field.longest + 1))
        assert all(field.takes(end) for end in ends)
    limits = {field.name: (field.low, field.high) for field in settings.fields() if field.low is not None}
    assert limits == {
        "frets": (12, 24),
        "capo": (0, 11),
        "minutes": (1, 60),
        "tempo_bpm": (40, 240),
        "decibels_down": (20, 60),
        "path_ms": (0, 2000),
    }
    assert {field.name: field.longest for field in settings.fields() if field.longest} == {
        "tuning": 200,
        "microphone": 200,
        "speaker": 200,
        "deck": 200,
        "report_title": 80,
        "learner": 80,
    }


@pytest.mark.long
@given(some_settings)
def test_what_is_written_is_read_again(some: Settings) -> None:
    assert settings.parse(settings.dump(some), "settings.toml") == some


def test_the_file_reads_as_a_person_would_write_it() -> None:
    lines = settings.dump(Settings(hand="left", learner='Ana "Ace" Öz')).splitlines()
    assert "# Which way round the neck is drawn: nut at the left or right." in lines
    assert 'hand = "left"' in lines
    assert 'learner = "Ana \\"Ace\\" Öz"' in lines
    assert all(line.startswith("# ") for line in lines[::3])
    assert set(lines[2::3]) == {""}, "a blank line between two settings"
    assert set(tomllib.loads("\n".join(lines))) == {field.name for field in settings.fields()}


def test_a_file_needs_only_what_differs() -> None:
    assert settings.parse('frets = 22 # mine\nhand = "left"', "s") == Settings(frets=22, hand="left")


@pytest.mark.long(but=27)
@pytest.mark.parametrize(("name", "value"), [(name, value) for name, values in WRONG.items() for value in values])
def test_a_wrong_value_is_told_with_file_field_and_fix(name: str, value: str) -> None:
    with pytest.raises(BadFile) as caught:
        settings.parse(f"{name} = {value}", "my/settings.toml")
    assert str(caught.value).startswith(f"my/settings.toml, {name}: ")
    field = next(field for field in settings.fields() if field.name == name)
    assert caught.value.fix.startswith(f"Write {name} = ")
    assert caught.value.fix.endswith(f", {field.wants}.")
    assert len(str(caught.value)) < 300


def test_every_setting_is_tried_with_wrong_values() -> None:
    assert set(WRONG) == {field.name for field in settings.fields()}


@pytest.mark.parametrize(
    ("wrong", "nearest"),
    [
        ("fret", "frets"),
        ("tempo", "tempo_bpm"),
        ("lowstring", "low_string"),
        ("minute", "minutes"),
        ("tunings", "tuning"),
        ("note-language", "note_language"),
        ("zzz", None),
    ],
)
def test_an_unknown_key_is_told_with_the_nearest_right_one(wrong: str, nearest: str | None) -> None:
    with pytest.raises(BadFile) as caught:
        settings.parse(f"{wrong} = 1", "settings.toml")
    assert str(caught.value).startswith(f"settings.toml, {wrong}: there is no such setting.")
    assert caught.value.fix == f"The nearest is “{nearest}”." if nearest else "learner" in caught.value.fix


@given(st.text())
def test_no_text_brings_more_than_a_sentence(text: str) -> None:
    try:
        assert isinstance(settings.parse(text, "settings.toml"), Settings)
    except BadFile as error:
        assert str(error).startswith("settings.toml")


@pytest.mark.long
@given(st.dictionaries(st.sampled_from(list(WRONG)) | st.text(max_size=9), st.text(max_size=9) | st.integers()))
def test_no_table_brings_more_than_a_sentence(table: dict[str, str | int]) -> None:
    text = "\n".join(f"{settings._toml(name)} = {settings._toml(value)}" for name, value in table.items())
    try:
        assert isinstance(settings.parse(text, "settings.toml"), Settings)
    except BadFile as error:
        assert error.fix


@pytest.mark.parametrize("content", [b"\xff\xfe", b"\x00", b"a = " + b"[" * 15_000, b"frets = " + b"9" * 5000])
def test_bytes_that_are_no_settings(tmp_path: Path, content: bytes) -> None:
    path = tmp_path / "settings.toml"
    path.write_bytes(content)
    with pytest.raises(BadFile, match=r"settings\.toml") as caught:
        settings.load(path)
    assert caught.value.fix
    assert path.read_bytes() == content


def test_an_editor_may_put_a_byte_order_mark_first(tmp_path: Path) -> None:
    path = tmp_path / "settings.toml"
    path.write_bytes(b"\xef\xbb\xbffrets = 22\r\n")
    assert settings.load(path) == Settings(frets=22)


def test_a_folder_is_no_settings_file(tmp_path: Path) -> None:
    with pytest.raises(BadFile, match="is a folder, not a file"):
        settings.load(tmp_path)


def test_saving_makes_the_folder_and_closes_the_file_to_others(tmp_path: Path) -> None:
    path = tmp_path / "config" / "settings.toml"
    settings.save(Settings(frets=24), path)
    settings.save(Settings(frets=22), path)
    assert settings.load(path).frets == 22
    assert path.stat().st_mode & 0o777 == 0o600
    assert path.parent.stat().st_mode & 0o777 == 0o700
    assert [file.name for file in path.parent.iterdir()] == ["settings.toml"]


def test_saving_sweeps_up_what_a_killed_program_left_half_written(tmp_path: Path) -> None:
    path = tmp_path / "settings.toml"
    left = temporary_path(path)
    left.write_text("frets = ")
    os.utime(left, (1, 1))
    settings.save(Settings(frets=22), path)
    assert [file.name for file in tmp_path.iterdir()] == ["settings.toml"]


def test_a_full_disk_leaves_the_old_settings(tmp_path: Path) -> None:
    path = tmp_path / "settings.toml"
    settings.save(Settings(frets=24), path)

    def save() -> None:
        resource.setrlimit(resource.RLIMIT_FSIZE, (100, resource.RLIM_INFINITY))
        settings.save(Settings(frets=22), path)

    assert told_by_child(save).startswith("CannotWrite: The settings could not be saved to")
    assert settings.load(path).frets == 24
    assert [file.name for file in tmp_path.iterdir()] == ["settings.toml"]


def test_a_link_laid_in_the_way_of_what_is_written_aside_is_not_followed(tmp_path: Path) -> None:
    path, victim = tmp_path / "settings.toml", tmp_path / "victim"
    victim.write_text("dear diary")
    (tmp_path / f".settings.toml.{os.getpid()}.new").symlink_to(victim)
    settings.save(Settings(frets=22), path)
    assert victim.read_text() == "dear diary"
    assert settings.load(path).frets == 22


def test_a_path_that_cannot_be_written(tmp_path: Path) -> None:
    (tmp_path / "file").touch()
    with pytest.raises(CannotWrite, match="the old ones are unchanged"):
        settings.save(Settings(), tmp_path / "file" / "settings.toml")


def test_a_screen_can_offer_every_setting() -> None:
    for field in settings.fields():
        assert field.sentence.endswith(".")
        assert field.wants
        if field.choices:
            assert field.default in field.choices
        if field.low is not None and field.high is not None:
            assert field.low <= int(field.default) <= field.high


def test_settings_do_not_change_under_their_reader() -> None:
    with pytest.raises(AttributeError):
        Settings().frets = 3  # type: ignore[misc]
