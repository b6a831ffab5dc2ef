"""Broken and hostile drawings: each ends in one clear line, soon, and nothing is written."""

from __future__ import annotations

import gzip
import io
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from wadforms.catalogue.outlines import LARGEST, read_outline
from wadforms.catalogue.outlines.dxf import LARGEST_DXF
from wadforms.errors import BadInput

SECONDS = 2.0
"""What is promised for any file."""

HEAD = 'width="100mm" height="100mm" viewBox="0 0 100 100"'
SQUARE = "M10 10 H50 V50 H10 Z"
PATH = f'<path d="{SQUARE}"/>'


def svg(inside: str, head: str = HEAD) -> bytes:
    links = 'xmlns:xlink="http://www.w3.org/1999/xlink"'
    return f'<svg xmlns="http://www.w3.org/2000/svg" {links} {head}>{inside}</svg>'.encode()


def d(data: str, head: str = HEAD) -> bytes:
    return svg(f'<path d="{data}"/>', head)


def thread(lines: int) -> str:
    """Lines to and fro, of which each crosses most others."""
    return "".join(f"L{k * 37 % 101} {k * k % 97}.{k % 7}" for k in range(1, lines))


def uses(count: int, each: int) -> bytes:
    parts = '<g id="u0"><circle r="9"/></g>'
    for k in range(1, count):
        parts += f'<g id="u{k}">' + f'<use href="#u{k - 1}"/>' * each + "</g>"
    return svg(f'<defs>{parts}</defs><use href="#u{count - 1}"/>')


def dxf(*entities: str, head: str = "") -> bytes:
    """A DXF file of the oldest kind, written by hand; a / stands for the end of a line."""
    text = f"0/SECTION/2/HEADER/{head}0/ENDSEC/0/SECTION/2/ENTITIES/{''.join(entities)}"
    return (text + "0/ENDSEC/0/EOF/").replace("/", "\n").encode()


def line(x0: float, y0: float, x1: float, y1: float) -> str:
    return f"0/LINE/8/0/10/{x0}/20/{y0}/11/{x1}/21/{y1}/"


def blocks(change: Callable[[Any, Any], None]) -> bytes:
    """A DXF file written by ezdxf."""
    from ezdxf.filemanagement import new

    document = new("R2010", units=4)
    change(document, document.modelspace())
    out = io.StringIO()
    document.write(out)
    return out.getvalue().encode()


def bomb(document: Any, space: Any) -> None:
    for k in range(20):
        block = document.blocks.new(f"B{k}")
        for i in range(10):
            block.add_blockref(f"B{k - 1}", (i, 0)) if k else block.add_circle((0, 0), 1)
    space.add_blockref("B19", (0, 0))


def grid(document: Any, space: Any) -> None:
    document.blocks.new("B").add_circle((0, 0), 1)
    many = {"row_count": 30000, "column_count": 30000, "row_spacing": 1, "column_spacing": 1}
    space.add_blockref("B", (0, 0), dxfattribs=many)


def loop(document: Any, space: Any) -> None:
    document.blocks.new("B").add_blockref("B", (0, 0))
    space.add_blockref("B", (0, 0))


def external(document: Any, space: Any) -> None:
    document.add_xref_def("/etc/hostname.dxf", "OTHER")
    space.add_blockref("OTHER", (0, 0))


ENTITIES = (
    b'<!DOCTYPE svg [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;&a;&a;">'
    b'<!ENTITY c "&b;&b;&b;&b;&b;&b;">]><svg xmlns="http://www.w3.org/2000/svg">&c;</svg>'
)
OUTER = (
    b'<!DOCTYPE svg [<!ENTITY x SYSTEM "file:///etc/hostname">]>'
    b'<svg xmlns="http://www.w3.org/2000/svg"><title>&x;</title></svg>'
)
TWO = "give two numbers a row"

