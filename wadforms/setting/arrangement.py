"""Where the wads go under a foot."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations
from typing import NamedTuple

from wadforms.families.base import Piece
from wadforms.geometry.outline import Outline

_ONE_CIRCLE = 0.1
"""Wads whose radii differ by no more than this [mm] stand on one circle."""


class Spot(NamedTuple):
    """The place of one wad: `x`, `y` [mm] from the pot's middle and `turn` [deg] of the piece."""

    x: float
    y: float
    turn: float = 0.0

    @property
    def radius(self) -> float:
        """Distance from the pot's middle [mm]."""
        return math.hypot(self.x, self.y)

    def place(self, outline: Outline) -> Outline:
        """An outline of the piece, put in this place."""
        return outline.turned(self.turn).moved(self.x, self.y)


@dataclass(frozen=True, slots=True)
class Arrangement:
    """Wads of one piece, each in its spot."""

    piece: Piece
    spots: tuple[Spot, ...]

    @property
    def overlapping(self) -> tuple[int, int] | None:
        """The first two wads whose bases would lie on each other, if any."""
        if len(self.spots) < 2:
            return None
        base = self.piece.body.base
        reach = 2 * max(math.hypot(x, y) for x in base.bounds[::2] for y in base.bounds[1::2])
        few = len(self.spots) <= 12  # beyond that the tree below is the quicker way
        near = (math.dist((a.x, a.y), (b.x, b.y)) for a, b in combinations(self.spots, 2))
        if few and min(near) > reach:
            return None
        import numpy as np
        import shapely

        turns = np.radians([spot.turn for spot in self.spots])
        cosines, sines = np.cos(turns), np.sin(turns)
        turned = np.stack([cosines, sines, -sines, cosines], axis=1).reshape(-1, 2, 2)
        shifts = np.array([(spot.x, spot.y) for spot in self.spots])
        one = base.polygon()
        points = shapely.get_coordinates(one) @ turned + shifts[:, None]
        bases = shapely.set_coordinates(np.repeat(one, len(turns)), points.reshape(-1, 2))
        tree = shapely.STRtree(bases)
        for i, j in zip(*tree.query(bases, predicate="intersects"), strict=True):
            if i < j and shapely.area(shapely.intersection(bases[i], bases[j])) > 1e-3:
                return int(i), int(j)
        return None


def circle(count: int, radius: float, *, first: float = 90.0, turn: float = 0.0) -> list[Spot]:
    """Spots evenly round a circle, each piece turned so that its own +y points outward.

    Parameters
    ----------
    count : int
        How many.
    radius : float
        Of the circle [mm]; 0 puts a single wad in the middle.
    first : float
        Direction of the first spot [deg], counter-clockwise from +x.
    turn : float
        Further turn of each piece [deg].

    Examples
    --------
    >>> [(round(s.x), round(s.y), s.turn) for s in circle(4, 10)]
    [(0, 10, 0.0), (-10, 0, 90.0), (0, -10, 180.0), (10, 0, 270.0)]
    """
    spots = []
    for k in range(count):
        direction = first + 360.0 * k / count
        angle = math.radians(direction)
        x, y = radius * math.cos(angle), radius * math.sin(angle)
        spots.append(Spot(x, y, direction - 90.0 + turn))
    return spots


def neighbour_spacing(spots: Sequence[Spot]) -> float | None:
    """The widest distance between neighbours, measured along the circles they stand on [mm].

    None where no circle has two wads.

    Examples
    --------
    >>> round(neighbour_spacing(circle(3, 180)), 1)
    377.0
    """
    gap = widest_gap(spots)
    return None if gap is None else gap[0]


def widest_gap(spots: Sequence[Spot]) -> tuple[float, float] | None:
    """The widest distance between neighbours along a circle, and that circle's radius [mm].

    Examples
    --------
    >>> [round(v, 1) for v in widest_gap(circle(16, 180) + circle(3, 90))]
    [188.5, 90.0]
    """
    circles: list[list[Spot]] = []
    for spot in sorted(spots, key=lambda spot: spot.radius):
        if circles and spot.radius - circles[-1][-1].radius <= _ONE_CIRCLE:
            circles[-1].append(spot)
        else:
            circles.append([spot])
    widest: tuple[float, float] | None = None
    for standing in circles:
        if len(standing) < 2:
            continue
        radius = standing[-1].radius
        directions = sorted(math.atan2(spot.y, spot.x) for spot in standing)
        following = [*directions[1:], directions[0] + math.tau]
        gap = radius * max(b - a for a, b in zip(directions, following, strict=True))
        widest = max(widest or (gap, radius), (gap, radius))
    return widest
