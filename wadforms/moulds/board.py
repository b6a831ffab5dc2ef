"""Lays cavities on a board, and builds the block that they are sunk into.

A block has upright sides with bevelled corners, a relief along its lower edge, and a ledge on
one side to hold it by, lower than the rim so that a blade passes over it; the ledge carries the
label.
"""

from __future__ import annotations

import math
from typing import Final, NamedTuple, TypeAlias

from wadforms import units
from wadforms.errors import BadInput, Fault, NotMakeable
from wadforms.geometry.body import Body, Loft
from wadforms.geometry.contour import Contour, Point
from wadforms.geometry.outline import Outline
from wadforms.moulds.part import Placed, prism
from wadforms.nesting import Nest, Spot, compact, largest_factor, nest

_LEAST_LEDGE: Final = 36.0  # a hand and a label want this much along a ledge [mm]

_LEAST_DEPTH: Final = 3.0  # of a ledge [mm]: the relief would take the corners of a lower one

MOST: Final = 1000
"""Cavities of one board at most; more take minutes to prove."""

FRONT: Final = "front"
RIGHT: Final = "right"


class Board(NamedTuple):
    """How many pieces one mould makes, and the bed that it is printed on.

    Parameters
    ----------
    pieces : int or None
        How many; None for as many as the bed takes.
    bed : tuple of float or None
        Width and depth of the printer's bed [mm]; None where it does not matter.
    margin : float
        Kept free along the bed's edges [mm].
    seconds : float
        How long to look for a tighter order than rows [s].
    """

    pieces: int | None = 1
    bed: tuple[float, float] | None = None
    margin: float = 5.0
    seconds: float = 0.0

    @property
    def printable(self) -> tuple[float, float] | None:
        """Width and depth that may be printed on [mm]."""
        return self.bed and (self.bed[0] - 2 * self.margin, self.bed[1] - 2 * self.margin)


class Laid(NamedTuple):
    """Pieces in their places about the middle of a block.

    Parameters
    ----------
    spots : tuple of Spot
        Where each outline goes.
    width, depth : float
        Of the block, its ledge aside [mm].
    ledge_side : str
        Where the ledge is; empty where there is none.
    longest_ledge : float
        What the bed leaves for it along its side [mm].
    """

    spots: tuple[Spot, ...]
    width: float
    depth: float
    ledge_side: str
    longest_ledge: float = math.inf


def lay(outline: Outline, board: Board, *, wall: float, rim: float, ledge: float) -> Laid:
    """Lay as many outlines on a board as are asked for, or as it takes.

    Parameters
    ----------
    outline : Outline
        What must stay apart: the mouth of a cavity [mm].
    board : Board
        How many, on which bed; fewer are laid where the bed takes fewer.
    wall : float
        Between two outlines at least [mm].
    rim : float
        Around all of them [mm].
    ledge : float
        Depth of the ledge [mm], 3 mm at least; 0 for none.

    Raises
    ------
    BadInput
        The ledge is too narrow to be one.
    NotMakeable
        Not even one fits; the message names the largest size that does.

    Examples
    --------
    >>> laid = lay(Outline.circle(10), Board(pieces=4), wall=3, rim=5, ledge=0)
    >>> len(laid.spots), laid.width, laid.depth
    (4, 53.0, 53.0)
    """
    if 0.0 < ledge < _LEAST_DEPTH:
        right = f"give 0 for none, or at least {_LEAST_DEPTH:g} mm"
        raise BadInput(Fault("ledge", units.show(ledge, "mm"), right))
    side = FRONT if ledge else ""
    if board.printable is None:
        found = compact(outline, gap=wall, count=board.pieces or 1, around=rim)
        return _centred(found, rim, side)
    width, depth = board.printable
    best: tuple[int, Nest, str] | None = None
    for where in (FRONT, RIGHT) if ledge else ("",):
        room = (
            width - 2 * rim - (ledge if where == RIGHT else 0.0),
            depth - 2 * rim - (ledge if where == FRONT else 0.0),
        )
        if min(room) <= 0.0:
            continue
        found = nest(
            outline, gap=wall, width=room[0], height=room[1], count=board.pieces or MOST,
            seconds=board.seconds,
        )  # fmt: skip
        if found.spots and (best is None or len(found.spots) > best[0]):
            best = len(found.spots), found, where
    if best is None:
        raise NotMakeable(_too_large(outline, board, board.printable, rim=rim, ledge=ledge))
    longest = depth if best[2] == RIGHT else width
    return _centred(best[1], rim, best[2])._replace(longest_ledge=longest)


def _centred(found: Nest, rim: float, side: str) -> Laid:
    dx, dy = found.width / 2, found.height / 2
    spots = tuple(Spot(s.x - dx, s.y - dy, s.turn) for s in found.spots)
    return Laid(spots, found.width + 2 * rim, found.height + 2 * rim, side)


def _too_large(
    outline: Outline, board: Board, room: tuple[float, float], *, rim: float, ledge: float
) -> str:
    """That one does not fit, and what would."""
    width, depth = room[0] - 2 * rim, room[1] - 2 * rim
    rooms = [(width, depth - ledge), (width - ledge, depth)]
    factor = max(
        (largest_factor(outline, width=w, height=h) for w, h in rooms if min(w, h) > 0.0),
        default=0.0,
    )
    bed = " × ".join(f"{side + 2 * board.margin:g}" for side in room)
    size = units.show_extent(outline.size)
    around = f"with {board.margin:g} mm free along its edges and a rim of {round(rim, 1):g} mm"
    if ledge:
        around += f" and a ledge of {ledge:g} mm"
    if factor <= 0.0:
        return f"a bed of {bed} mm is too small for any mould, {around}"
    factor = math.floor(factor * 1000) / 1000  # rounded up, it would not fit
    most = " × ".join(f"{math.floor(side * factor * 10) / 10:g}" for side in outline.size)
    return (
        f"one cavity of {size} does not fit a bed of {bed} mm at any turn, {around}: the largest "
        f"of this shape that fits is {factor:.3f} of it, {most} mm at its mouth"
    )


