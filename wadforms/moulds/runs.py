"""Splits an order over boards: the same board printed several times, and a smaller last one."""

from __future__ import annotations

from dataclasses import replace
from typing import NamedTuple

from wadforms.moulds.base import Kind, Order
from wadforms.moulds.part import Mould


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
