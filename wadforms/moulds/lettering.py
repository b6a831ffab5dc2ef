"""Words as outlines, for the recess in a mould that tells what it makes.

The letters are those of Bitstream Vera Sans Bold, a free font that reportlab ships; the file is
read by fontTools and reportlab itself is not loaded.
"""

from __future__ import annotations

import importlib.util
import io
import math
import unicodedata
from collections.abc import Iterator, Sequence
from functools import cache, lru_cache
from pathlib import Path
from typing import Any, Final, NamedTuple, TypeAlias

from wadforms.errors import KernelMissing
from wadforms.geometry.contour import Contour
from wadforms.geometry.outline import Outline

STROKE: Final = 0.14
"""Thinnest stroke of capitals and digits over the height of the capitals; their stems have 0.26.

Where the bowl of a small letter joins its stem there is 0.10 for a short way; a printer that
leaves a gap there leaves the letter legible.
"""

CURVE_ERROR: Final = 0.02
"""How far the lines that stand for a curve may stray from it [mm]; a recess is read only."""

REPLACEMENT: Final = "?"
"""Stands for a character that the font lacks."""

_PITCH: Final = 1.6  # of the lines, over the capitals: an accent above and a descender clear it
_GAP: Final = 0.08  # least room between two letters, over the capitals


class _Glyph(NamedTuple):
    """A letter [units of the font]: parts as rings, outer first, and the step to the next one."""

    parts: tuple[tuple[tuple[tuple[float, float], ...], ...], ...]
    low: float
    high: float
    left: float
    right: float
    step: float


_Line: TypeAlias = list[tuple[float, _Glyph]]


def lettering(
    lines: Sequence[str], *, width: float, depth: float, letters: float, least: float
) -> tuple[Outline, ...]:
    """Outlines of a few words, centred on the origin, x along the lines.

    They are as large as the field allows, up to `letters`.  Where they would be lower than
    `least`, the last lines are left out until the others fit; where none fits there are no
    outlines.  A line without a visible character takes no room.  A character that the font
    lacks is drawn as '?'; it has those of western and much of central European languages, and
    × · − ≤ ≥ ° % Ø among its signs.

    Parameters
    ----------
    lines : sequence of str
        From the top down.
    width, depth : float
        Of the field, along x and along y [mm].
    letters : float
        Height of the capitals at most [mm].
    least : float
        Height of the capitals at least [mm]; strokes are `STROKE` times as wide at the thinnest,
        so for a nozzle of 0.4 mm it is 2.9 mm.

    Returns
    -------
    tuple of Outline
        Apart from each other: one for each connected part of a letter, holes in it [mm].

    Raises
    ------
    KernelMissing
        reportlab, which ships the font, is not installed.

    Examples
    --------
    >>> parts = lettering(["Øi"], width=30, depth=10, letters=6, least=3)
    >>> len(parts), [len(part.holes) for part in parts]
    (3, [2, 0, 0])
    >>> lettering(["far too many words"], width=20, depth=10, letters=6, least=3)
    ()
    """
    if min(width, depth, letters) <= 0.0:
        return ()
    capital = _capital_height()
    fineness = math.floor(math.log2(CURVE_ERROR * capital / letters))  # smaller ones are finer
    set_lines = [placed for line in lines if (placed := _placed(_readable(line), fineness))]
    while set_lines:
        x0, y0, x1, y1 = _bounds(set_lines, capital)
        scale = min(width / (x1 - x0), depth / (y1 - y0), letters / capital)
        if scale * capital >= least:
            return tuple(_outlines(set_lines, capital, scale, (y0 + y1) / 2))
        set_lines.pop()
    return ()


def _readable(line: str) -> str:
    """The line in characters that the font has, accents joined to their letters."""
    has = _font()[1]
    spaced = " ".join(unicodedata.normalize("NFC", line).split())
    return "".join(c if ord(c) in has else REPLACEMENT for c in spaced)


def _bounds(lines: list[_Line], capital: float) -> tuple[float, float, float, float]:
    """Box around the lines, each centred on x = 0, the first on y = 0 [units of the font]."""
    half = low = high = -math.inf
    for number, glyphs in enumerate(lines):
        base = -number * _PITCH * capital
        half = max(half, (glyphs[-1][0] + glyphs[-1][1].right - glyphs[0][1].left) / 2)
        high = max(high, *(base + glyph.high for _, glyph in glyphs))
        low = max(low, *(-base - glyph.low for _, glyph in glyphs))
    return -half, -low, half, high


def _outlines(lines: list[_Line], capital: float, scale: float, middle: float) -> Iterator[Outline]:
    for number, glyphs in enumerate(lines):
        centre = (glyphs[0][1].left + glyphs[-1][0] + glyphs[-1][1].right) / 2
        y = -number * _PITCH * capital - middle
        for x, glyph in glyphs:
            for rings in glyph.parts:
                outer, *holes = (
                    Contour.polygon([(scale * (px + x - centre), scale * (py + y)) for px, py in r])
                    for r in rings
                )
                yield Outline(outer, tuple(holes))