CASES: dict[str, tuple[str, bytes, str]] = {
    # what was drawn amiss, each with its place
    "open": ("svg", d("M10 10 H50 V50 H10"), "ends at (10.00, 50.00) mm and began at (10.00, 10.0"),
    "open hole": ("svg", d(SQUARE + "M20 20 V30 H30"), "close it"),
    "open polyline": ("svg", svg('<polyline points="1,1 9,1 9,9"/>'), "ends at (9.00, 9.00) mm"),
    "self-crossing": ("svg", d("M10 10 L50 50 H10 L50 10 Z"), "itself near (30.00, 30.00) mm"),
    "touching itself": ("svg", d("M10 10 H50 V50 L30 10 L10 50 Z"), "near (30.00, 10.00) mm"),
    "two pieces": ("svg", d(SQUARE + "M60 60 V70 H70 V60 Z"), "second piece near (60.00, 60.00)"),
    "piece in a hole": (
        "svg",
        d(SQUARE + "M15 15 V45 H45 V15 Z M20 20 V40 H40 V20 Z"),
        "a second piece near (20.00, 20.00) mm, within a hole",
    ),
    "drawn twice": ("svg", svg(PATH * 2), "an outline drawn twice near (10.00, 10.00) mm"),
    "hole twice": ("svg", d(SQUARE + "M20 20 V30 H30 V20 Z" * 2), "a hole drawn twice near (20.00"),
    "hole across": ("svg", d(SQUARE + "M40 20 V30 H60 V20 Z"), "crosses or touches the outline"),
    "holes across": (
        "svg",
        d(SQUARE + "M20 20 V30 H30 V20 Z M25 25 V35 H35 V25 Z"),
        "a hole near (25.00, 25.00) mm that crosses or touches another",
    ),
    "a ball of thread": ("svg", d("M0 0" + thread(9000) + "Z"), "an outline that crosses itself"),
    "a small ball of thread": ("svg", d("M0 0" + thread(98) + "Z"), "the like at "),
    "holes over holes": (
        "svg",
        d("M0 0H99V99H0Z" + "".join(f"M{k / 9 + 1} {k / 9 + 1}h70v70h-70z" for k in range(190))),
        "that crosses or touches another",
    ),
    "no area": ("svg", d("M10 10 H50 Z"), "a part without area near (10.00, 10.00) mm"),
    "a speck": ("svg", d("M10 10 H10.5 V10.5 Z"), "draw one of more than 1 mm²"),
    "a line beside": ("svg", d(SQUARE + "M20 20 H30 Z"), "a part without area near (20.00, 20.00)"),
    "nothing drawn": ("svg", svg("<title>none</title>"), "draw one closed outline"),
    "a line": ("svg", svg('<line x2="9"/>'), "a line encloses nothing"),
    "text": ("svg", svg(PATH + "<text>a</text>"), "<text> was given; turn it into a path"),
    "a picture": ("svg", svg('<image href="http://example.org/a.png"/>'), "<image> was given; rem"),
    "rect of nothing": ("svg", svg('<rect width="9"/>'), "a <rect> whose height is nothing"),
    "odd points": ("svg", svg('<polygon points="1 1 2 2 3"/>'), "as pairs of numbers"),
    "cut off": ("svg", svg(f'<g clip-path="url(#a)">{PATH}</g>'), "a clip-path, which cuts"),
    "moved by style": ("svg", svg('<path style="transform:none"/>'), "the style 'transform'"),
    "moved by time": ("svg", svg("<g><animate/></g>"), "<animate> was given; draw it as it is me"),
    # paths that break their grammar
    "empty path": ("svg", d(""), "an empty path was given"),
    "starts with a line": ("svg", d("L10 10 H50 Z"), "begin it with M"),
    "too few numbers": ("svg", d("M10 10 L50"), "an end amid numbers in the path"),
    "broken arc": ("svg", d("M10 10 A5 5 0 0"), "an end amid numbers in the path"),
    "flag of two": ("svg", d("M10 10 A5 5 0 2 0 9 9"), "'2 0 9 9' in the path"),
    "a word": ("svg", d("M10 10 L nan 50 Z"), "'nan 50 Z' in the path"),
    "infinity": ("svg", d("M10 10 L inf 50 Z"), "'inf 50 Z' in the path"),
    "odd numbers": ("svg", d("M10 10 L50. 20 L5 50 Z"), "'. 20 L5 50 Z' in the path"),
    "beyond numbers": ("svg", d("M10 10 H1e999 V50 Z"), "stay within 10000 mm"),
    "hundreds of digits": (
        "svg", d("M10 10 H" + "9" * 300 + " V50 Z"), "a point at (1e+300, 10.00) mm was given"
    ),
    "an ellipse of hundreds of digits": (
        "svg", svg('<ellipse rx="9" ry="' + "9" * 300 + '"/>'), "an arc of radius"
    ),
    "far away": ("svg", d("M10 10 H50 C1e9 0 1e9 9 10 50 Z"), "stay within 10000 mm"),
    "arc beyond measure": ("svg", d("M0 0 A1e308 1e-308 0 0 0 9 9 Z"), "an arc"),
    "arc turned beyond measure": ("svg", d("M0 0 A9 9 1e999 0 0 9 9 Z"), "beyond all measure"),
    "huge circle": ("svg", d("M0 0 A1e12 1e12 0 1 0 9 9 Z"), "an arc of radius"),
    "endless spaces": ("svg", d("M10 10" + " " * 900_000 + "x"), "'x' in the path"),
    "a million lines": ("svg", d("M0 0" + "h.1v.1" * 150_000 + "z"), "more than 10000 lines"),
    "curves without end": ("svg", d("M0 0" + "q9e3 9e3 0 1" * 5000), "more than 10000 lines"),
    # the drawing's own measures
    "no size": ("svg", d(SQUARE, 'viewBox="0 0 9 9"'), "no width was given; give the true width"),
    "size in percent": (
        "svg",
        d(SQUARE, 'width="100%" height="100%" viewBox="0 0 9 9"'),
        "width '100%' was given; give the true width",
    ),
    "viewBox of three": ("svg", d(SQUARE, 'width="9" height="9" viewBox="0 0 9"'), "four numbers"),
    "viewBox of words": ("svg", d(SQUARE, 'viewBox="0 0 nan 9"'), "give four numbers"),
    "viewBox of nothing": (
        "svg", d(SQUARE, 'width="9mm" height="9mm" viewBox="0 0 0 9"'), "wider and higher than not"
    ),
    "viewBox without end": ("svg", d(SQUARE, 'viewBox="0 0 1e999 9"'), "give four numbers"),
    "scale of a kilometre": (
        "svg", d(SQUARE, 'width="1000000mm" height="1000000mm" viewBox="0 0 9 9"'), "stay within"
    ),
    "scaled beyond floats": (
        "svg", svg(f'<g transform="scale(1e200)"><g transform="scale(1e200)">{PATH}</g></g>'),
        "give one that leaves an area",
    ),
    "scaled to nothing": ("svg", svg(f'<g transform="scale(0)">{PATH}</g>'), "leaves an area"),
    "an unknown transform": ("svg", svg(f'<g transform="bend(3)">{PATH}</g>'), "'bend(3)' was giv"),
    "a transform of words": ("svg", svg(f'<g transform="scale(x)">{PATH}</g>'), "give matrix"),
    "many transforms": (
        "svg", svg(f'<g transform="{"scale(1)" * 50_000}">{PATH}</g>'), "give matrix, translate"
    ),
    "length in ells": ("svg", svg('<circle r="2em"/>'), "r '2em' was given; give a length"),
    # what would reach out, run, or grow
    "entities": ("svg", ENTITIES, "save it as plain SVG, without lines that begin with <!ENTITY"),
    "entity from outside": ("svg", OUTER, "a drawing that declares entities"),
    "script": ("svg", svg("<script>a()</script>" + PATH), "a script was given; save it as plain"),
    "script in a handler": ("svg", svg(f'<g onload="a()">{PATH}</g>'), "a script was given"),
    "use of another file": ("svg", svg('<use href="http://example.org/a.svg#b"/>'), "copy what it"),
    "use of a local file": ("svg", svg('<use xlink:href="/etc/passwd#b"/>'), "copy what it stands"),
    "use of nothing": ("svg", svg('<use href="#b"/>'), "nothing in the drawing has that id"),
    "use of itself": ("svg", svg('<use id="a" href="#a"/>'), "a <use> of '#a' within itself"),
    "use in a circle": (
        "svg", svg('<g id="a"><use href="#b"/></g><g id="b"><use href="#a"/></g>'), "within itself"
    ),
    "use of the whole": ("svg", svg('<use href="#r"/>', f'{HEAD} id="r"'), "within itself"),
    "uses that multiply": ("svg", uses(12, 10), "more than 10000 elements"),
    "style from outside": ("svg", svg('<style>@import "http://example.org/a";</style>'), "another"),
    "style that hides": ("svg", svg("<style>.a {display:none}</style>"), "a style that hides"),
    "deep groups": ("svg", svg("<g>" * 15_000 + "</g>" * 15_000), "groups more than 50 deep"),
    "many elements": ("svg", svg("<g/>" * 300_000), "more than 10000 elements"),
    "many holes": (
        "svg", d("M0 0H100V100H0Z" + "".join(f"M{k % 90} {k // 90}h.1v.1z" for k in range(2000))),
        "a drawing of 2001 contours",
    ),
    # no drawing at all
    "not XML": ("svg", b"M 0 0 L 10 10", "a file that is not sound XML"),
    "empty file": ("svg", b"", "a file that is not sound XML"),
    "another XML": ("svg", b"<html/>", "a file of <html>"),
    "no encoding": ("svg", b'<?xml version="1.0" encoding="nope"?><svg/>', "give an SVG file"),
    "wrong encoding": ("svg", svg("<title>\xe9</title>").decode().encode("latin-1"), "not sound"),
    "binary junk": ("svg", bytes(range(256)) * 100, "a file that is not sound XML"),
    "cut short": ("svg", svg(PATH)[:-9], "a file that is not sound XML"),
    "compressed bomb": ("svg", gzip.compress(b" " * 50_000_000), "save it as plain SVG, not as"),
    "a hundred million bytes": ("svg", d("M0 0 " + "l1 1 " * 20_000_000), f"at most {LARGEST} byt"),
    "another kind": ("png", b"\x89PNG\r\n", "whose name ends with .svg or .dxf"),
    # tables of points
    "columns without end": ("csv", b"1," * 900_000, "row 1, of 1800000 characters"),
    "three columns": ("csv", b"0,0,0\n9,0,0\n9,9,0", TWO),
    "one column": ("csv", b"0\n9\n9", TWO),
    "decimal commas": ("csv", b"0,5,0\n9,5,0", "separate them by a semicolon"),
    "blanks between": ("csv", b"0 0\n9 0\n9 9", "parted by a comma, a semicolon or a tab"),
    "blanks between names": ("csv", b"x y\n0 0", "parted by a comma, a semicolon or a tab"),
    "points of words": ("csv", b"x,y\n0,0\n9,nine", "row 3: '9,nine'"),
    "points that are none": ("csv", b"0,0\nnan,0\n9,9", "row 2: 'nan,0'"),
    "points without end": ("csv", b"0,0\ninf,0\n9,9", "row 2: 'inf,0'"),
    "points far away": ("csv", b"0,0\n1e9,0\n9,9", "stay within 10000 mm"),
    "two units": ("csv", b"x (mm),y (in)\n0,0\n9,9", "in one unit"),
    "an unknown unit": ("csv", b"x (ell),y (ell)\n0,0\n9,9", "name two columns"),
    "points that cross": ("csv", b"0,0\n9,9\n9,0\n0,9", "crosses itself near (4.50, 4.50) mm"),
    "two points": ("csv", b"0,0\n9,9", "a part without area near (0.00, 0.00) mm"),
    "a million points": ("csv", b"0,0\n0,1\n" * 200_000, "more than 10000 points"),
    "no points": ("csv", b"x,y\n", "draw one closed outline"),
    "another encoding": ("csv", "0,0\n9,0\n9,9".encode("utf-16"), "text that is not UTF-8"),
    # DXF
    "binary DXF": ("dxf", b"AutoCAD Binary DXF\r\n\x1a\0" + bytes(99), "a binary DXF file"),
    "junk as DXF": ("dxf", bytes(range(256)) * 100, "a file that is no text"),
    "text as DXF": ("dxf", b"hello\nworld\n", "line 1: 'hello'"),
    "empty DXF": ("dxf", b"", "a DXF file that breaks off"),
    "cut DXF": ("dxf", dxf(line(0, 0, 9, 0))[:-40], "a DXF file that breaks off"),
    "DXF of nothing": ("dxf", dxf(), "draw one closed outline"),
    "open DXF": (
        "dxf", dxf(line(0, 0, 9, 0), line(9, 0, 9, 9)), "at (0.00, 0.00) mm, (9.00, 9.00) mm"
    ),
    "DXF with a gap": (
        "dxf", dxf(line(0, 0, 9, 0), line(9, 0, 9, 9), line(9, 9, 0, 0.1)), "0.05 mm apart"
    ),
    "DXF drawn twice": (
        "dxf", dxf(*[line(0, 0, 9, 0), line(9, 0, 9, 9), line(9, 9, 0, 0)] * 2), "no branches"
    ),
    "DXF of text": ("dxf", dxf("0/TEXT/8/0/10/1/20/1/40/3/1/hello/"), "a TEXT was given; remove"),
    "DXF of no number": ("dxf", dxf("0/CIRCLE/8/0/10/x/20/0/40/9/"), "a DXF file that is not sou"),
    "DXF without end": ("dxf", dxf("0/CIRCLE/8/0/10/0/20/0/40/1e999/"), "stay within 10000 mm"),
    "DXF of nan": ("dxf", dxf("0/CIRCLE/8/0/10/nan/20/0/40/9/"), "stay within 10000 mm"),
    "DXF of light years": (
        "dxf", dxf("0/CIRCLE/8/0/10/0/20/0/40/9/", head="9/$INSUNITS/70/19/"), "stay within"
    ),
    "DXF of an unknown unit": (
        "dxf", dxf("0/CIRCLE/8/0/10/0/20/0/40/9/", head="9/$INSUNITS/70/99/"), "$INSUNITS 99"
    ),
    "DXF upright": (
        "dxf", dxf("0/CIRCLE/8/0/10/0/20/0/40/9/210/1/220/0/230/0/"), "a CIRCLE that stands upright"
    ),
    "DXF off the plane": (
        "dxf", dxf("0/LINE/8/0/10/0/20/0/30/0/11/9/21/0/31/5/"), "a line that leaves the plane"
    ),
    "a million DXF entities": ("dxf", dxf(line(0, 0, 9, 9) * 40_000), f"more than {LARGEST_DXF}"),
    "many DXF entities": ("dxf", dxf("0/POINT/" * 9000), "more than 6000 records"),
    "DXF bomb": ("dxf", blocks(bomb), "more than 3000 elements"),
    "DXF grid": ("dxf", blocks(grid), "more than 3000 elements"),
    "DXF block of itself": ("dxf", blocks(loop), "a DXF file that is not sound"),
    "DXF of another file": ("dxf", blocks(external), "bind it into the drawing"),
    "DXF block that is not there": (
        "dxf", blocks(lambda document, space: space.add_blockref("NO", (0, 0))), "not sound"
    ),
    "spline of no meaning": (
        "dxf", dxf("0/SPLINE/8/0/70/8/71/99/72/2/73/1/40/0/40/1/10/0/20/0/"), "SPLINE|not sound"
    ),
}  # fmt: skip


