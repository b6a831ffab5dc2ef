"""The arrangements that are tried for a foot, from few wads to many."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from wadforms.families.base import Piece
from wadforms.setting.arrangement import Spot, circle
from wadforms.setting.feet import FlatFoot, Foot, OutlineFoot, PlaneFoot, RingFoot, RoundFoot
from wadforms.setting.limits import SPACING
from wadforms.setting.pot import Pot
from wadforms.setting.span import least_wads

COUNTS: Final = range(3, 13)
"""How many wads are tried on one circle; flatware may ask for more."""

EDGE: Final = 2.0
"""How far inside a flat foot's edge the outermost wads end [mm]."""

ROUND_ANGLES: Final = (15.0, 20.0, 25.0, 30.0)
"""How far up a round bottom contacts are tried [deg]."""

SIDE_ANGLES: Final = (30.0, 40.0)
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
    """

    spots: tuple[Spot, ...]
    radius: float
    words: str


def layouts(pot: Pot, piece: Piece, most: int | None = None) -> list[Layout]:
    """Every arrangement of one piece, of `most` wads at most, that is worth trying under a pot."""
    return [one for one in _layouts(pot, piece) if most is None or len(one.spots) <= most]


def _layouts(pot: Pot, piece: Piece) -> Iterator[Layout]:
    foot = pot.foot
    if isinstance(foot, PlaneFoot):
        if _stands_alone(piece):
            yield Layout((Spot(0.0, 0.0),), 0.0, "alone in the middle")
        for radius in _radii(foot, piece):
            yield from _circles(pot, foot, radius)
    else:
        yield from _under_curve(foot, piece)


def _stands_alone(piece: Piece) -> bool:
    """Whether one piece can hold a pot: it has three tips or more, or is no narrow thing."""
    if piece.tips:
        return len(piece.faces) >= 3
    # A piece whose widest circle is much smaller than its span has arms, or a hole.
    return piece.outline.inscribed_width < 0.6 * min(piece.outline.size)


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
            words = f"on a circle of radius {radius:.4g} mm"
            yield Layout(tuple(circle(count, radius)), radius, words)
        return
    # Wide ware: every circle as close as the spacing asks, one inside the other.
    rings = [(radius, least_wads(radius, SPACING.value))]
    if isinstance(foot, RingFoot):
        inner = [(d - foot.width) / 2 for d in foot.inner_diameters]
    else:
        steps = math.ceil(radius / SPACING.value)
        inner = [radius * k / steps for k in range(steps - 1, -1, -1)]
    rings += [(r, least_wads(r, SPACING.value) if r else 1) for r in inner]
    spots = [spot for r, n in rings for spot in circle(max(n, 3) if r else 1, r)]
    words = ", ".join(
        f"{max(n, 3)} on radius {r:.4g} mm" if r else "1 in the middle" for r, n in rings
    )
    yield Layout(tuple(spots), radius, words)


def _under_curve(foot: Foot, piece: Piece) -> Iterator[Layout]:
    half = foot.diameter / 2  # type: ignore[attr-defined]
    alone = piece.hollow_radius or piece.tips or piece.outline.holes
    if alone:
        yield Layout((Spot(0.0, 0.0),), 0.0, "alone in the middle")
        return
    if isinstance(foot, RoundFoot):
        choices = [(n, angle) for n in (3, 4, 5) for angle in ROUND_ANGLES]
    else:
        choices = [(2, angle) for angle in SIDE_ANGLES]
    for count, angle in choices:
        radius = half * math.sin(math.radians(angle))
        words = f"{radius:.4g} mm from the middle, {angle:g}° up the curve"
        yield Layout(tuple(circle(count, radius)), radius, words)
