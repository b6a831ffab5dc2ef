"""A file is written whole or not at all, and never over another one unasked."""

from __future__ import annotations

from pathlib import Path

import pytest

from wadforms.errors import BadInput, WouldOverwrite
from wadforms.files import parse_toml, read_at_most, write_whole


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
    with pytest.raises(BadInput, match="nowhere, which is not there, was given; make it first"):
        write_whole(tmp_path / "nowhere" / "sheet.svg", b"", force=False)


def test_refuses_a_folder(tmp_path: Path) -> None:
    with pytest.raises(BadInput, match="give the name of a file"):
        write_whole(tmp_path, b"", force=True)


def test_a_link_stays_and_its_target_is_replaced(tmp_path: Path) -> None:
    target, link = tmp_path / "sheet.svg", tmp_path / "link.svg"
    link.symlink_to("sheet.svg")
    with pytest.raises(WouldOverwrite):  # it leads nowhere, and is there all the same
        write_whole(link, b"new", force=False)
    assert not target.exists()
    for data in (b"new", b"newer"):
        write_whole(link, data, force=True)
        assert link.is_symlink()
        assert target.read_bytes() == data


@pytest.mark.parametrize("links", [True, False])
def test_a_name_taken_meanwhile_is_not_taken_over(
    links: bool, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "sheet.svg"
    if not links:

        def refused(*_: object) -> None:
            raise OSError(1, "Operation not permitted")

        monkeypatch.setattr("os.link", refused)

    def another_comes(beside: Path) -> None:
        assert beside.read_bytes() == b"ours"
        path.write_bytes(b"theirs")

    with pytest.raises(WouldOverwrite):
        write_whole(path, b"ours", force=False, prove=another_comes)
    assert path.read_bytes() == b"theirs"
    path.unlink()
    write_whole(path, b"ours", force=False)
    assert path.read_bytes() == b"ours"
    assert list(tmp_path.iterdir()) == [path]


def test_the_longest_name_can_be_written(tmp_path: Path) -> None:
    path = tmp_path / ("a" * 251 + ".svg")
    write_whole(path, b"long", force=False)
    assert path.read_bytes() == b"long"
    with pytest.raises(BadInput, match="give a shorter one"):
        write_whole(tmp_path / ("a" * 252 + ".svg"), b"longer", force=False)
    assert list(tmp_path.iterdir()) == [path]


def test_no_more_is_read_than_tells_that_it_is_too_much(tmp_path: Path) -> None:
    path = tmp_path / "list.csv"
    path.write_bytes(b"x" * 1000)
    assert read_at_most(path, 10, "a table") == b"x" * 11
    assert read_at_most(path, 2000, "a table") == b"x" * 1000


def test_toml_of_lines_as_long_as_allowed_is_read_soon() -> None:
    key = ".".join("a" * 201)
    text = "\n".join(f"b{k}.{key} = 1" for k in range(200))
    with pytest.raises(BadInput, match="very many full stops"):
        parse_toml(text.encode(), "long.toml", "a shape")
    with pytest.raises(BadInput, match="nested too deep"):
        parse_toml(text.replace(".a =", " =").encode(), "long.toml", "a shape")
    assert parse_toml(b"\xef\xbb\xbfa = 1", "marked.toml", "a shape") == {"a": 1}
