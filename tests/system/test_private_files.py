"""Files for their owner alone, put in place whole or not at all."""

from __future__ import annotations

import os
import shlex
from pathlib import Path

import pytest

from drill.errors import CannotWrite
from drill.system import files


def modes(folder: Path) -> dict[str, int]:
    return {path.name: path.lstat().st_mode & 0o777 for path in folder.iterdir()}


def test_a_file_in_another_s_place_is_the_owner_s_alone_and_nothing_is_left_beside_it(tmp_path: Path) -> None:
    path = tmp_path / "file"
    path.write_text("old")
    path.chmod(0o666)
    with files.atomic_write(path) as file:
        file.write("B♭\n")
        assert path.read_text() == "old"
        assert set(modes(tmp_path).values()) == {0o666, 0o600}
    assert path.read_bytes() == "B♭\n".encode()
    assert modes(tmp_path) == {"file": 0o600}


def test_what_fails_half_way_leaves_the_old_file(tmp_path: Path) -> None:
    path = tmp_path / "file"
    path.write_text("old")
    with pytest.raises(KeyboardInterrupt), files.atomic_write(path) as file:
        file.write("half")
        raise KeyboardInterrupt
    assert path.read_text() == "old"
    assert [each.name for each in tmp_path.iterdir()] == ["file"]


def test_a_link_is_replaced_and_not_followed(tmp_path: Path) -> None:
    victim, link = tmp_path / "victim", tmp_path / "link"
    victim.write_text("dear diary")
    link.symlink_to(victim)
    with files.atomic_write(link) as file:
        file.write("new")
    assert (victim.read_text(), link.read_text(), link.is_symlink()) == ("dear diary", "new", False)


@pytest.mark.parametrize("planted", ["file", "link", "link to nowhere"])
def test_a_new_file_is_made_only_where_there_is_none(planted: str, tmp_path: Path) -> None:
    path, victim = tmp_path / "new", tmp_path / "victim"
    if planted == "file":
        path.touch()
    else:
        path.symlink_to(victim)
    if planted == "link":
        victim.touch()
    with pytest.raises(FileExistsError):
        files.create_file(path)
    assert victim.exists() == (planted == "link")


def test_only_old_names_of_ours_are_swept_up(tmp_path: Path) -> None:
    path = tmp_path / "a*b"
    path.touch()
    young, old = files.temporary_path(path), files.temporary_path(path)
    others = [tmp_path / name for name in (".a*b.new", ".a*b.draft.new", ".axb.12.new", "a*b.12.new", ".a*b.12.new.x")]
    for each in (young, old, *others):
        each.touch()
    for each in (old, *others):
        os.utime(each, (1, 1))
    files.remove_leftovers(path)
    assert {each.name for each in tmp_path.iterdir()} == {path.name, young.name, *(each.name for each in others)}


def test_a_missing_folder_is_named_with_the_command_that_makes_it(tmp_path: Path) -> None:
    path = tmp_path / "for Thursday" / "sheet.html"
    for refuse in (files.refuse_existing, lambda path: files.write_new(path, b"")):
        with pytest.raises(CannotWrite) as caught:
            refuse(path)
        assert str(caught.value.message) == f"{path.parent} is not there, so sheet.html cannot be written."
        assert f"mkdir {shlex.quote(str(path.parent))}" in caught.value.fix
    path.parent.write_text("a file")
    with pytest.raises(CannotWrite, match="is no folder"):
        files.write_new(path, "")
