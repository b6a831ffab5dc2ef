"""What every kind of mould has: declared parameters, a verdict on a piece, and the parts.

A kind is a frozen dataclass, like a family of shapes: its parameters, their bounds, defaults
and sources are written once, where the field is declared, and the command line reads them from
there.
"""

from __future__ import annotations

import math
from abc import ABC, abstractmethod
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from typing import Any, ClassVar, Final, NamedTuple

from wadforms import units
from wadforms.errors import BadInput, Fault, NotMakeable
from wadforms.families.base import Piece, Sized, length
from wadforms.families.relations import LEAST_RIDGE
from wadforms.geometry.outline import Outline
from wadforms.geometry.tightness import tight_places
from wadforms.moulds.board import Board
from wadforms.moulds.part import Mould
from wadforms.setting.shrinkage import mould_factor

MOST_SHRINKAGE: Final = 0.3
"""Beyond it no clay is moulded; a number such as 6.5, meant as percent, is caught by it."""

WORDS_DEEP: Final = 0.6
"""Depth of the label's recess [mm]: three layers of 0.2 mm."""


class Order(NamedTuple):
    """What a mould is asked for.

    Parameters
    ----------
    piece : Piece
        At its set size [mm].
    shrinkage : float
        Linear, as a share of the wet length (ASTM C326): up to the state in which the piece
        has its set size.
    words : tuple of str
        Lines of the label.
    board : Board
        How many, on which bed.
    """

    piece: Piece
    shrinkage: float
    words: tuple[str, ...] = ()
    board: Board = Board()

    @property
    def wet(self) -> Piece:
        """The piece as it leaves the mould: larger by 1/(1 − S)."""
        return self.piece.scaled(mould_factor(self.shrinkage))


def wall_field() -> Any:
    """Declare the thickness of the walls [mm] between cavities that are pressed and struck off."""
    return length(
        3.0,
        2.4,
        20.0,
        "thickness of the walls at the rim, where they are thinnest",
        "assumed; 2.4 mm is six lines of a 0.4 mm nozzle, which bear pressing and striking off",
    )


def ledge_field(what: str = "depth of the ledge to hold it by; 0 for none") -> Any:
    """Declare the depth of a ledge [mm], which also bears the label."""
    return length(12.0, 0.0, 40.0, what, "assumed; a finger's width")


@dataclass(frozen=True, slots=True, kw_only=True)
class Kind(Sized, ABC):
    """A way to make a piece in quantity; an instance is one choice of its parameters."""

    summary: ClassVar[str]

    upright: ClassVar[bool] = False
    """Whether the walls of what it makes stand upright, so that an outline needs no draft."""

    endless: ClassVar[bool] = False
    """Whether pieces are cut off a length, so that one opening makes any number."""

    lasting: ClassVar[bool] = False
    """Whether one print of it serves for any number of moulds."""

    at_once: ClassVar[str] = "a filling"
    """When the pieces of one board are made."""

    nozzle: float = length(
        0.4,
        0.2,
        1.2,
        "width of one printed line; walls are at least two lines, letters one",
        "common practice, no source: the nozzle that most printers come with",
    )
    layer: float = length(
        0.2,
        0.05,
        0.6,
        "height of a printed layer; floors and rims end on a whole one",
        "common practice, no source: half the width of a line",
    )
    relief: float = length(
        0.5,
        0.0,
        1.0,
        "bevel of 45° along the lower edge, where a first layer spreads on the bed",
        "assumed; makers of printers give 0.2 to 0.5 mm",
    )
    letters: float = length(
        5.0,
        0.0,
        20.0,
        "height of the label's capitals at most; 0 leaves the label out",
        "assumed; read at arm's length",
    )

    def faults(self) -> Iterator[Fault]:
        """A line is wider than its layer is high, or it does not stick."""
        if self.layer > self.nozzle:
            given = units.show(self.layer, "mm")
            yield Fault("layer", given, "give no more than the nozzle's width")

    @abstractmethod
    def refusal(self, piece: Piece) -> str | None:
        """Why this kind cannot make a piece, as words that follow "it"; None where it can."""

    @abstractmethod
    def parts_for(self, order: Order) -> Mould:
        """The mould for an order that this kind does not refuse; see `make`."""

    def make(self, order: Order) -> Mould:
        """A mould for a piece.

        Parameters
        ----------
        order : Order
            The piece, its shrinkage, the label and how many.

        Raises
        ------
        BadInput
            The shrinkage is out of bounds.
        NotMakeable
            This kind cannot make such a piece, or the bed is too small for it.

        Examples
        --------
        >>> from wadforms.families import family
        >>> from wadforms.moulds.kinds.tray import Tray
        >>> disk = family("disk")(diameter=20, height=8).piece()
        >>> made = Tray().make(Order(disk, 0.05))
        >>> made.cavities, [part.name for part in made.parts]
        (1, ['tray'])
        """
        if not 0.0 <= order.shrinkage <= MOST_SHRINKAGE:
            given = f"{order.shrinkage:g}"
            right = f"give a share from 0 to {MOST_SHRINKAGE:g}, such as 0.065 for 6.5 %"
            raise BadInput(Fault("shrinkage", given, right))
        if (reason := self.refusal(order.piece)) is not None:
            from wadforms.moulds.kinds import suiting

            others = " or ".join(suiting(order.piece)) or "none of ours"
            raise NotMakeable(f"a {self.name} cannot make this piece: it {reason}; {others} can")
        return self.parts_for(order)

    def in_layers(self, height: float) -> float:
        """A height brought up to whole layers [mm].

        Examples
        --------
        >>> from wadforms.moulds.kinds.tray import Tray
        >>> Tray(layer=0.3, nozzle=0.4).in_layers(3.1)
        3.3
        """
        return round(math.ceil(height / self.layer - 1e-6) * self.layer, 9)


