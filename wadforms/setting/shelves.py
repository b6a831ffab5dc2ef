"""Shelves on posts: what each post carries, whether posts stand in line, what tips a shelf."""

from __future__ import annotations

import math
from collections.abc import Sequence

from wadforms.errors import BadInput, Fault
from wadforms.geometry.contour import Point
from wadforms.setting.load import even_share, worst_three
from wadforms.setting.stability import support_polygon


def post_loads(
    posts: Sequence[Point], force: float, centre: Point = (0.0, 0.0)
) -> tuple[float, ...] | None:
    """What each post must be able to carry [N].

    Three posts by statics; four or more by the worst three, since a kiln shelf is stiff and
    any three posts may be the tall ones.

    Parameters
    ----------
    posts : sequence of (float, float)
        In plan [mm].
    force : float
        Weight of the shelf and all that stands on it [N].
    centre : (float, float)
        Where it acts [mm].

    Returns
    -------
    tuple of float or None
        None where the shelf would tip off its posts.

    Examples
    --------
    >>> post_loads([(0, 0), (400, 0), (200, 300)], 300.0, (200, 100))
    (100.0, 100.0, 100.0)
    """
    loads = even_share if len(posts) == 3 else worst_three
    return loads(posts, force, centre)


def tipping_load(posts: Sequence[Point], own: float, centre: Point, place: Point) -> float:
    """The least weight at a place that tips a shelf off its posts, in the unit of `own`.

    Moments about the line through two neighbouring posts: the shelf's own weight on one side
    of it, the other on the far side.

    Parameters
    ----------
    posts : sequence of (float, float)
        In plan [mm].
    own : float
        Weight of the shelf with what stands on it [g].
    centre : (float, float)
        Where that acts [mm].
    place : (float, float)
        Where the other weight acts [mm].

    Returns
    -------
    float
        Infinite where the place lies within the posts, 0 where the shelf tips by itself [g].

    Source
    ------
    Lever rule.

    Examples
    --------
    >>> tipping_load([(0, 0), (400, 0), (200, 300)], 6000.0, (200, 100), (200, -50))
    12000.0
    """
    hull = support_polygon(posts)
    if len(hull) < 3:
        return 0.0
    least = math.inf
    for a, b in zip(hull, [*hull[1:], hull[0]], strict=True):
        inside, outside = _room(a, b, centre), -_room(a, b, place)
        if inside <= 0.0:
            return 0.0
        if outside > 0.0:
            least = min(least, own * inside / outside)
    return least


def stacked_loads(levels: Sequence[Sequence[float]]) -> list[tuple[float, ...]]:
    """Load on each post of each level, top level first, with all that stands above it [N].

    Parameters
    ----------
    levels : sequence of sequence of float
        What each level adds to each post [N], top level first; posts in the same order.

    Examples
    --------
    >>> stacked_loads([(50, 60, 70), (10, 10, 10)])
    [(50, 60, 70), (60, 70, 80)]

    Raises
    ------
    BadInput
        Two levels have different numbers of posts.
    """
    counts = [len(level) for level in levels]
    if len(set(counts)) > 1:
        right = "give every level the same posts, in the same order"
        raise BadInput(Fault("posts", " and ".join(map(str, counts)), right))
    sums: list[tuple[float, ...]] = []
    for level in levels:
        above = sums[-1] if sums else (0,) * len(level)
        sums.append(tuple(a + b for a, b in zip(above, level, strict=True)))
    return sums


def misalignment(above: Sequence[Point], below: Sequence[Point]) -> list[float]:
    """How far each post stands from the line of the nearest one below it [mm].

    Examples
    --------
    >>> misalignment([(0, 0), (300, 4)], [(0, 0), (303, 0)])
    [0.0, 5.0]

    Raises
    ------
    BadInput
        There is no post below.
    """
    if not below:
        raise BadInput(Fault("posts below", "none", "give the level that these posts stand on"))
    return [min(math.dist(p, q) for q in below) for p in above]


def _room(a: Point, b: Point, place: Point) -> float:
    """How far a place lies to the left of the line from a to b, times the line's length [mm²]."""
    return (b[0] - a[0]) * (place[1] - a[1]) - (b[1] - a[1]) * (place[0] - a[0])