def _placed(line: str, fineness: int) -> _Line:
    """The visible letters of a line, each with its x; none reaches over its neighbour."""
    gap = _GAP * _capital_height()
    found: _Line = []
    x, taken = 0.0, -math.inf
    for character in line:
        glyph = _glyph(character, fineness)
        if glyph.parts:
            x = max(x, taken + gap - glyph.left)
            found.append((x, glyph))
            taken = x + glyph.right
        x += glyph.step
    return found


@lru_cache(maxsize=2048)
def _glyph(character: str, fineness: int) -> _Glyph:
    """One letter, its curves flattened to 2 to the power of `fineness` units of the font."""
    glyphs, names = _font()
    drawn = glyphs[names[ord(character)]]
    parts = _parts(_rings(drawn, 2.0**fineness))
    if not parts:
        return _Glyph((), 0.0, 0.0, 0.0, 0.0, drawn.width)
    xs, ys = zip(*(point for part in parts for point in part[0]), strict=True)
    return _Glyph(parts, min(ys), max(ys), min(xs), max(xs), drawn.width)


def _rings(drawn: Any, error: float) -> list[list[tuple[float, float]]]:
    """The closed curves of a letter as polygons."""
    from fontTools.pens.basePen import decomposeQuadraticSegment
    from fontTools.pens.recordingPen import DecomposingRecordingPen

    pen = DecomposingRecordingPen(drawn.glyphSet)
    drawn.draw(pen)
    rings: list[list[tuple[float, float]]] = []
    for word, points in pen.value:
        if word == "moveTo":
            rings.append([points[0]])
        elif word == "lineTo":
            rings[-1].append(points[0])
        elif word == "qCurveTo":
            if points[-1] is None:  # a curve without a corner: it starts half way to its first turn
                first, last = points[0], points[-2]
                start = ((first[0] + last[0]) / 2, (first[1] + last[1]) / 2)
                rings.append([start])
                points = (*points[:-1], start)
            for turn, end in decomposeQuadraticSegment(points):
                rings[-1] += _flattened(rings[-1][-1], turn, end, error)
    return rings


def _flattened(
    start: tuple[float, float], turn: tuple[float, float], end: tuple[float, float], error: float
) -> Iterator[tuple[float, float]]:
    """Points on a parabola after its start; n lines stray by |a − 2b + c|/(4 n²) at most."""
    bend = math.hypot(start[0] - 2 * turn[0] + end[0], start[1] - 2 * turn[1] + end[1])
    count = max(1, math.ceil(math.sqrt(bend / (4.0 * error))))
    for k in range(1, count + 1):
        t = k / count
        a, b, c = (1 - t) ** 2, 2 * t * (1 - t), t * t
        yield (
            a * start[0] + b * turn[0] + c * end[0],
            a * start[1] + b * turn[1] + c * end[1],
        )


def _parts(
    rings: list[list[tuple[float, float]]],
) -> tuple[tuple[tuple[tuple[float, float], ...], ...], ...]:
    """Connected parts, each an outer ring and its holes, all counter-clockwise.

    In TrueType what runs clockwise is filled and what runs the other way is cut out, and the
    strokes of a letter may overlap.  From the largest to the smallest, so that what stands in a
    hole is filled again.
    """
    import shapely

    if not rings:
        return ()  # a space
    polygons = [shapely.Polygon(ring) for ring in rings]
    region, *others = sorted(polygons, key=lambda p: -p.area)
    for polygon in others:
        cut = polygon.exterior.is_ccw
        region = region.difference(polygon) if cut else region.union(polygon)
    return tuple(
        tuple(_turned(ring) for ring in (part.exterior, *part.interiors))
        for part in shapely.get_parts(region)
    )


def _turned(ring: Any) -> tuple[tuple[float, float], ...]:
    """A closed ring as its corners, counter-clockwise."""
    points = list(ring.coords)[1:]
    return tuple(points if ring.is_ccw else reversed(points))


@cache
def _font() -> tuple[Any, dict[int, str]]:
    """The letters of the font by name, and the names by code point."""
    from fontTools.ttLib import TTFont

    found = importlib.util.find_spec("reportlab")
    if found is None or not found.submodule_search_locations:
        raise KernelMissing(
            "the letters on a mould come from the font in the package reportlab, which is not "
            "here: install it with 'pip install reportlab'"
        )
    path = Path(found.submodule_search_locations[0], "fonts", "VeraBd.ttf")
    font = TTFont(io.BytesIO(path.read_bytes()), lazy=True)  # so that no file stays open
    return font.getGlyphSet(), font.getBestCmap()


@cache
def _capital_height() -> float:
    """Height of an H [units of the font]."""
    return _glyph("H", 0).high
