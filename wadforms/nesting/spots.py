"""Where copies of an outline lie, and whether they lie apart and inside."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import lru_cache
from typing import Final, NamedTuple

from wadforms.geometry.contour import Contour
from wadforms.geometry.outline import Outline

SLACK: Final = 1e-6
"""What a distance may fall short by, from rounding alone [mm]."""

_CHORD: Final = 1e-5  # between an arc and the polygon that stands for it in a check [mm]


class Spot(NamedTuple):
    """Where one copy lies.

    Parameters
    ----------
    x, y : float
        By how much the outline is moved, after its turn [mm].
    turn : float
        By how much it is turned about its origin first, counter-clockwise [deg].
    """

    x: float
    y: float
    turn: float

    def place(self, outline: Outline) -> Outline:
        """A copy of the outline, put in this place."""
        return outline.turned(self.turn).moved(self.x, self.y)


class Nest(NamedTuple):
    """Copies of an outline on a rectangle that starts at the origin.

    Parameters
    ----------
    spots : tuple of Spot
        One a copy, row by row.
    width, height : float
        What they take up along x and y, from 0 [mm].
    how : str
        In plain words: ``"square rows"``, ``"staggered rows"``, ``"rows"``, ``"rows turned by
        halves"`` or ``"nested"``; of two blocks that differ, both, joined by ``" and "``.
    """

    spots: tuple[Spot, ...]
    width: float
    height: float
    how: str


EMPTY: Final = Nest((), 0.0, 0.0, "rows")
"""No copy at all."""


def settled(outline: Outline, spots: Iterable[Spot], how: str) -> Nest:
    """The spots moved together until they start at the origin, with what they take up.

    Parameters
    ----------
    outline : Outline
        What lies there [mm].
    spots : iterable of Spot
        In any place [mm].
    how : str
        How they were found.

    Examples
    --------
    >>> block = settled(Outline.circle(5), [Spot(105, 7, 0), Spot(117, 7, 0)], "square rows")
    >>> block.spots[1], block.width, block.height
    (Spot(x=17.0, y=5.0, turn=0), 22.0, 10.0)
    """
    spots = tuple(spots)
    if not spots:
        return EMPTY
    x0, y0, x1, y1 = extent(outline, spots)
    moved = (Spot(s.x - x0, s.y - y0, s.turn) for s in spots)
    return Nest(tuple(moved), x1 - x0, y1 - y0, how)


def extent(outline: Outline, spots: Sequence[Spot]) -> tuple[float, float, float, float]:
    """Smallest x, smallest y, largest x, largest y of all copies [mm], arcs included.

    Parameters
    ----------
    outline : Outline
        What lies there [mm].
    spots : sequence of Spot
        At least one [mm].
    """
    bounds = {turn: _bounds(outline.outer, turn) for turn in {s.turn for s in spots}}
    return (
        min(bounds[s.turn][0] + s.x for s in spots),
        min(bounds[s.turn][1] + s.y for s in spots),
        max(bounds[s.turn][2] + s.x for s in spots),
        max(bounds[s.turn][3] + s.y for s in spots),
    )


@lru_cache(maxsize=512)
def _bounds(contour: Contour, turn: float) -> tuple[float, float, float, float]:
    return Outline(contour).turned(turn).bounds


def are_apart(outline: Outline, spots: Sequence[Spot], gap: float) -> bool:
    """Whether no two copies come nearer to each other than `gap` [mm].

    Holes count as filled: nothing is put into them.

    Examples
    --------
    >>> two = [Spot(0, 0, 0), Spot(12, 0, 90)]
    >>> are_apart(Outline.circle(5), two, 2.0), are_apart(Outline.circle(5), two, 2.1)
    (True, False)
    """
    import numpy as np
    import shapely
    from shapely import affinity

    polygon = Outline(outline.outer).polygon(_CHORD)
    turned = {
        turn: affinity.rotate(polygon, turn, origin=(0.0, 0.0)) for turn in {s.turn for s in spots}
    }
    placed = np.array([affinity.translate(turned[s.turn], s.x, s.y) for s in spots])
    tree = shapely.STRtree(placed)
    first, second = tree.query(placed, predicate="dwithin", distance=gap)
    pairs = first < second
    a, b = placed[first[pairs]], placed[second[pairs]]
    far = bool((shapely.distance(a, b) >= gap - 2 * _CHORD - SLACK).all())
    # Without a gap, copies that lie over each other are at distance 0 like those that touch.
    return far and (gap > 0.1 or bool((shapely.area(shapely.intersection(a, b)) <= 1e-3).all()))
