"""A file is written whole or not at all, and never over another one unasked."""

from __future__ import annotations

from pathlib import Path

import pytest

from wadforms.errors import BadInput, WouldOverwrite
from wadforms.files import write_whole


def test_keeps_what_is_there(tmp_path: Path) -> None:
    path = tmp_path / "sheet.svg"
    write_whole(path, b"first", force=False)
    with pytest.raises(WouldOverwrite):
        write_whole(path, b"second", force=False)
    assert path.read_bytes() == b"first"
    write_whole(path, b"second", force=True)
    assert path.read_bytes() == b"second"


def test_leaves_the_old_file_when_writing_fails(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "sheet.svg"
    path.write_bytes(b"old")

    def full_disk(descriptor: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("os.fsync", full_disk)
    with pytest.raises(BadInput, match="No space left"):
        write_whole(path, b"new", force=True)
    assert path.read_bytes() == b"old"
    assert list(tmp_path.iterdir()) == [path]


def test_says_which_folder_is_missing(tmp_path: Path) -> None:
    with pytest.raises(BadInput, match="make that folder first"):
        write_whole(tmp_path / "nowhere" / "sheet.svg", b"", force=False)


def test_refuses_a_folder(tmp_path: Path) -> None:
    with pytest.raises(BadInput, match="give the name of a file"):
        write_whole(tmp_path, b"", force=True)
