"""Words sunk into the face that a round plate is printed on, to be read from below."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final, NamedTuple

from wadforms.geometry.outline import Outline
from wadforms.moulds.lettering import STROKE, lettering
from wadforms.moulds.part import Box, Placed, prism

_CLEAR: Final = 2.0  # between the words and whatever is beside them [mm]

_DEPTHS: Final = 10  # depths of the field that are tried


class _Field(NamedTuple):
    """What fits a field: letters, and how far its middle is from that of the plate."""

    drawn: tuple[Outline, ...]
    away: float


def beneath(
    lines: Sequence[str],
    taken: Box,
    *,
    radius: float,
    deep: float,
    letters: float,
    nozzle: float,
) -> tuple[Placed, ...]:
    """The letters as bodies to cut out of a plate's underside, where it is widest.

    Parameters
    ----------
    lines : sequence of str
        What it says; lines that find no room are left out, the last ones first.
    taken : tuple of float
        A box around the plate's openings, the plate's middle on the origin [mm].
    radius, deep : float
        Of the circle that the words keep within, and how deep they are sunk [mm].
    letters, nozzle : float
        Height of capitals at most, 0 for none, and width of a printed line [mm].

    Examples
    --------
    >>> box = (-10, -10, 0, 10, 10, 8)
    >>> found = beneath(["tee"], box, radius=45, deep=0.4, letters=5, nozzle=0.4)
    >>> len(found), {placed.over for placed in found}
    (3, {True})
    """
    least = max(nozzle / STROKE, 2.0)
    if letters < least or deep <= 0.0 or not lines:
        return ()
    x0, y0, _, x1, y1, _ = taken
    # How far the openings come, the turn that brings a field from below them to that side.
    ways = (-y0, 0.0), (y1, 180.0), (x1, 90.0), (-x0, 270.0)
    near, turn = min(ways, key=lambda way: (round(way[0], 3), way[1]))
    near += _CLEAR
    fields = [
        _field(way, near, depth, radius, letters, least)
        for way in (tuple(lines), (" · ".join(lines),))
        for depth in ((radius - near) * k / _DEPTHS for k in range(1, _DEPTHS))
        if radius > near
    ]
    best = max(fields, key=lambda f: (len(f.drawn), sum(o.area for o in f.drawn)), default=None)
    if best is None:
        return ()
    # Seen from below, left and right change over: the words are turned over as they stand.
    bodies = (prism(outline.moved(0.0, -best.away), deep) for outline in best.drawn)
    return tuple(Placed(letter, z=deep, turn=turn, over=True) for letter in bodies)


def _field(
    lines: tuple[str, ...], near: float, depth: float, radius: float, letters: float, least: float
) -> _Field:
    """Words in the largest rectangle of a depth that lies between a line and the circle."""
    width = 2 * math.sqrt(radius**2 - (near + depth) ** 2)
    drawn = lettering(lines, width=width, depth=depth, letters=letters, least=least)
    return _Field(drawn, near + depth / 2)
