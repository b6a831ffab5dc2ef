"""The comparison of examples sees what matters and nothing else."""

from __future__ import annotations

import struct
from collections.abc import Sequence
from pathlib import Path

import pytest
from same_content import differences, main

SVG = '<svg xmlns="http://www.w3.org/2000/svg" width="20mm"><path d="M 0 {x} L 3 4"/></svg>'
CORNERS = [(0.0, 0.0, 0.0), (10.0, 0.0, 0.0), (0.0, 10.0, 0.0), (0.0, 0.0, 10.0)]
FACETS = [(0, 2, 1), (0, 1, 3), (0, 3, 2), (1, 2, 3)]


def stl(facets: Sequence[tuple[int, ...]], header: bytes = b"", shift: float = 0.0) -> bytes:
    """A tetrahedron as binary STL."""
    data = header.ljust(80, b" ") + struct.pack("<I", len(facets))
    for facet in facets:
        corners = [value + shift for corner in facet for value in CORNERS[corner]]
        data += struct.pack("<12fH", 0, 0, 0, *corners, 0)
    return data


@pytest.mark.parametrize(
    ("name", "expected", "found", "same"),
    [
        ("a.svg", SVG.format(x="1.000"), SVG.format(x="1.002"), True),
        ("a.svg", SVG.format(x="1.0"), SVG.format(x="1.02"), False),
        ("a.svg", SVG.format(x="1"), SVG.format(x="1").replace(' width="20mm"', ""), False),
        ("a.json", '{"area": 1.0, "n": 3}', '{"n": 3, "area": 1.0000000001}', True),
        ("a.json", '{"n": 3}', '{"n": 4}', False),
        ("a.json", '{"n": 3}', '{"n": true}', False),
        ("a.txt", "three wads, 1.25 kPa", "three wads, 1.25 kPa", True),
        ("a.txt", "three wads, 1.25 kPa", "three wads, 1.26 kPa", False),
        ("a.txt", "three wads", "three wads\nand a half", False),
        ("a.bin", "x", "y", False),
    ],
)
def test_texts(name: str, expected: str, found: str, same: bool, tmp_path: Path) -> None:
    folders = [tmp_path / "expected", tmp_path / "found"]
    for folder, text in zip(folders, (expected, found), strict=True):
        folder.mkdir()
        (folder / name).write_text(text, encoding="utf-8")
    assert (not list(differences(*folders))) is same
    assert main([str(folder) for folder in folders]) == (0 if same else 1)


@pytest.mark.parametrize(
    ("found", "same"),
    [
        (stl(FACETS), True),
        (stl([(1, 0, 2), *FACETS[:0:-1]], b"written at another time"), True),
        (stl(FACETS, shift=0.001), True),
        (stl(FACETS, shift=0.1), False),
        (stl([facet[::-1] for facet in FACETS]), False),  # inside out
        (stl(FACETS[:-1]), False),
    ],
)
def test_meshes(found: bytes, same: bool, tmp_path: Path) -> None:
    for name, data in (("expected", stl(FACETS)), ("found", found)):
        (tmp_path / name).mkdir()
        (tmp_path / name / "a.stl").write_bytes(data)
    assert (not list(differences(tmp_path / "expected", tmp_path / "found"))) is same


def test_files_that_are_missing_or_new(tmp_path: Path) -> None:
    for name in ("expected/a.txt", "expected/remake", "found/b.txt"):
        (tmp_path / name).parent.mkdir(exist_ok=True)
        (tmp_path / name).write_text("x", encoding="utf-8")
    assert list(differences(tmp_path / "expected", tmp_path / "found")) == [
        "a.txt: was not made",
        "b.txt: is not expected",
    ]
