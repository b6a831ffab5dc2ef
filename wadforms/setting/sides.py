"""A pot on its side: which way its axis lies, and how supports along it share the weight."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final, NamedTuple

from wadforms import units
from wadforms.errors import BadInput, Fault
from wadforms.geometry.contour import Point
from wadforms.setting.arrangement import Arrangement, Spot
from wadforms.setting.feet import SideFoot

LONG: Final = 2.0
"""Length over width from which a piece is a rail, whose own length keeps a pot in its line."""

APART: Final = 0.75
"""Distance along the axis of two pairs or cradles over the belly's diameter: within a belly as
long as it is wide (common practice, no source)."""

APART_OF_LENGTH: Final = 0.6
"""The same over the length that bears, where it is known: near 1/√3, at which a beam on two
supports has level ends (Airy, 1846; from memory)."""

SAME: Final = 0.1
"""Spots nearer than this [mm] stand in one place."""

_ALIKE = 0.5  # turns nearer than this are one turn [deg]


class Axis(NamedTuple):
    """The direction of a pot's axis in plan, through the pot's middle.

    Parameters
    ----------
    degrees : float
        From +x [deg].
    """

    degrees: float

    @property
    def along(self) -> Point:
        """Unit vector along it."""
        return math.cos(math.radians(self.degrees)), math.sin(math.radians(self.degrees))

    @property
    def across(self) -> Point:
        """Unit vector square to it, counter-clockwise."""
        x, y = self.along
        return -y, x

    def seen(self, point: Point) -> Point:
        """A point in plan as (along, across) [mm].

        Examples
        --------
        >>> [round(v, 9) for v in Axis(90.0).seen((3.0, 5.0))]
        [5.0, -3.0]
        """
        (ax, ay), (cx, cy) = self.along, self.across
        return point[0] * ax + point[1] * ay, point[0] * cx + point[1] * cy

    def plan(self, along: float, across: float) -> Point:
        """The point in plan that lies there along and across the axis [mm]."""
        (ax, ay), (cx, cy) = self.along, self.across
        return along * ax + across * cx, along * ay + across * cy

    def spot(self, spot: Spot) -> Spot:
        """A spot as seen with the axis along +x."""
        return Spot(*self.seen((spot.x, spot.y)), spot.turn - self.degrees)


def axis_of(arrangement: Arrangement) -> Axis:
    """The axis that the turns of the pieces give a pot laid on them.

    A cradle's channel runs along its own y.  A rail's long side lies along the axis; of shorter
    pieces two lie on a line square to it, and more have it along their own x.

    Raises
    ------
    BadInput
        The pieces lie along different axes.

    Examples
    --------
    >>> from wadforms.families.rail import Rail
    >>> from wadforms.setting.arrangement import circle
    >>> axis_of(Arrangement(Rail().piece(), tuple(circle(2, 40)))).degrees
    0.0
    """
    piece, spots = arrangement.piece, arrangement.spots
    size = piece.outline.size
    if piece.hollow_radius:
        own = 90.0
    elif max(size) < LONG * min(size):
        if len(spots) == 2:
            a, b = spots
            return Axis((math.degrees(math.atan2(b.y - a.y, b.x - a.x)) + 90.0) % 180.0)
        own = 0.0
    else:
        own = 0.0 if size[0] >= size[1] else 90.0
    first = spots[0].turn + own
    for spot in spots[1:]:
        off = abs((spot.turn + own - first + 90.0) % 180.0 - 90.0)
        if off > _ALIKE:
            given = f"turned {off:.3g}° from each other"
            right = "turn the pieces alike: a pot on its side has one axis"
            raise BadInput(Fault("wads", given, right))
    return Axis(first % 180.0)


class Line(NamedTuple):
    """Loads along a line of supports.

    Parameters
    ----------
    even : tuple of float
        Share of the weight on each, which sum to 1.
    worst : tuple of float
        The largest share that each can come to carry when any two carry everything.
    """

    even: tuple[float, ...]
    worst: tuple[float, ...]


def share_along(stations: Sequence[float], at: float) -> Line:
    """Share a weight over supports in one line, without tension.

    Two share by the lever rule, more like equal springs; one beyond which the weight lies takes
    all of it.

    Parameters
    ----------
    stations : sequence of float
        Where the supports stand along the line [mm], each at another place.
    at : float
        Where the weight acts [mm].

    Examples
    --------
    >>> share_along([-50.0, 50.0], 25.0).even, share_along([-50.0, 50.0], 60.0).even
    ((0.25, 0.75), (0.0, 1.0))
    >>> share_along([-50.0, 0.0, 50.0], 0.0).worst
    (0.5, 1.0, 0.5)
    """
    pressing = list(range(len(stations)))
    while True:
        shares = _springs([stations[k] for k in pressing], at)
        lowest = min(shares)
        if lowest >= 0.0:
            break
        del pressing[shares.index(lowest)]
    even = [0.0] * len(stations)
    for k, share in zip(pressing, shares, strict=True):
        even[k] = share
    return Line(tuple(even), tuple(_most(k, stations, at) for k in range(len(stations))))


def _springs(stations: Sequence[float], at: float) -> list[float]:
    count = len(stations)
    mean = math.fsum(stations) / count
    spread = math.fsum((s - mean) ** 2 for s in stations)
    if count == 1:
        return [1.0]
    return [1.0 / count + (s - mean) * (at - mean) / spread for s in stations]


def _most(k: int, stations: Sequence[float], at: float) -> float:
    """The most that one support carries with any other one."""
    here = stations[k]
    if len(stations) == 1 or math.isclose(here, at, abs_tol=1e-9):
        return 1.0
    if not min(stations) < at < max(stations):  # it hangs beyond the last, which takes all
        return float(here == min(stations, key=lambda s: abs(s - at)))
    beyond = [s for s in stations if (s - at) * (here - at) < 0.0 or s == at]
    return max(((s - at) / (s - here) for s in beyond), default=0.0)


def apart(foot: SideFoot) -> float:
    """How far two pairs or cradles are set from each other along the axis of a pot [mm].

    Examples
    --------
    >>> apart(SideFoot(120.0)), apart(SideFoot(120.0, 300.0))
    (90.0, 180.0)
    """
    return APART * foot.diameter if foot.length is None else APART_OF_LENGTH * foot.length


def bears_so_far(foot: SideFoot, arrangement: Arrangement) -> list[str]:
    """That a belly is taken to bear on all that lies along it, where nobody told its length.

    Examples
    --------
    >>> from wadforms.families.disk import Disk
    >>> pairs = tuple(Spot(x, y) for x in (45.0, -45.0) for y in (25.0, -25.0))
    >>> bears_so_far(SideFoot(120.0), Arrangement(Disk(diameter=16, height=8).piece(), pairs))
    ['the belly bears over 90 mm along its axis, between the outermost wads: look that it does']
    """
    axis = axis_of(arrangement)
    along = [axis.seen((spot.x, spot.y))[0] for spot in arrangement.spots]
    reach = max(along) - min(along)
    if foot.length is not None or reach <= SAME:
        return []
    far = units.show(reach, "mm")
    return [
        f"the belly bears over {far} along its axis, between the outermost wads: look that it does"
    ]
