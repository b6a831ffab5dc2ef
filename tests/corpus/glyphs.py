"""Outlines of real drawings: the glyphs of a freely licensed font, as pieces of clay.

Bitstream Vera (four faces) ships with its licence inside the registry package `reportlab`, which
is found but never imported.  A glyph is taken where it is one piece: one outer contour, holes
allowed.  Its quadratic curves become lines that stray by at most `CHORD_ERROR`.
"""

from __future__ import annotations

import importlib.util
import math
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any, Final, NamedTuple

from wadforms.geometry.contour import CHORD_ERROR, Contour, Point
from wadforms.geometry.outline import Outline

FACES: Final = ("Vera.ttf", "VeraBd.ttf", "VeraIt.ttf", "VeraBI.ttf")

SIZES: Final = (30.0, 50.0, 80.0)
"""Largest extent of a glyph [mm]."""

Curve = tuple[Point, Point, Point]
"""Start, control point and end; a line has its middle as its control point [font units]."""


class Glyph(NamedTuple):
    """A glyph that is one piece, in font units."""

    name: str
    contours: tuple[tuple[Curve, ...], ...]

    def outline(self, size: float) -> Outline:
        """The glyph at a largest extent of `size` [mm], about the middle of its extent."""
        points = [p for contour in self.contours for curve in contour for p in _line(curve, 8)]
        x0, x1 = min(p[0] for p in points), max(p[0] for p in points)
        y0, y1 = min(p[1] for p in points), max(p[1] for p in points)
        scale = size / max(x1 - x0, y1 - y0)
        rings = []
        for contour in self.contours:
            ring: list[Point] = []
            for curve in contour:
                moved = [
                    ((x - (x0 + x1) / 2) * scale, (y - (y0 + y1) / 2) * scale) for x, y in curve
                ]
                ring += _line((moved[0], moved[1], moved[2]), _lines_for(*moved))[:-1]
            found = Contour.polygon(ring)
            rings.append(found if found.area > 0 else found.reversed())
        outer, *holes = sorted(rings, key=lambda ring: -ring.area)
        return Outline(outer, tuple(holes))


@cache
def glyphs() -> tuple[Glyph, ...]:
    """Every distinct glyph of the four faces that is one piece, in a fixed order."""
    found: dict[Any, Glyph] = {}
    for face in FACES:
        for name, contours in _drawn(face):
            glyph = Glyph(f"{face.removesuffix('.ttf')}-{name}", contours)
            if contours not in found and _one_piece(glyph):
                found[contours] = glyph
    return tuple(found.values())


def fonts() -> Path:
    """The folder of the font files."""
    spec = importlib.util.find_spec("reportlab")
    assert spec is not None
    assert spec.submodule_search_locations
    return Path(next(iter(spec.submodule_search_locations)), "fonts")


def _drawn(face: str) -> Iterator[tuple[str, tuple[tuple[Curve, ...], ...]]]:
    """Names and contours of a face's glyphs, composites taken apart."""
    from fontTools.pens.basePen import decomposeQuadraticSegment
    from fontTools.pens.recordingPen import DecomposingRecordingPen
    from fontTools.ttLib import TTFont

    with TTFont(fonts() / face) as font:
        drawings = font.getGlyphSet()
        for name in font.getGlyphOrder():
            pen = DecomposingRecordingPen(drawings)
            drawings[name].draw(pen)
            contours: list[tuple[Curve, ...]] = []
            curves: list[Curve] = []
            for command, points in pen.value:
                if command == "moveTo":
                    first = here = points[0]
                    curves = []
                elif command == "lineTo":
                    curves.append(_straight(here, points[0]))
                    here = points[0]
                elif command == "qCurveTo" and points[-1] is None:  # no point on the curve
                    off = points[:-1]
                    first = here = _middle(off[-1], off[0])
                    for control, end in decomposeQuadraticSegment((*off, first)):
                        curves.append((here, control, end))
                        here = end
                elif command == "qCurveTo":
                    for control, end in decomposeQuadraticSegment(points):
                        curves.append((here, control, end))
                        here = end
                else:
                    if here != first:
                        curves.append(_straight(here, first))
                    contours.append(tuple(c for c in curves if c[0] != c[2] or c[1] != c[0]))
            if contours and all(len(contour) > 1 for contour in contours):
                yield name, tuple(contours)


def _one_piece(glyph: Glyph) -> bool:
    """Whether all further contours are holes in the largest, none touching another."""
    outline = glyph.outline(50.0)
    outer, *holes = outline.contours
    region = Outline(outer).polygon()
    rings = [Outline(hole).polygon() for hole in holes]
    return bool(
        region.is_valid
        and region.area > 1.0
        and all(ring.is_valid and region.contains_properly(ring) for ring in rings)
        and outline.polygon().is_valid
        and not any(a.intersects(b) for i, a in enumerate(rings) for b in rings[:i])
    )


def _straight(a: Point, b: Point) -> Curve:
    return a, _middle(a, b), b


def _middle(a: Point, b: Point) -> Point:
    return (a[0] + b[0]) / 2, (a[1] + b[1]) / 2


def _lines_for(a: Point, control: Point, b: Point) -> int:
    """How many lines stray by no more than `CHORD_ERROR` [mm].

    |B″| is constant, and the chord of a step h strays by h² |B″| / 8.
    """
    second = 2 * math.hypot(a[0] - 2 * control[0] + b[0], a[1] - 2 * control[1] + b[1])
    return max(1, math.ceil(math.sqrt(second / (8 * CHORD_ERROR)) - 1e-9))


def _line(curve: Curve, n: int) -> list[Point]:
    (x0, y0), (x1, y1), (x2, y2) = curve
    line = [curve[0]]
    for k in range(1, n):
        t, u = k / n, 1 - k / n
        x = u * u * x0 + 2 * u * t * x1 + t * t * x2
        line.append((x, u * u * y0 + 2 * u * t * y1 + t * t * y2))
    return [*line, curve[2]]
