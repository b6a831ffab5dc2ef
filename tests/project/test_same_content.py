"""The comparison of examples sees what matters and nothing else."""

from __future__ import annotations

import io
import struct
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

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


def sheet(draw: Callable[[Any], None], pages: int = 1, width: float = 595.0) -> bytes:
    """A PDF file that reportlab writes as it does for others: with the time of day in it."""
    from reportlab.pdfgen.canvas import Canvas

    out = io.BytesIO()
    canvas = Canvas(out, pagesize=(width, 842.0))
    for _ in range(pages):
        draw(canvas)
        canvas.showPage()
    canvas.save()
    return out.getvalue()


def ring(x: float, words: str = "Ring, 60 mm", grey: float = 0.0) -> Callable[[Any], None]:
    def draw(canvas: Any) -> None:
        canvas.setStrokeGray(grey)
        canvas.circle(x, 300.0, 85.0)
        canvas.drawString(100.0, 100.0, words)

    return draw


@pytest.mark.parametrize(
    ("found", "says"),
    [
        (sheet(ring(200.0)), None),
        (sheet(ring(200.01)), None),  # 0.0035 mm
        (sheet(ring(200.1)), "draws"),  # 0.035 mm
        (sheet(ring(200.0, grey=0.5)), "draws"),
        (sheet(ring(200.0, "Ring, 61 mm")), "reads"),
        (sheet(ring(200.0), pages=2), "2 pages, not 1"),
        (sheet(ring(200.0), width=612.0), "points large"),
        (sheet(lambda canvas: (ring(200.0)(canvas), canvas.line(0, 0, 9, 9))[0]), "steps"),
    ],
)
def test_pages(found: bytes, says: str | None, tmp_path: Path) -> None:
    for name, data in (("expected", sheet(ring(200.0))), ("found", found)):
        (tmp_path / name).mkdir()
        (tmp_path / name / "a.pdf").write_bytes(data)
    told = list(differences(tmp_path / "expected", tmp_path / "found"))
    assert (says is None) == (not told)
    assert says is None or says in told[0]


@pytest.mark.parametrize(
    ("kind", "grey", "size", "same"),
    [
        (".png", 120, (120, 90), True),
        (".png", 126, (120, 90), True),
        (".png", 200, (120, 90), False),
        (".png", 120, (121, 90), False),
        (".jpg", 122, (120, 90), True),
        (".jpg", 200, (120, 90), False),
    ],
)
def test_pictures(kind: str, grey: int, size: tuple[int, int], same: bool, tmp_path: Path) -> None:
    from PIL import Image

    for name, tone, sides in (("expected", 120, (120, 90)), ("found", grey, size)):
        (tmp_path / name).mkdir()
        Image.new("L", sides, tone).save(tmp_path / name / f"a{kind}")
    assert (not list(differences(tmp_path / "expected", tmp_path / "found"))) is same
