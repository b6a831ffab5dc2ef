"""Glyphs drawn as SVG: what is read has the area that another library finds.

Their reader is svgelements, their area shapely's, of each curve in 64 chords.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from glyphs import Glyph, glyphs
from shapely import Polygon

from wadforms.catalogue.outlines.reading import drawn
from wadforms.geometry.outline import Outline
from wadforms.geometry.weakness import NECK, weak_places

AREA = 5e-4
"""Relative, as is promised; their chords lose less than a tenth of it."""

SIZE = 50.0
"""Largest extent of a glyph [mm]."""


def path(glyph: Glyph, scale: float) -> str:
    words = []
    for contour in glyph.contours:
        (x, y), *_ = contour[0]
        words.append(f"M{x * scale!r} {-y * scale!r}")
        for _, (cx, cy), (ex, ey) in contour:
            words.append(f"Q{cx * scale!r} {-cy * scale!r} {ex * scale!r} {-ey * scale!r}")
        words.append("Z")
    return " ".join(words)


def extent(glyph: Glyph) -> float:
    points = [p for contour in glyph.contours for curve in contour for p in curve]
    xs, ys = [p[0] for p in points], [p[1] for p in points]
    return max(max(xs) - min(xs), max(ys) - min(ys))


def their_area(d: str, scale: float) -> float:
    """Outer contour less the holes [mm²]."""
    from svgelements import Path as Reader

    areas, steps = [], np.linspace(0.0, 1.0, 64, endpoint=False)
    for part in Reader(d).as_subpaths():
        points = []
        for segment in Reader(part):
            if type(segment).__name__ != "Move":
                points += [tuple(p) for p in segment.npoint(steps)]
        areas.append(Polygon(points).area * scale**2)
    areas.sort()
    return float(areas[-1] - math.fsum(areas[:-1]))


def svg(d: str, attributes: str) -> bytes:
    head = 'width="400mm" height="400mm" viewBox="0 0 400 400"'
    shape = f'<path d="{d}" transform="{attributes}"/>'
    return f'<svg xmlns="http://www.w3.org/2000/svg" {head}><g>{shape}</g></svg>'.encode()


def test_areas_of_three_hundred_glyphs_against_another_library() -> None:
    chosen = glyphs()[:340]
    assert len(chosen) >= 300
    off, worst = {}, 0.0
    for k, glyph in enumerate(chosen):
        d = path(glyph, 1 / 64)  # font units are large; the transform sets the size
        scale = SIZE / extent(glyph) * 64
        turn = 37.0 * k
        found = drawn(svg(d, f"translate(200 200) rotate({turn}) scale({scale!r})"), "svg")
        error = found.outline.area / their_area(d, scale) - 1
        worst = max(worst, abs(error))
        if abs(error) > AREA or len(found.outline.holes) != len(glyph.contours) - 1:
            off[glyph.name] = error
    assert not off
    assert worst < AREA / 2  # room for other fonts


@pytest.mark.slow
def test_necks_of_glyphs_against_an_opening() -> None:
    """Shapely's round opening by less keeps one piece where no neck was told, and conversely."""
    wrong = []
    for glyph in glyphs()[:300]:
        outline = glyph.outline(SIZE)
        necks = [place for place in weak_places(outline, neck=4.0, bend=0.0) if place.kind == NECK]
        if parts(outline, 3.9) != 1 and not necks:
            wrong.append(glyph.name)
        for place in necks:
            if not 0.0 < place.measure <= 4.0:
                wrong.append(f"{glyph.name}: {place}")
    assert not wrong


def parts(outline: Outline, width: float) -> int:
    """How many pieces are left of what is as wide as that."""
    left = outline.polygon().buffer(-width / 2)
    return 0 if left.is_empty else len(getattr(left, "geoms", [left]))
