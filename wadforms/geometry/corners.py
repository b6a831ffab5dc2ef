"""Sharp hollow corners of an outline: where clay tears, and where walls take from both sides."""

from __future__ import annotations

import math
from typing import Final, NamedTuple

from wadforms.geometry.contour import Contour, Point
from wadforms.geometry.outline import Outline

LEAST_TURN: Final = math.radians(30.0)
"""A hollow corner that turns by less [rad] is a flat bend."""


class Corner(NamedTuple):
    """A sharp hollow corner.

    Parameters
    ----------
    at : (float, float)
        Where it is [mm].
    turn : float
        By how much the outline turns there [rad].
    """

    at: Point
    turn: float


def hollow_corners(outline: Outline) -> list[Corner]:
    """The sharp hollow corners of an outline; in a hole every corner is hollow that stands out.

    Parameters
    ----------
    outline : Outline
        Counted in mm.

    Examples
    --------
    >>> angle = [(0, 0), (40, 0), (40, 12), (12, 12), (12, 40), (0, 40)]
    >>> found = hollow_corners(Outline(Contour.polygon(angle)))
    >>> [(corner.at, round(math.degrees(corner.turn))) for corner in found]
    [((12.0, 12.0), 90)]
    """
    ways = ((1.0, outline.outer), *((-1.0, hole) for hole in outline.holes))
    return [corner for way, contour in ways for corner in _corners(contour, way)]


def _corners(contour: Contour, way: float) -> list[Corner]:
    found = []
    segments = contour.segments
    for before, after in zip((segments[-1], *segments[:-1]), segments, strict=True):
        turn = math.remainder(after.heading(at_end=False) - before.heading(at_end=True), math.tau)
        if turn * way < -LEAST_TURN:
            found.append(Corner(after.start, abs(turn)))
    return found