def refuse_thin_ridges(order: Order, nozzle: float) -> None:
    """Refuse a cavity that bends around a ridge of the mould too thin to print.

    Parameters
    ----------
    order : Order
        The piece and its shrinkage.
    nozzle : float
        Width of a printed line [mm]; a ridge or a pin wants two at the rim, where it is thinnest.

    Raises
    ------
    NotMakeable
        There is one; the message tells the place, in the piece's own size, and the thickness.

    Examples
    --------
    >>> from wadforms.families import family
    >>> refuse_thin_ridges(Order(family("ring")().piece(), 0.05), 0.4)
    """
    gaps = [p for p in tight_places(order.wet.body.base, nozzle) if p.kind == "gap"]
    if not gaps:
        return
    thinnest = min(gaps, key=lambda place: place.width)
    kept = 1.0 - order.shrinkage
    x, y = (kept * v for v in thinnest.at)
    least = 2 * nozzle
    can_ease = least <= LEAST_RIDGE
    filled = "have it filled with --ease if the outline is your own, " if can_ease else ""
    raise NotMakeable(
        f"between two walls at ({x:.1f}, {y:.1f}) mm the mould itself would be only "
        f"{thinnest.width:.2f} mm thick at its rim, and needs two printed lines, {least:g} mm: "
        f"widen the outline's gap or hole there by {least - thinnest.width:.2f} mm, {filled}"
        "lessen the draft, or make it with a cutter"
    )


def flat_top(piece: Piece) -> bool:
    """Whether a piece has one flat bearing face and walls only: no points, hollows or pockets.

    Examples
    --------
    >>> from wadforms.families import family
    >>> flat_top(family("disk")().piece()), flat_top(family("pointed-tripod")().piece())
    (True, False)
    """
    body = piece.body
    return not body.pockets and len(body.lofts) == 1 and piece.tips is None and bool(piece.faces)


def widening(piece: Piece) -> str | None:
    """Where a piece is wider above than below, in words that follow "it"; None where nowhere.

    Examples
    --------
    >>> from wadforms.families import family
    >>> widening(family("disk")().piece()) is None
    True
    """
    for loft in piece.body.lofts:
        for (z0, below), (z1, above) in pairwise(loft.sections):
            if z1 > z0 and above.area > below.area * (1.0 + 1e-9):
                return f"grows wider {z0:.1f} mm above its base, and would be held in the mould"
    return None


def turned_over(outline: Outline) -> Outline:
    """An outline of a piece that lies upside down, seen from above.

    The piece is turned over about its y axis, never mirrored: what comes out of a mould, turned
    back, is the piece itself.  So the mouth of a cavity shows the outline with left and right
    changed over; the piece as it is set, seen from above, shows it as drawn.

    Examples
    --------
    >>> turned_over(Outline.circle(5, (3, 0))).bounds
    (-8, -5.0, 2, 5.0)
    """
    return outline.mirrored()
