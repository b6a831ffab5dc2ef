"""Sharp tips cut off, by less than the chord error."""

from __future__ import annotations

import math
from typing import Final

from wadforms.geometry.collapsing import LEAST_SIDE
from wadforms.geometry.contour import CHORD_ERROR, Contour, Point
from wadforms.geometry.outline import Outline

SHARPEST: Final = math.radians(29.0)
"""A tip sharper than this [rad] is blunted: its mitre would reach out four times as far as the
side is moved, where SVG 2, §13.5.5 (stroke-miterlimit), ends a mitre too."""


def blunted(
    outline: Outline,
    sharpest: float = SHARPEST,
    near: Point = (0.0, 0.0),
    within: float = math.inf,
) -> Outline:
    """The outline with sharp tips cut off, by less than the chord error.

    Parameters
    ----------
    outline : Outline
        Counted in mm.
    sharpest : float
        Tips of a smaller angle than this [rad] are cut.
    near : (float, float)
        Only tips about this place [mm].
    within : float
        How far about it [mm].

    Examples
    --------
    >>> needle = Outline(Contour.polygon([(0, 0), (40, -2), (40, 2)]))
    >>> cut = blunted(needle)
    >>> len(cut.outer.vertices), cut.bounds[0] < CHORD_ERROR
    (4, True)
    """
    outer = _blunted(outline.outer, 1.0, sharpest, near, within)
    holes = tuple(_blunted(hole, -1.0, sharpest, near, within) for hole in outline.holes)
    if outer is outline.outer and all(a is b for a, b in zip(holes, outline.holes, strict=True)):
        return outline
    return Outline(outer, holes)


def _blunted(contour: Contour, way: float, sharpest: float, near: Point, within: float) -> Contour:
    segments = contour.segments
    vertices: list[Point] = []
    bulges: list[float] = []
    changed = False
    for i, after in enumerate(segments):
        before, tip = segments[i - 1], None
        if not before.bulge and not after.bulge and math.dist(after.start, near) < within:
            tip = _cut(before.start, after.start, after.end, way, sharpest)
        if tip:
            changed = True
            vertices += tip
            bulges += [0.0, 0.0]
        else:
            vertices.append(after.start)
            bulges.append(after.bulge)
    return Contour(tuple(vertices), tuple(bulges)) if changed else contour


def _cut(a: Point, tip: Point, b: Point, way: float, sharpest: float) -> tuple[Point, Point] | None:
    """The two points that a sharp tip is cut at, if it is one."""
    back, on = (tip[0] - a[0], tip[1] - a[1]), (b[0] - tip[0], b[1] - tip[1])
    cross, dot = back[0] * on[1] - back[1] * on[0], back[0] * on[0] + back[1] * on[1]
    if cross * way <= 0.0 or math.atan2(abs(cross), -dot) >= sharpest:
        return None
    half = (math.pi - math.atan2(abs(cross), dot)) / 2
    along = 0.9 * CHORD_ERROR / math.cos(half)
    sides = math.hypot(*back), math.hypot(*on)
    wide = 2 * along * math.sin(half)
    if wide < LEAST_SIDE or min(sides) < 4 * along:
        return None
    k, m = along / sides[0], along / sides[1]
    return (
        (tip[0] - k * back[0], tip[1] - k * back[1]),
        (tip[0] + m * on[0], tip[1] + m * on[1]),
    )
