"""The arrangements that are tried for a foot, from few wads to many."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

from wadforms.families.base import Piece
from wadforms.setting.arrangement import Spot, circle
from wadforms.setting.feet import (
    CurvedFoot,
    FlatFoot,
    OutlineFoot,
    PlaneFoot,
    RingFoot,
    SideFoot,
)
from wadforms.setting.limits import SPACING
from wadforms.setting.pot import Pot
from wadforms.setting.sides import LONG, apart
from wadforms.setting.span import least_sag_overhang, least_wads

COUNTS: Final = range(3, 13)
"""How many wads are tried on one circle; flatware may ask for more."""

MOST: Final = 300
"""How many wads are placed under one pot; a foot that wants more is no pot's."""

EDGE: Final = 2.0
"""How far inside a flat foot's edge the outermost wads end [mm]."""

ROUND_ANGLES: Final = (15.0, 20.0, 25.0, 30.0)
"""How far up a round bottom contacts are tried [deg]."""

SIDE_ANGLES: Final = (20.0, 30.0, 40.0)
"""How far up a belly on its side rails are tried [deg]."""


@dataclass(frozen=True, slots=True)
class Layout:
    """Spots, and how they are said in words.

    Parameters
    ----------
    spots : tuple of Spot
        Where the wads go.
    radius : float
        Of the outermost circle [mm].
    words : str
        Such as ``"on a circle of radius 95 mm"``.
    circles : tuple of (int, float)
        How many stand evenly on which radius [mm], each turned outward; empty where they do not.
    """

    spots: tuple[Spot, ...]
    radius: float
    words: str
    circles: tuple[tuple[int, float], ...] = ()


ALONE: Final = ((1, 0.0),)
"""The circles of a single piece in the middle."""

_ALONE: Final = Layout((Spot(0.0, 0.0),), 0.0, "alone in the middle", ALONE)


def spots_of(layout: Layout) -> tuple[Spot, ...]:
    """The spots of a layout, laid out again from its circles where they were let go.

    Examples
    --------
    >>> [round(spot.y) for spot in spots_of(Layout((), 10.0, "", ((4, 10.0),)))]
    [10, 0, -10, 0]
    """
    return layout.spots or tuple(spot for n, r in layout.circles for spot in circle(n, r))


def layouts(pot: Pot, piece: Piece, most: int | None = None) -> list[Layout]:
    """Every arrangement of one piece, of `most` wads at most, that is worth trying under a pot."""
    allowed = MOST if most is None else min(most, MOST)
    return [one for one in _layouts(pot, piece) if len(one.spots) <= allowed]


def _layouts(pot: Pot, piece: Piece) -> Iterator[Layout]:
    foot = pot.foot
    if isinstance(foot, PlaneFoot):
        if _stands_alone(piece):
            yield _ALONE
        for radius in _radii(foot, piece):
            yield from _circles(pot, foot, radius)
        if isinstance(foot, OutlineFoot):
            yield from _rows(pot, foot, piece)
    elif isinstance(foot, CurvedFoot):
        yield from _under_curve(foot, piece)


def _stands_alone(piece: Piece) -> bool:
    """Whether one piece can hold a pot: it has three tips or more, or is no narrow thing."""
    if piece.tips:
        return len(piece.faces) >= 3
    # A piece whose widest circle is much smaller than its span has arms, or a hole.
    return piece.outline.inscribed_width < 0.6 * min(piece.outline.size)


def _rows(pot: Pot, foot: OutlineFoot, piece: Piece) -> Iterator[Layout]:
    """Rows within an outline, and two rails under a long tray where it sags least."""
    x0, y0, x1, y1 = foot.outline.bounds
    long, short = max(x1 - x0, y1 - y0), min(x1 - x0, y1 - y0)
    middle = ((x0 + x1) / 2, (y0 + y1) / 2)
    lies = x1 - x0 >= y1 - y0
    narrow = min(piece.outline.size)
    straight = piece.outline.inscribed_width > 0.9 * narrow
    if straight and max(piece.outline.size) >= LONG * narrow and long > short:
        reach = long / 2 - least_sag_overhang(long)
        ends = [(reach, 0.0, 90.0), (-reach, 0.0, 90.0)]
        if not lies:
            ends = [(0.0, reach, 0.0), (0.0, -reach, 0.0)]
        spots = [Spot(middle[0] + x, middle[1] + y, turn) for x, y, turn in ends]
        words = f"across, each {reach:.4g} mm from the middle, where a tray sags least"
        yield Layout(tuple(spots), reach, words)
    inset = EDGE + max(piece.body.base.size) / 2
    if short <= 2 * inset:
        return
    step = SPACING.value if pot.is_flatware else math.inf
    across, up = (
        max(2, math.ceil((high - low - 2 * inset) / step) + 1) if math.isfinite(step) else 2
        for low, high in ((x0, x1), (y0, y1))
    )
    grid = [
        Spot(
            x0 + inset + (x1 - x0 - 2 * inset) * i / (across - 1),
            y0 + inset + (y1 - y0 - 2 * inset) * j / (up - 1),
        )
        for i in range(across)
        for j in range(up)
    ]
    under = [spot for spot in grid if foot.zone.contains(spot.place(piece.body.base).polygon())]
    if len(under) >= 3:
        reach = max(spot.radius for spot in under)
        words = f"in {across} by {up} rows, {inset:.4g} mm from the edge"
        if len(under) < len(grid):
            words += f", {len(under)} of these places being under the foot"
        yield Layout(tuple(under), reach, words)


