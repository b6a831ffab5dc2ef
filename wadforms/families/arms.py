"""What tripods and stands share: arms from a centre, and fine tips on them."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Any, Protocol

from wadforms.errors import Fault
from wadforms.families.base import Piece, Tips, length
from wadforms.families.flat import flat_topped
from wadforms.families.relations import LEAST_BEND, Branched, at_least, edge_faults, room, spread
from wadforms.geometry.body import Body, Loft
from wadforms.geometry.construct import star
from wadforms.geometry.contour import Point
from wadforms.geometry.outline import Outline

THINNEST = 3.0
"""Least height of arms or plate under tips [mm] (assumed)."""

RIM = 0.5
"""Least width of flat clay round the foot of a tip [mm]: a tip on the very edge chips (assumed)."""


class Armed(Branched, Protocol):
    """A size with arms from a centre."""

    @property
    def reach(self) -> float:
        """From the centre to the end of an arm [mm]."""

    @property
    def end(self) -> float:
        """Radius of the corners at the end of an arm [mm]."""


class Pointed(Armed, Protocol):
    """A size with a tip on each arm, half a width in from its end."""

    @property
    def tip_height(self) -> float:
        """Of a tip [mm]."""

    @property
    def tip_flat(self) -> float:
        """Diameter of the small flat on a tip [mm]."""

    @property
    def tip_foot(self) -> float:
        """Diameter of a tip where it stands on the clay [mm]."""


def end_field(default: float) -> Any:
    """Declare the radius [mm] of the corners at the end of an arm."""
    return length(default, 0.0, 30.0, "radius of the corners at the end of an arm")


def tip_height_field(default: float, also: str) -> Any:
    """Declare the height [mm] of a tip; `also` is what else the help says of it."""
    return length(default, 2.0, 40.0, f"of a tip{also}")


def tip_flat_field() -> Any:
    """Declare the diameter [mm] of the small flat on a tip."""
    return length(2.0, 1.0, 8.0, "diameter of the small flat on a tip")


def tip_foot_field() -> Any:
    """Declare the diameter [mm] of a tip at its foot."""
    return length(9.0, 2.0, 40.0, "diameter of a tip where it stands on the clay")


def arm_faults(size: Armed, *, arms: int, height: float) -> Iterator[Fault]:
    """Faults between the sizes of arms; `height` [mm] is that of the arms alone.

    Examples
    --------
    >>> from wadforms.families.stand import Stand
    >>> print(*arm_faults(Stand(draft=10), arms=5, height=40.0))
    inner: 6 mm was given; give at least 7.26 mm or 0: the walls lean out there
    """
    out = spread(height, size.draft, min(size.rounding, height))
    end = room(size.end, size.rounding)
    slope = math.tan(math.pi / arms)
    need = (size.width / 2 + room(size.inner, out)) / slope + end
    yield from at_least("width", size.width, 2 * end, f"for end {size.end:g} mm")
    yield from at_least("reach", size.reach, need, "so that the arms stand clear of each other")
    yield from edge_faults(
        height=height,
        draft=size.draft,
        rounding=size.rounding,
        half_width=size.width / 2,
        bends={"end": size.end},
        hollows={"inner": size.inner},
    )


def arms_outline(size: Armed, arms: int) -> Outline:
    """The outline of arms, the first along +y.

    Examples
    --------
    >>> from wadforms.families.stand import Stand
    >>> outline = arms_outline(Stand(arms=4, reach=30, width=10, end=0, inner=0, draft=0), 4)
    >>> outline.size, outline.area
    ((60.0, 60.0), 1100.0)
    """
    return Outline(star(arms, size.reach, size.width, size.end, size.inner))


def tip_faults(size: Pointed, *, count: int) -> Iterator[Fault]:
    """Faults between the sizes of tips and of what they stand on.

    Examples
    --------
    >>> from wadforms.families.stand import Stand
    >>> print(*tip_faults(Stand(width=9, end=0), count=5))
    width: 9 mm was given; give at least 10 mm so that the tips stand on it
    """
    need = size.tip_height + THINNEST
    yield from at_least("height", size.height, need, "for the tips and the clay below")
    lean = size.tip_height * math.tan(math.radians(size.draft))
    slant = size.tip_flat + 2 * max(lean, LEAST_BEND)
    why = "so that the tips lean as much as the draft"
    yield from at_least("tip_foot", size.tip_foot, slant, why)
    need = size.tip_foot + 2 * (size.rounding + RIM)
    yield from at_least("width", size.width, need, "so that the tips stand on it")
    apart = size.width / 2 + (size.tip_foot + RIM) / (2 * math.sin(math.pi / count))
    yield from at_least("reach", size.reach, apart, "so that the tips stand apart")


def tipped(size: Pointed, outline: Outline, *, count: int) -> Piece:
    """A flat piece with fine cones, cut off to small flats, half a width in from its end."""
    level = size.height - size.tip_height
    below = flat_topped(outline, level, size.draft, size.rounding)
    centres = around(count, size.reach - size.width / 2)
    flats = tuple(Outline.circle(size.tip_flat / 2, centre) for centre in centres)
    profile = ((level, (size.tip_foot - size.tip_flat) / 2), (size.height, 0.0))
    cones = tuple(Loft.drafted(flat, profile) for flat in flats)
    tips = Tips(flat_area=flats[0].area, base_area=math.pi * size.tip_foot**2 / 4)
    return Piece(outline, Body((*below.body.lofts, *cones)), flats, tips)


def around(count: int, radius: float) -> tuple[Point, ...]:
    """Points evenly on a circle about the origin [mm], the first along +y.

    Examples
    --------
    >>> [(round(x, 9) + 0.0, round(y, 9) + 0.0) for x, y in around(2, 30.0)]
    [(0.0, 30.0), (0.0, -30.0)]
    """
    angles = (math.pi / 2 + math.tau * k / count for k in range(count))
    return tuple((radius * math.cos(a), radius * math.sin(a)) for a in angles)
