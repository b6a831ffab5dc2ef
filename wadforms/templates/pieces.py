"""One piece in plan and from the side, at any scale and place on a sheet."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from typing import Final

from wadforms.families.base import Piece
from wadforms.geometry.body import Bowl, Loft, Trough
from wadforms.geometry.contour import Contour, Point
from wadforms.geometry.outline import Outline
from wadforms.templates import look
from wadforms.templates.drawing import Circle, Item, Lines, Region, Style

_LEAST_DOT: Final = 0.6  # radius at which a tip is still seen on paper [mm]


def plan(piece: Piece, centre: Point, scale: float) -> Iterator[Item]:
    """Yield a piece seen from above.

    The foot of the drafted walls is palest, the top darker, what bears darkest; tips are dots,
    pockets are left white.

    Parameters
    ----------
    piece : Piece
        What to draw.
    centre : (float, float)
        Where the middle of its base comes to lie on the sheet [mm].
    scale : float
        Length on the sheet over true length.
    """
    x0, y0, x1, y1 = piece.body.base.bounds
    dx, dy = centre[0] - scale * (x0 + x1) / 2, centre[1] - scale * (y0 + y1) / 2

    def at(outline: Outline) -> Outline:
        return outline.scaled(scale).moved(dx, dy)

    yield Region(at(piece.body.base), look.BASE)
    yield Region(at(piece.outline), look.PLAIN)
    for loft in piece.body.lofts[1:]:
        yield Region(at(loft.bottom[1]), look.HAIR)
    if not piece.tips:
        for face in piece.faces:
            yield Region(at(face), look.BEARING)
    for pocket in piece.body.pockets:
        match pocket:
            case Loft():
                yield Region(at(pocket.top[1]), look.POCKET)
            case Bowl(x, y, _, radius, _):
                yield Region(at(Outline.circle(radius, (x, y))), look.POCKET)
            case Trough(_, _, half, length, _):
                ends = (-half, half)
                spans = [((x, -length / 2), (x, length / 2)) for x in (*ends, 0.0)]
                moved = [tuple((scale * x + dx, scale * y + dy) for x, y in span) for span in spans]
                lips = ((moved[0][0], moved[0][1]), (moved[1][0], moved[1][1]))
                yield Lines(lips, look.FINE)
                yield Lines(((moved[2][0], moved[2][1]),), look.CENTRE)
    if piece.tips:
        for face in piece.faces:
            left, low, right, high = face.bounds
            radius = max(_LEAST_DOT, scale * (right - left) / 2)
            middle = (scale * (left + right) / 2 + dx, scale * (low + high) / 2 + dy)
            yield Circle(middle, radius, look.SOLID)


def side(
    piece: Piece,
    origin: Point,
    scale: float,
    *,
    degrees: float = 0.0,
    style: Style = look.PLAIN,
) -> Iterator[Item]:
    """Yield a piece seen from its −y side, hidden pockets dashed.

    Parameters
    ----------
    piece : Piece
        What to draw.
    origin : (float, float)
        Where the piece's own origin comes to lie on the sheet [mm].
    scale : float
        Length on the sheet over true length.
    degrees : float
        By how much the piece is turned counter-clockwise, from above, before it is looked at.
    style : Style
        Of the body.
    """

    def at(x: float, z: float) -> Point:
        return origin[0] + scale * x, origin[1] + scale * z

    for loft in piece.body.lofts:
        yield Region(_silhouette(loft, degrees, at), style)
    if piece.tips and piece.tips.rise:
        top = piece.body.height
        for face in piece.faces:
            x = _middle(face.turned(degrees))
            yield Lines(((at(x, top), at(x, top + piece.tips.rise)),), look.EDGE)
    for pocket in piece.body.pockets:
        match pocket:
            case Loft():
                yield Region(_silhouette(pocket, degrees, at), look.HIDDEN)
            case Bowl(x, y, z, radius, depth):
                middle = _middle(Outline.circle(radius, (x, y)).turned(degrees))
                yield Region(_cap(middle, z, radius, depth, at), look.HIDDEN)
            case Trough() as trough if abs(math.sin(math.radians(degrees))) < 1e-6:
                yield Region(_cap(0.0, trough.z, trough.half_width, trough.depth, at), look.POCKET)
            case Trough() as trough:
                level, reach = trough.z - trough.depth, trough.length / 2
                turn = abs(math.sin(math.radians(degrees)))
                yield Lines(((at(-reach * turn, level), at(reach * turn, level)),), look.HIDDEN)


def _middle(outline: Outline) -> float:
    x0, _, x1, _ = outline.bounds
    return (x0 + x1) / 2


def _silhouette(loft: Loft, degrees: float, at: Callable[[float, float], Point]) -> Outline:
    """What a loft covers, seen along y: its extent at each level."""
    extents = [(z, section.turned(degrees).bounds) for z, section in loft.sections]
    left = [(bounds[0], z) for z, bounds in extents]
    right = [(bounds[2], z) for z, bounds in extents]
    points = [at(x, z) for x, z in (*right, *reversed(left))]
    return Outline(Contour.polygon(list(dict.fromkeys(points))))


def _cap(
    x: float, z: float, half: float, depth: float, at: Callable[[float, float], Point]
) -> Outline:
    """The section of a round pocket that opens at the level `z`."""
    # A chord of 2 a under which the arc hangs by d has the bulge d/a.
    return Outline(Contour((at(x - half, z), at(x + half, z)), (depth / half, 0.0)))
