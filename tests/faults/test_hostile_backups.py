"""A backup from a stranger is refused, or does no harm: every answer acknowledged is on record, and drills go on."""

from __future__ import annotations

from pathlib import Path

import pytest

from drill.errors import RecordDamaged
from drill.memory import dump
from drill.practice.learner_store import LearnerStore
from drill.record import backups
from tests.faults.hostile_backups import KINDS, backup_at, hostile, look_at_opened, ordeal
from tests.faults.program import run
from tests.support.records import VERSIONS, make_earlier, open_at, raw

HARMLESS = {
    "deep state",
    "deep state of a card",
    "endless numbers",
    "state of the future",
    "state that lies",
    "state that is no text",
    "painted answers",
    "a painted deck",
    "a painted drill",
}
"""What is derived is thrown away; what may be a learner's own answer is taken as it is, and shown escaped."""


@pytest.fixture(scope="module")
def sound(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return backup_at(tmp_path_factory.mktemp("stranger") / "backup.sqlite3")


@pytest.mark.long(but=1)
@pytest.mark.parametrize("kind", KINDS)
def test_a_backup_from_a_stranger_is_refused_or_harmless(kind: str, sound: Path, tmp_path: Path) -> None:
    assert ordeal(tmp_path, sound, kind, thorough=False) == (kind not in HARMLESS)


@pytest.mark.parametrize("kind", ["emptied steps", "a step taken back", "replacing rows", "trigger typed Trigger"])
def test_a_record_in_use_that_was_tampered_with_is_told_and_no_good_copy_is_pruned(
    kind: str, sound: Path, tmp_path: Path
) -> None:
    record = hostile(sound, tmp_path / "record.sqlite3", KINDS[kind])
    backups.folder(record).mkdir()
    good = backups.folder(record) / "before-migration-2026-01-01T080000Z.sqlite3"
    good.write_bytes(sound.read_bytes())
    for _ in range(5):
        with pytest.raises(RecordDamaged, match=r"as fretsure|fretsure did not make") as caught:
            open_at(record)
        assert caught.value.backup == good
    assert backups.all_of(record) == (good,)


@pytest.mark.long(but=2)
@pytest.mark.parametrize("kind", KINDS)
def test_a_strangers_file_opened_as_the_record_is_told_or_harmless(kind: str, sound: Path, tmp_path: Path) -> None:
    """It is not restored, so nothing vouches for its rows; the long run also exports it and looks at one card."""
    look_at_opened(tmp_path, sound, kind, ("progress",))


@pytest.mark.parametrize("kind", ["state that is no text", "deep state", "endless numbers"])
def test_derived_state_that_cannot_be_read_is_derived_anew_at_the_start(kind: str, sound: Path, tmp_path: Path) -> None:
    with open_at(hostile(sound, tmp_path / "record.sqlite3", KINDS[kind])) as record, open_at(sound) as whole:
        assert dump(LearnerStore.of(record).learner) == dump(LearnerStore.of(whole).learner)


@pytest.mark.long
def test_a_backup_is_tried_out_as_it_is_and_leaves_nothing_behind(sound: Path, tmp_path: Path) -> None:
    home = tmp_path / "home"
    home.mkdir()
    levels = sorted(VERSIONS.glob("*.sql"))
    for level in levels:
        old = make_earlier(home / f"{level.stem}.sqlite3", int(level.stem))
        raw(old, "ANALYZE")
        assert run("restore", str(old), home=home).code == 0
        with open_at(home / "record.sqlite3") as record:
            assert [row.given for row in record.attempts()] == ["C", "b flat", ""]
            assert record.states()["position"] == "3", "what was derived elsewhere is gone"
            assert record.notices == []
    left = {path.name for path in home.iterdir()}
    assert left == {"record.sqlite3", "record.sqlite3-backups", *(f"{level.stem}.sqlite3" for level in levels)}
