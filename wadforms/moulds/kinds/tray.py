"""The press tray: a block with cavities, mouths up, struck off level.

Clay is pressed into a cavity, struck off at the rim, and drawn or knocked out when it lets go.
The piece lies in it upside down, its bearing top on the cavity's floor and its base at the
mouth, so that the draft, which makes the base the widest, lets it out.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from wadforms import units
from wadforms.errors import BadInput, Fault
from wadforms.families.base import Piece, length
from wadforms.geometry.body import Body
from wadforms.geometry.outline import Outline
from wadforms.moulds.base import (
    Kind,
    Order,
    flat_top,
    ledge_field,
    refuse_thin_ridges,
    turned_over,
    wall_field,
    widening,
)
from wadforms.moulds.board import block, lay
from wadforms.moulds.label import sunk
from wadforms.moulds.part import Mould, Part, Placed, prism

_LEAST_HOLE: Final = 2.0  # that a rod goes through [mm]; assumed

_ROD_FREE: Final = 1.0  # a rod is thinner than its hole by so much [mm]; assumed


@dataclass(frozen=True, slots=True, kw_only=True)
class Tray(Kind):
    """A block with cavities that have a floor.

    Examples
    --------
    >>> Tray().wall
    3.0
    >>> Tray.sized({"wall": "1 mm"})
    Traceback (most recent call last):
    ...
    wadforms.errors.BadInput: wall: 1 mm was given; give 2.4 mm to 20 mm
    """

    name = "tray"
    summary = "a block with cavities, filled from above and struck off level; for any piece"

    wall: float = wall_field()
    floor: float = length(
        3.0,
        1.6,
        20.0,
        "thickness under the deepest point of a cavity",
        "assumed; 1.6 mm is eight layers of 0.2 mm",
    )
    ledge: float = ledge_field()
    push_out: float = length(
        0.0,
        0.0,
        20.0,
        "diameter of a hole through each cavity's floor, to push the piece out, at least 2 mm; "
        "0 for none",
        "common practice, no source",
    )

    def faults(self) -> Iterator[Fault]:
        """The relief must leave some floor upright."""
        yield from Kind.faults(self)
        if self.relief >= self.floor:
            yield Fault("relief", f"{self.relief:g} mm", "give less than the floor")
        if 0.0 < self.push_out < _LEAST_HOLE:
            right = f"give 0 for none, or at least {_LEAST_HOLE:g} mm: a rod goes through it"
            yield Fault("push_out", units.show(self.push_out, "mm"), right)

    def refusal(self, piece: Piece) -> str | None:
        """A tray makes every piece of the library: each is widest at its base."""
        return widening(piece)

    def parts_for(self, order: Order) -> Mould:
        """See `Kind.parts_for`."""
        refuse_thin_ridges(order, self.nozzle)
        wet = order.wet.body
        mouth = turned_over(wet.base)
        laid = lay(mouth, order.board, wall=self.wall, rim=self.wall, ledge=self.ledge)
        floor = self.in_layers(self.floor)
        height = floor + wet.height
        around = block(
            laid, height=height, wall=self.wall, ledge=self.ledge,
            ledge_height=min(self.in_layers(floor + wet.height / 2), height), relief=self.relief,
        )  # fmt: skip
        holes: tuple[Placed, ...] = ()
        if self.push_out:
            hole = self._hole(order.wet, floor)
            holes = tuple(Placed(hole, s.x, s.y, turn=s.turn) for s in laid.spots)
        part = Part(
            name=self.name,
            solids=around.solids,
            cuts=(
                *(Placed(wet, s.x, s.y, height, s.turn, over=True) for s in laid.spots),
                *holes,
            ),
            form=wet,
            wall=self.wall,
            floor=self.floor,
            relief=self.relief,
            words=sunk(order.words, around, letters=self.letters, nozzle=self.nozzle),
        )
        return Mould(
            kind=self.name,
            parts=(part,),
            cavities=len(laid.spots),
            wet=wet,
            wet_outline_size=order.wet.outline.size,
            set_volume=order.piece.volume,
            contact_top_area=order.piece.top_area,
            advice=self._advice(),
        )

    def _advice(self) -> tuple[str, ...]:
        """How clay goes in, and how a piece comes out."""
        out = "turn the tray over on a board and knock its edge on it."
        if self.push_out:
            rod = units.show(self.push_out - _ROD_FREE, "mm")
            out = (
                f"hold the tray over a board, mouths down, and push from its back with a flat-ended"
                f" rod of {rod}, through each hole."
            )
        return (
            "Dust the cavities, press the clay in, strike it off level with the rim.",
            "Let the pieces stiffen until they let go of the walls all around, leather-hard at the "
            f"skin; then {out}",
            "Dry them outside the tray, lying on their wide side.",
        )

    def _hole(self, wet: Piece, floor: float) -> Body:
        """A hole through the floor under the middle of the bearing face.

        Raises
        ------
        BadInput
            The bearing face is not flat, or too small for it.
        """
        given = units.show(self.push_out, "mm")
        if not flat_top(wet):
            right = "leave it out: this piece has no flat bearing face that a rod could push"
            raise BadInput(Fault("push_out", given, right))
        from shapely import maximum_inscribed_circle

        face = turned_over(wet.faces[0])
        radius = maximum_inscribed_circle(face.polygon(), tolerance=0.05)
        most = 2 * float(radius.length) - 2.0
        if self.push_out > most:
            right = f"give at most {math.floor(most * 10) / 10:g} mm: the bearing face is narrow"
            if most < _LEAST_HOLE:
                right = "leave it out: the bearing face is too narrow for a rod"
            raise BadInput(Fault("push_out", given, right))
        x, y = radius.coords[0]
        return prism(Outline.circle(self.push_out / 2, (float(x), float(y))), floor)