Field: TypeAlias = tuple[float, float, float, float, float, float]
"""Middle x, middle y, level z, length and depth of a place for words, and their turn [mm, deg]."""


class Block(NamedTuple):
    """The block of a board.

    Parameters
    ----------
    solids : tuple of Placed
        The block and its ledge.
    field : tuple of float
        Middle x, middle y, level z, length and depth of the place for a label, and the turn of
        its lines [mm, deg]; length 0 where there is no ledge.
    """

    solids: tuple[Placed, ...]
    field: Field


def block(
    laid: Laid, *, height: float, wall: float, ledge: float, ledge_height: float, relief: float
) -> Block:
    """The block for what was laid, standing on z = 0.

    Parameters
    ----------
    laid : Laid
        The places of the cavities.
    height : float
        Of the block [mm].
    wall : float
        That the bevels of the corners must leave [mm].
    ledge, ledge_height, relief : float
        Depth and height of the ledge, the block's height at most; height of the relief [mm].

    Examples
    --------
    >>> laid = lay(Outline.circle(10), Board(), wall=3, rim=3, ledge=0)
    >>> made = block(laid, height=10, wall=3, ledge=0, ledge_height=0, relief=0)
    >>> round(made.solids[0].body.volume, 3)  # 26 x 26 less four corners
    6698.234
    """
    x, y = laid.width / 2, laid.depth / 2
    rim = _octagon(-x, -y, x, y, wall * (2.0 - math.sqrt(2.0)))
    if not laid.ledge_side:
        whole = Placed(standing(rim, height, relief))
        return Block((whole,), (0.0, 0.0, height, 0.0, 0.0, 0.0))
    sideways = laid.ledge_side == RIGHT
    length = max((laid.depth if sideways else laid.width) - 2 * wall, _LEAST_LEDGE)
    length = min(length, laid.longest_ledge)
    near = x if sideways else y
    # Drawn below the block, then turned where it belongs.
    corners = tongue(length / 2, -near, ledge)
    if sideways:
        corners = [(-py, px) for px, py in corners]
    ground = _joined(rim, Outline(Contour.polygon(corners)))
    solids: tuple[Placed, ...] = (Placed(standing(ground, ledge_height, relief)),)
    if ledge_height < height:
        solids += (Placed(prism(rim, height - ledge_height), z=ledge_height),)
    return Block(solids, words_field(length, near, ledge, ledge_height, sideways=sideways))


def tongue(half: float, edge: float, ledge: float) -> list[Point]:
    """Corners of a ledge below a block, its outer ones bevelled, from the left [mm].

    Parameters
    ----------
    half, edge, ledge : float
        Half its length, the y of the block's lower side, and its depth [mm].

    Examples
    --------
    >>> tongue(20, -10, 6)
    [(-20, -10), (-20, -14.0), (-18.0, -16), (18.0, -16), (20, -14.0), (20, -10)]
    """
    bevel, far = min(3.0, ledge / 3), edge - ledge
    left = [(-half, edge), (-half, far + bevel), (bevel - half, far)]
    return left + [(-x, y) for x, y in reversed(left)]


def words_field(length: float, near: float, ledge: float, level: float, *, sideways: bool) -> Field:
    """The place for a label on a ledge.

    Parameters
    ----------
    length, ledge : float
        Of the ledge, along it and across [mm].
    near, level : float
        How far from the block's middle it begins, and how high its top is [mm].
    sideways : bool
        Whether it is on the right, its lines turned by a quarter.

    Examples
    --------
    >>> words_field(40, 10, 12, 5, sideways=False)
    (0.0, -16.0, 5, 36.0, 9.0, 0.0)
    """
    middle = (near + ledge / 2, 0.0) if sideways else (0.0, -near - ledge / 2)
    return (*middle, level, length - 4.0, ledge - 3.0, 90.0 if sideways else 0.0)


def _octagon(x0: float, y0: float, x1: float, y1: float, c: float) -> Outline:
    """A rectangle with bevelled corners.

    A corner of a mouth may lie in the corner of its box: a bevel of `c` leaves the full wall.
    """
    corners: list[Point] = [(x0 + c, y0), (x1 - c, y0), (x1, y0 + c), (x1, y1 - c)]
    corners += [(x1 - c, y1), (x0 + c, y1), (x0, y1 - c), (x0, y0 + c)]
    return Outline(Contour.polygon(corners))


def _joined(a: Outline, b: Outline) -> Outline:
    """One outline around two of straight lines that share a side."""
    from shapely import orient_polygons, union

    whole = orient_polygons(union(a.polygon(), b.polygon()).simplify(0.0))
    return Outline(Contour.polygon(list(whole.exterior.coords)[:-1]))


def standing(outline: Outline, height: float, relief: float) -> Body:
    """A prism on the bed, bevelled along its lower edge where a first layer spreads.

    Parameters
    ----------
    outline : Outline
        Of the prism [mm].
    height, relief : float
        Of the prism and of the bevel [mm].

    Examples
    --------
    >>> round(standing(Outline.circle(10), 6, 0.5).base.size[0], 9)
    19.0
    """
    if relief == 0.0:
        return prism(outline, height)
    foot = outline.offset(-relief)
    return Body((Loft(((0.0, foot), (relief, outline), (height, outline))),))
