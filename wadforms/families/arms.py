"""What tripods and stands share: arms from a centre, and fine tips on them."""

from __future__ import annotations

import math
from collections.abc import Iterator

from wadforms.errors import Fault
from wadforms.families.base import Piece, Tips, flat_topped
from wadforms.families.relations import LEAST_BEND, at_least, edge_faults, room, spread
from wadforms.geometry.body import Body, Loft
from wadforms.geometry.construct import star
from wadforms.geometry.contour import Point
from wadforms.geometry.outline import Outline

THINNEST = 3.0
"""Least height of arms or plate under tips [mm] (assumed)."""

RIM = 0.5
"""Least width of flat clay round the foot of a tip [mm]: a tip on the very edge chips (assumed)."""


def arm_faults(
    *,
    arms: int,
    reach: float,
    width: float,
    end: float,
    inner: float,
    height: float,
    draft: float,
    rounding: float,
) -> Iterator[Fault]:
    """Faults between the sizes of arms [mm, deg]; `height` is that of the arms alone."""
    out = spread(height, draft, min(rounding, height))
    slope = math.tan(math.pi / arms)
    need = (width / 2 + room(inner, out)) / slope + room(end, rounding)
    yield from at_least("width", width, 2 * room(end, rounding), f"for end {end:g} mm")
    yield from at_least("reach", reach, need, "so that the arms stand clear of each other")
    yield from edge_faults(
        height=height,
        draft=draft,
        rounding=rounding,
        half_width=width / 2,
        bends={"end": end},
        hollows={"inner": inner},
    )


def arms_outline(arms: int, reach: float, width: float, end: float, inner: float) -> Outline:
    """The outline of arms, the first along +y [mm]."""
    return Outline(star(arms, reach, width, end, inner))


def tip_faults(
    *,
    count: int,
    reach: float,
    width: float,
    height: float,
    draft: float,
    rounding: float,
    tip_height: float,
    tip_flat: float,
    tip_foot: float,
) -> Iterator[Fault]:
    """Faults between the sizes of tips and of what they stand on [mm, deg]."""
    yield from at_least("height", height, tip_height + THINNEST, "for the tips and the clay below")
    slant = tip_flat + 2 * max(tip_height * math.tan(math.radians(draft)), LEAST_BEND)
    yield from at_least("tip_foot", tip_foot, slant, "so that the tips lean as much as the draft")
    need = tip_foot + 2 * (rounding + RIM)
    yield from at_least("width", width, need, "so that the tips stand on it")
    apart = width / 2 + (tip_foot + RIM) / (2 * math.sin(math.pi / count))
    yield from at_least("reach", reach, apart, "so that the tips stand apart")


def tipped(
    outline: Outline,
    centres: tuple[Point, ...],
    *,
    height: float,
    draft: float,
    rounding: float,
    tip_height: float,
    tip_flat: float,
    tip_foot: float,
) -> Piece:
    """A flat piece with a fine cone at each of `centres`, cut off to a small flat [mm, deg]."""
    level = height - tip_height
    below = flat_topped(outline, level, draft, rounding)
    flats = tuple(Outline.circle(tip_flat / 2, centre) for centre in centres)
    profile = ((level, (tip_foot - tip_flat) / 2), (height, 0.0))
    cones = tuple(Loft.drafted(flat, profile) for flat in flats)
    tips = Tips(flat_area=flats[0].area, base_area=math.pi * tip_foot**2 / 4)
    return Piece(outline, Body((*below.body.lofts, *cones)), flats, tips)


def around(count: int, radius: float) -> tuple[Point, ...]:
    """Points evenly on a circle about the origin [mm], the first along +y."""
    angles = (math.pi / 2 + math.tau * k / count for k in range(count))
    return tuple((radius * math.cos(a), radius * math.sin(a)) for a in angles)