def _radii(foot: PlaneFoot, piece: Piece) -> list[float]:
    """Circles to try: where the foot bears best and, under a broad base, as far out as fits."""
    best = foot.bearing_radius
    if not isinstance(foot, FlatFoot | OutlineFoot):
        return [best]
    inside = (foot.diameter if isinstance(foot, FlatFoot) else foot.outline.inscribed_width) / 2
    outermost = inside - EDGE - max(piece.outline.size) / 2
    return sorted(
        {round(r, 1) for r in (best, (best + outermost) / 2, outermost) if 0 < r <= outermost}
    )


def _circles(pot: Pot, foot: PlaneFoot, radius: float) -> Iterator[Layout]:
    if not pot.is_flatware:
        for count in COUNTS:
            yield _one_circle(count, radius)
        return
    # Wide ware: every circle as close as the spacing asks, one inside the other.
    rings = [(radius, least_wads(radius, SPACING.value))]
    if isinstance(foot, RingFoot):
        inner = [(d - foot.width) / 2 for d in foot.inner_diameters]
    else:
        steps = math.ceil(radius / SPACING.value)
        inner = [radius * k / steps for k in range(steps - 1, -1, -1)]
    rings += [(r, least_wads(r, SPACING.value) if r else 1) for r in inner]
    circles = tuple((max(n, 3) if r else 1, r) for r, n in rings)
    spots = [spot for n, r in circles for spot in circle(n, r)]
    words = ", ".join(f"{n} on radius {r:.4g} mm" if r else "1 in the middle" for n, r in circles)
    yield Layout(tuple(spots), radius, words, circles)


@lru_cache(maxsize=256)
def _one_circle(count: int, radius: float) -> Layout:
    words = f"on a circle of radius {radius:.4g} mm"
    return Layout(tuple(circle(count, radius)), radius, words, ((count, radius),))


def _under_curve(foot: CurvedFoot, piece: Piece) -> Iterator[Layout]:
    half = foot.diameter / 2
    if isinstance(foot, SideFoot):
        yield from _under_belly(foot, piece)
        return
    if piece.hollow_radius or piece.tips or piece.outline.holes:
        yield Layout((Spot(0.0, 0.0),), 0.0, "alone in the middle")
        return
    for count in (3, 4, 5):
        for angle in ROUND_ANGLES:
            radius = half * math.sin(math.radians(angle))
            yield Layout(tuple(circle(count, radius)), radius, _up_the_curve(radius, angle))


def _under_belly(foot: SideFoot, piece: Piece) -> Iterator[Layout]:
    """One cradle or two in line, two rails, or two pairs of short pieces."""
    half, end = foot.diameter / 2, apart(foot) / 2
    far = f"{2 * end:.4g} mm apart along the pot's axis"
    if piece.hollow_radius:
        yield Layout((Spot(0.0, 0.0),), 0.0, "alone in the middle")
        in_line = (Spot(0.0, end), Spot(0.0, -end))
        yield Layout(in_line, end, f"in one line, {far}")
        return
    if piece.tips or piece.outline.holes:
        return
    for angle in SIDE_ANGLES:
        across = half * math.sin(math.radians(angle))
        words = _up_the_curve(across, angle)
        if max(piece.outline.size) >= LONG * min(piece.outline.size):
            turn = 0.0 if piece.outline.size[0] >= piece.outline.size[1] else 90.0
            rails = circle(2, across, turn=turn)
            yield Layout(tuple(rails), across, f"along the pot's axis, {words}")
        else:
            pairs = tuple(
                Spot(x, y, 0.0 if y > 0.0 else 180.0)
                for x in (end, -end)
                for y in (across, -across)
            )
            yield Layout(pairs, math.hypot(end, across), f"in two pairs {far}, {words}")


def _up_the_curve(radius: float, angle: float) -> str:
    return f"{radius:.4g} mm from the middle, {angle:g}° up the curve"
