"""Splits an order over boards: the same board printed several times, and a smaller last one."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Final, NamedTuple

from wadforms.moulds.base import Kind, Order
from wadforms.moulds.part import Mould

_MOST_LARGER: Final = 128  # a bed that must be larger by more than this [mm] is not looked for


class Run(NamedTuple):
    """A mould, and how often it is printed.

    Parameters
    ----------
    mould : Mould
        One board.
    times : int
        How many of it.
    """

    mould: Mould
    times: int


def runs(kind: Kind, order: Order) -> tuple[Run, ...]:
    """The boards that give as many cavities as an order asks for.

    Parameters
    ----------
    kind : Kind
        How they are made.
    order : Order
        Its board tells how many cavities, on which bed.

    Raises
    ------
    BadInput, NotMakeable
        See `Kind.make`.

    Examples
    --------
    >>> from wadforms.families import family
    >>> from wadforms.moulds.board import Board
    >>> from wadforms.moulds.kinds.tray import Tray
    >>> disk = family("disk")(diameter=40, height=8).piece()
    >>> found = runs(Tray(), Order(disk, 0.05, board=Board(pieces=20, bed=(150, 150))))
    >>> [(run.mould.cavities, run.times) for run in found]
    [(6, 3), (2, 1)]
    """
    first = kind.make(order)
    wanted = order.board.pieces
    if wanted is None or first.cavities >= wanted or kind.lasting:
        return (Run(first, 1),)
    times, rest = divmod(wanted, first.cavities)
    if not rest:
        return (Run(first, times),)
    last = kind.make(order._replace(board=order.board._replace(pieces=rest)))
    # A pusher serves all boards.
    further = tuple(part for part in last.parts if not part.once)
    return Run(first, times), Run(replace(last, parts=further), 1)


def one_bed(kind: Kind, order: Order) -> tuple[float, float] | None:
    """A bed a little larger than the one given, which takes all cavities of an order at once.

    Parameters
    ----------
    kind : Kind
        How they are made.
    order : Order
        Its board tells how many cavities, and a bed that takes fewer.

    Returns
    -------
    tuple of float or None
        Its sides, each larger by the same whole number of mm; None where more than 128 mm would
        be wanted.

    Examples
    --------
    >>> from wadforms.families import family
    >>> from wadforms.moulds.board import Board
    >>> from wadforms.moulds.kinds.tray import Tray
    >>> disk = family("disk")(diameter=40, height=8).piece()
    >>> bed = one_bed(Tray(), Order(disk, 0.05, board=Board(pieces=7, bed=(150, 150))))
    >>> bed is not None and 150 < bed[0] < 200
    True
    """
    board = order.board
    wanted = board.pieces
    if board.bed is None or wanted is None:
        return None
    wide, deep = board.bed

    def takes(more: int) -> bool:
        bed = (math.ceil(wide) + more, math.ceil(deep) + more)
        larger = board._replace(bed=bed, seconds=0.0)
        return kind.make(order._replace(board=larger)).cavities >= wanted

    low, high = 0, _MOST_LARGER
    if not takes(high):
        return None
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (low, middle) if takes(middle) else (middle, high)
    return math.ceil(wide) + high, math.ceil(deep) + high
