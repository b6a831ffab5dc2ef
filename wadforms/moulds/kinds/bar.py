"""Straight pieces as bars of one section, which an extruder gives."""

from __future__ import annotations

import math
from typing import Final, NamedTuple

from wadforms.families.base import Piece
from wadforms.families.flat import box
from wadforms.geometry.body import Body, Loft
from wadforms.geometry.contour import Contour
from wadforms.geometry.outline import Outline
from wadforms.moulds.base import flat_top

LONG: Final = 1.5
"""A bar is so many times as long as wide at least."""


class Bar(NamedTuple):
    """A straight piece with one section along its length.

    Parameters
    ----------
    section : Outline
        Across it, base down, the middle of its base on the origin [mm].
    body : Body
        The bar, cut square at both ends, x along it [mm].
    """

    section: Outline
    body: Body


def bar(piece: Piece) -> Bar | None:
    """A piece as a bar that is cut square; None where it is none.

    Its outline is a rectangle at least 1.5 times as long as wide, whose ends may be rounded; a
    bar is as long as the bearing face, and its section is that of the piece at the middle.

    Examples
    --------
    >>> from wadforms.families import family
    >>> rail = family("rail")(length=80, width=10, height=10, draft=0).piece()
    >>> bar(rail).section.area, bar(rail).body.base.size
    (100.0, (80.0, 10.0))
    >>> bar(family("tee")().piece()) is None
    True
    """
    if not flat_top(piece) or (turn := _straight(piece.outline)) is None:
        return None
    half = piece.outline.turned(turn).size[0] / 2
    levels = [(z, outline.turned(turn).size[1] / 2) for z, outline in piece.body.lofts[0].sections]
    right = [(w, z) for z, w in levels]
    section = Outline(Contour.polygon(right + [(-w, z) for w, z in reversed(right)]))
    body = Body((Loft(tuple((z, box(-half, half, w)) for z, w in levels)),))
    return Bar(section, body)


def _straight(outline: Outline) -> float | None:
    """By how much a rectangle, its ends rounded or not, is turned to lie along x [deg]."""
    from shapely import affinity

    sides = [s for s in outline.outer.segments if not s.bulge]
    if outline.holes or not sides:
        return None
    turn = -math.degrees(max(sides, key=lambda s: s.chord).heading(at_end=False))
    laid = outline.turned(turn)
    x0, y0, x1, y1 = laid.bounds
    long, wide = laid.size
    straight = long - wide * (1.0 + 1e-6)
    for level in (y0, y1):
        lines = (s for s in laid.outer.segments if not s.bulge)
        on = (s.chord for s in lines if max(abs(s.start[1] - level), abs(s.end[1] - level)) < 1e-6)
        if sum(on) < straight:
            return None
    # Ends may be as round as half circles, and are alike.
    missing = long * wide - laid.area
    polygon = laid.polygon()
    other = affinity.scale(polygon, -1.0, 1.0, origin=((x0 + x1) / 2, (y0 + y1) / 2))
    alike = polygon.symmetric_difference(other).area < 1e-3 * laid.area
    rounded = missing <= (1.0 - math.pi / 4) * wide**2 * (1.0 + 1e-6)
    bulging = polygon.convex_hull.area - polygon.area < 1e-3 * laid.area
    return turn if alike and rounded and bulging and long >= LONG * wide * (1.0 - 1e-9) else None