def test_there_are_enough() -> None:
    assert len(CASES) >= 100


@pytest.mark.parametrize("case", CASES)
def test_what_cannot_be_read_is_said(case: str, tmp_path: Path) -> None:
    kind, data, right = CASES[case]
    file = tmp_path / f"drawing.{kind}"
    file.write_bytes(data)
    before = time.process_time()
    with pytest.raises(BadInput) as caught:
        read_outline(file)
    assert time.process_time() - before < SECONDS
    said = str(caught.value)
    assert any(part in said for part in right.split("|")), said
    for fault in caught.value.faults:
        assert fault.where == str(file)
        assert "\n" not in str(fault)
        assert len(str(fault)) < 400 + len(fault.where)
    assert len(caught.value.faults) <= 4
    assert [path.name for path in tmp_path.iterdir()] == [file.name]


def test_a_folder_or_nothing_is_said(tmp_path: Path) -> None:
    for path in (tmp_path / "nothing.svg", tmp_path):
        with pytest.raises(BadInput, match="give a drawing that can be read"):
            read_outline(path)


def test_a_block_within_itself_is_told_once(tmp_path: Path) -> None:
    file = tmp_path / "drawing.dxf"
    file.write_bytes(blocks(loop))
    with pytest.raises(BadInput, match='block "B"') as caught:
        read_outline(file)
    assert len(caught.value.faults) == 1


def test_every_fault_of_a_drawing_is_told_at_once(tmp_path: Path) -> None:
    file = tmp_path / "drawing.svg"
    file.write_bytes(d("M10 10 L50 50 H10 L50 10 Z M60 60 H70 V70 M80 80 H90 Z"))
    with pytest.raises(BadInput) as caught:
        read_outline(file)
    assert len(caught.value.faults) == 3


def test_it_is_said_from_where_places_are_counted(tmp_path: Path) -> None:
    crossed = tmp_path / "crossed.svg"
    crossed.write_bytes(d("M10 10 L50 50 H10 L50 10 Z"))
    with pytest.raises(
        BadInput, match=r"\(places are counted from the drawing's upper left corner"
    ):
        read_outline(crossed)
    table = tmp_path / "crossed.csv"
    table.write_bytes(b"0,0\n9,9\n9,0\n0,9")
    with pytest.raises(BadInput, match=r"\(places are the drawing's own coordinates\)"):
        read_outline(table)
