"""A folder appears whole or not at all, and nothing of anybody else's is lost."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from wadforms.errors import BadInput, WouldOverwrite
from wadforms.firing.folder import whole_folder


def fill(folder: Path, **files: str) -> None:
    for name, text in files.items():
        (folder / name).write_text(text, encoding="utf-8")
    record = {"files": [*files, "firing.json"]}
    (folder / "firing.json").write_text(json.dumps(record), encoding="utf-8")


def half_way(path: Path, failure: type[BaseException]) -> None:
    """Fill a folder, and fail before it is done."""
    with whole_folder(path, force=True) as folder:
        fill(folder, half="")
        raise failure("half way")


def too_late(path: Path) -> None:
    """Make a folder, while somebody puts a file into the one that it would replace."""
    with whole_folder(path, force=True) as folder:
        fill(folder, new="")
        (path / "late").write_text("x", encoding="utf-8")


@pytest.mark.parametrize("failure", [ValueError, KeyboardInterrupt, SystemExit])
def test_a_failure_half_way_leaves_nothing(failure: type[BaseException], tmp_path: Path) -> None:
    with pytest.raises(failure):
        half_way(tmp_path / "out", failure)
    assert list(tmp_path.iterdir()) == []


def test_a_failure_half_way_leaves_the_old_folder(tmp_path: Path) -> None:
    with whole_folder(tmp_path / "out", force=False) as folder:
        fill(folder, old="old")
    with pytest.raises(ValueError, match="half"):
        half_way(tmp_path / "out", ValueError)
    assert [path.name for path in tmp_path.iterdir()] == ["out"]
    assert (tmp_path / "out" / "old").read_text(encoding="utf-8") == "old"


def test_no_one_sees_it_before_it_is_whole(tmp_path: Path) -> None:
    with whole_folder(tmp_path / "out", force=False) as folder:
        fill(folder, note="x")
        assert not (tmp_path / "out").exists()
    assert {path.name for path in (tmp_path / "out").iterdir()} == {"note", "firing.json"}


def test_the_old_one_is_replaced_only_when_asked(tmp_path: Path) -> None:
    with whole_folder(tmp_path / "out", force=False) as folder:
        fill(folder, old="")
    with pytest.raises(WouldOverwrite), whole_folder(tmp_path / "out", force=False):
        pytest.fail("it must not come so far")
    with whole_folder(tmp_path / "out", force=True) as folder:
        fill(folder, new="")
    assert {path.name for path in (tmp_path / "out").iterdir()} == {"new", "firing.json"}
    assert [path.name for path in tmp_path.iterdir()] == ["out"]


def test_a_folder_of_somebody_else_is_never_replaced(tmp_path: Path) -> None:
    out = tmp_path / "out"
    out.mkdir()
    (out / "thesis.txt").write_text("years", encoding="utf-8")
    with (
        pytest.raises(BadInput, match=r"a folder with thesis\.txt in it, which was not made by"),
        whole_folder(out, force=True),
    ):
        pytest.fail("it must not come so far")
    (out / "thesis.txt").rename(tmp_path / "thesis.txt")
    with whole_folder(out, force=True) as folder:
        fill(folder, wads="")
    (tmp_path / "thesis.txt").rename(out / "thesis.txt")
    with pytest.raises(BadInput, match=r"thesis\.txt"), whole_folder(out, force=True):
        pytest.fail("it must not come so far")
    assert (out / "thesis.txt").read_text(encoding="utf-8") == "years"


def test_a_file_that_came_while_we_worked_is_kept(tmp_path: Path) -> None:
    out = tmp_path / "out"
    out.mkdir()
    with pytest.raises(BadInput, match="late"):
        too_late(out)
    assert [path.name for path in out.iterdir()] == ["late"]
    with pytest.raises(WouldOverwrite), whole_folder(tmp_path / "other", force=False):
        (tmp_path / "other").mkdir()
    assert {path.name for path in tmp_path.iterdir()} == {"out", "other"}


def test_places_where_no_folder_can_be(tmp_path: Path) -> None:
    with pytest.raises(BadInput, match="make that folder first"):
        whole_folder(tmp_path / "none" / "out", force=False).__enter__()
    (tmp_path / "file").write_text("x", encoding="utf-8")
    with pytest.raises(WouldOverwrite):
        whole_folder(tmp_path / "file", force=False).__enter__()
    with pytest.raises(BadInput, match="give the name of a folder"):
        whole_folder(tmp_path / "file", force=True).__enter__()
