"""Shelves on posts: what each post carries, level by level, and whether posts stand in line."""

from __future__ import annotations

import math
from collections.abc import Sequence

from wadforms.errors import BadInput, Fault
from wadforms.geometry.contour import Point
from wadforms.setting.load import even_share, worst_three


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
