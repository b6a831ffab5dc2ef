"""Drawings into files: as the name says, all or none."""

from __future__ import annotations

from pathlib import Path

import pytest

from wadforms import files
from wadforms.errors import BadInput, Fault, WouldOverwrite
from wadforms.files import write_all
from wadforms.templates import look
from wadforms.templates.drawing import Circle, Drawing
from wadforms.templates.write import MACHINE, contents, write


def pages(count: int) -> list[Drawing]:
    return [
        Drawing(
            title=f"Page {k}",
            description="",
            width=50,
            height=50,
            items=(Circle((25, 25), 10 + k, look.CUT),),
        )
        for k in range(count)
    ]


def test_one_and_several_pages(tmp_path: Path) -> None:
    assert write(pages(1), tmp_path / "one.svg", force=False) == (tmp_path / "one.svg",)
    assert [p.name for p in write(pages(3), tmp_path / "all.SVG", force=False)] == [
        "all-1.SVG",
        "all-2.SVG",
        "all-3.SVG",
    ]
    assert write(pages(3), tmp_path / "all.pdf", force=False) == (tmp_path / "all.pdf",)
    assert (tmp_path / "all.pdf").read_bytes().startswith(b"%PDF-")
    assert b"Page 2" in (tmp_path / "all-3.SVG").read_bytes()


def test_one_file_in_the_way_and_none_is_written(tmp_path: Path) -> None:
    (tmp_path / "all-3.svg").write_text("mine", "utf-8")
    with pytest.raises(WouldOverwrite):
        write(pages(3), tmp_path / "all.svg", force=False)
    assert [p.name for p in tmp_path.iterdir()] == ["all-3.svg"]
    assert (tmp_path / "all-3.svg").read_text("utf-8") == "mine"
    assert len(write(pages(3), tmp_path / "all.svg", force=True)) == 3


def test_should_one_fail_all_is_as_it_was(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "b.txt").write_bytes(b"old")
    real = files.write_whole

    def full_disk(path: Path, data: bytes, *, force: bool, **_: object) -> None:
        if path.name == "c.txt":
            raise BadInput(Fault("c.txt", "a full disk", "free some"))
        real(path, data, force=force)

    monkeypatch.setattr(files, "write_whole", full_disk)
    with pytest.raises(BadInput, match="full disk"):
        write_all({tmp_path / f"{c}.txt": b"new" for c in "abc"}, force=True)
    assert {p.name: p.read_bytes() for p in tmp_path.iterdir()} == {"b.txt": b"old"}


@pytest.mark.parametrize("name", ["a.stl", "a", "a.dxf", "a.svg.txt"])
def test_other_names_are_refused(name: str) -> None:
    with pytest.raises(BadInput, match=r"end it with \.svg \(SVG\) or \.pdf"):
        contents(pages(1), Path(name))


def test_a_stencil_is_no_pdf() -> None:
    with pytest.raises(BadInput, match=r"\.dxf"):
        contents(pages(1), Path("a.pdf"), MACHINE)
