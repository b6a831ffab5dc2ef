"""The plaster master: positives in a tub, which plaster is poured over to make a press mould.

The pieces stand on the tub's floor, base down, a little smaller than wet, since plaster grows as
it sets.  Poured full, the tub gives a block with cavities of exactly the wet size, their mouths
on the face that lay on the floor.  The tub's walls lean out, so that it can be drawn off.

The face that clay is struck off on stays plain: letters in plaster would crumble into the clay.
So the label is sunk into a ledge of the tub.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final, NamedTuple

from wadforms import units
from wadforms.errors import Fault
from wadforms.families.base import Piece, angle, length, parts_field, share_field
from wadforms.geometry.body import Body, Loft
from wadforms.geometry.contour import Contour, Point
from wadforms.geometry.outline import Outline
from wadforms.moulds.base import Kind, Order, ledge_field, widening
from wadforms.moulds.board import RIGHT, Block, Field, Laid, lay, standing, tongue, words_field
from wadforms.moulds.kinds.plaster import LIFT, Pour, pour
from wadforms.moulds.label import sunk
from wadforms.moulds.part import Mould, Part, Placed, prism

_BEVEL: Final = 8.0  # of the block's upright edges, which chip where they are sharp [mm]

_LEDGE: Final = 2.0  # how far the ledge stands above the floor, thick enough to pull on [mm]


class _Tub(NamedTuple):
    """The tub about the middle of its floor.

    Parameters
    ----------
    solids : tuple of Placed
        Ground with its ledge, and walls.
    room : Body
        What it holds, were it empty, from its floor to its rim.
    field : tuple of float
        The place for a label, as that of a `Block`.
    """

    solids: tuple[Placed, ...]
    room: Body
    field: Field


@dataclass(frozen=True, slots=True, kw_only=True)
class Master(Kind):
    """A tub with positives, that a plaster mould is poured in.

    Examples
    --------
    >>> Master().expansion, Master().plaster
    (0.002, 25.0)
    >>> Master.sized({"water": "7"})
    Traceback (most recent call last):
    ...
    wadforms.errors.BadInput: water: 7 parts was given; give 50 parts to 100 parts
    """

    name = "master"
    summary = "a tub with positives, that plaster is poured into to make a press mould"
    lasting = True
    at_once = "a block of plaster"

    plaster: float = length(
        25.0,
        10.0,
        80.0,
        "thickness of the plaster above and around the pieces",
        "common practice, no source: about an inch",
    )
    web: float = length(
        20.0,
        8.0,
        80.0,
        "plaster between two pieces",
        "common practice, no source",
    )
    expansion: float = share_field(
        0.002,
        0.0,
        0.006,
        "by how much of its length the plaster grows as it sets",
        "a plaster maker's table: at most 0.21 % at 70 parts of water",
    )
    water: float = parts_field(
        70.0,
        50.0,
        100.0,
        "parts of water to 100 parts of plaster, both weighed",
        "common practice, no source: 70 parts to 100 for press moulds; the bag tells its own",
    )
    lean: float = angle(
        4.0,
        2.0,
        15.0,
        "how far the inside of the tub leans out, so that the block lets go",
        "common practice, no source: 3° to 5°",
    )
    wall: float = length(
        3.0,
        2.4,
        20.0,
        "thickness of the tub's wall at the rim, where it is thinnest",
        "assumed; 2.4 mm is six lines of a 0.4 mm nozzle",
    )
    floor: float = length(
        4.0, 1.6, 20.0, "thickness of the tub's floor", "assumed; it must not bow under plaster"
    )
    ledge: float = ledge_field(
        "depth of the ledge that bears the label and that the tub is drawn off by; 0 for none"
    )
    vent: float = length(
        3.0,
        0.0,
        10.0,
        "diameter of a hole in the floor that lets air in behind the block; 0 for none",
        "assumed; as for a die's air holes, taped over while plaster is poured",
    )

    def faults(self) -> Iterator[Fault]:
        """The relief must leave some floor upright."""
        yield from Kind.faults(self)
        if self.relief >= self.floor:
            yield Fault("relief", units.show(self.relief, "mm"), "give less than the floor")
        if self.vent > self.plaster / 2:
            right = f"give at most half of the plaster's thickness, {self.plaster / 2:g} mm"
            yield Fault("vent", units.show(self.vent, "mm"), right)

    def refusal(self, piece: Piece) -> str | None:
        """A master makes every piece of the library: each is widest at its base."""
        return widening(piece)

    def parts_for(self, order: Order) -> Mould:
        """See `Kind.parts_for`."""
        wet = order.wet.body
        positive = wet.scaled(1.0 / (1.0 + self.expansion))
        floor = self.in_layers(self.floor)
        height = self.in_layers(floor + positive.height + self.plaster)
        out = (height - floor) * math.tan(math.radians(self.lean))
        rim = math.ceil((self.plaster + out + self.wall) * 10 - 1e-9) / 10
        laid = lay(
            positive.base, order.board,
            wall=self.web, rim=rim, ledge=self.ledge,
        )  # fmt: skip
        tub = self._tub(laid, floor=floor, height=height, out=out)
        number = len(laid.spots)
        part = Part(
            name=self.name,
            solids=(*tub.solids, *(Placed(positive, s.x, s.y, floor, s.turn) for s in laid.spots)),
            cuts=self._vents(laid, floor, out),
            form=positive,
            wall=self.wall,
            floor=floor,
            relief=self.relief,
            words=sunk(order.words, Block((), tub.field), letters=self.letters, nozzle=self.nozzle),
        )
        volume = tub.room.volume - number * positive.volume
        poured = pour(volume, water=self.water / 100.0)
        return Mould(
            kind=self.name,
            parts=(part,),
            cavities=number,
            wet=wet,
            wet_outline_size=order.wet.outline.size,
            set_volume=order.piece.volume,
            contact_top_area=order.piece.top_area,
            facts=(
                ("plaster_mass_g", poured.plaster),
                ("water_mass_g", poured.water),
                ("water_parts_to_100_of_plaster", self.water),
                ("slurry_volume_mm3", volume),
                ("wet_block_mass_g", poured.wet),
                ("dry_block_mass_g", poured.dry),
                ("plaster_thickness_above_mm", height - floor - positive.height),
                ("expansion_share", self.expansion),
            ),
            advice=self._advice(poured, wet),
        )

    def _tub(self, laid: Laid, *, floor: float, height: float, out: float) -> _Tub:
        """Ground with its ledge, and walls, drawn with the ledge below and turned to its side."""
        sideways = laid.ledge_side == RIGHT
        width, depth = (laid.depth, laid.width) if sideways else (laid.width, laid.depth)
        turn = 90.0 if sideways else 0.0
        x, y = width / 2 - self.wall - out, depth / 2 - self.wall - out
        low = Outline(Contour.polygon(_bevelled(x, y, min(_BEVEL, self.plaster / 2))))
        deep = height - floor
        high = low.offset(out)
        outer = high.offset(self.wall).outer
        room = Body((Loft(((0.0, low), (deep, high))),))
        if not laid.ledge_side:
            ground = standing(Outline(outer), floor, self.relief)
            walls = _walls(outer, 0.0, low, deep, high)
            solids = (Placed(ground, turn=turn), Placed(walls, z=floor, turn=turn))
            return _Tub(solids, room, (0.0, 0.0, floor, 0.0, 0.0, 0.0))
        corners = list(outer.vertices)
        half = corners[1][0] - self.wall
        below = tongue(half, -depth / 2, self.ledge)
        wide = Contour.polygon([corners[0], *below, *corners[1:]])
        rise = self.in_layers(floor + _LEDGE) - floor
        level = low.offset(out * rise / deep)
        bodies = (
            (standing(Outline(wide), floor, self.relief), 0.0),
            (_walls(wide, 0.0, low, rise, level), floor),
            (_walls(outer, rise, level, deep, high), floor),
        )
        return _Tub(
            tuple(Placed(body, z=z, turn=turn) for body, z in bodies),
            room,
            words_field(2 * half, depth / 2, self.ledge, floor + rise, sideways=sideways),
        )

    def _vents(self, laid: Laid, floor: float, out: float) -> tuple[Placed, ...]:
        """A hole in the floor, in the plaster's margin near a corner."""
        if not self.vent:
            return ()
        inward = self.wall + out + self.plaster / 2
        hole = prism(Outline.circle(self.vent / 2), floor)
        return (Placed(hole, inward - laid.width / 2, laid.depth / 2 - inward),)

    def _advice(self, poured: Pour, wet: Body) -> tuple[str, ...]:
        """How plaster is poured, and what to mind."""
        plaster, water, block = (
            units.show(mass, "g") for mass in (poured.plaster, poured.water, poured.wet)
        )
        grown = next(p for p in self.parameters() if p.name == "expansion")
        usual = ", assumed after " + grown.source if self.expansion == grown.default else ""
        told = [
            "Print the tub once: cast as many blocks in it as are wanted, and press clay into each "
            "block as often as it stays sharp.",
            "Rub the tub and the positives with mould soap or thin oil, and "
            + (
                "tape the hole in the floor over from below." if self.vent else "wipe off the rest."
            ),
            f"Sift {plaster} of plaster into {water} of cold water, {self.water:g} parts of water "
            "to 100 of plaster, let it soak, stir it without air, pour it slowly to the rim and "
            "draw a blade across; that fills the tub exactly, so mix some more.",
            f"The positives are made smaller for a plaster that grows by "
            f"{100 * self.expansion:.2g} % as it sets{usual}. Your bag tells its own: give "
            "--making expansion=0.3% or --making water=65, say, for another.",
            "Scratch name, set size and date into the back while the plaster is soft; its face "
            "stays plain, since crumbs of plaster spoil clay.",
            "Draw the tub off when the block has cooled"
            + (", with air or water through the hole. " if self.vent else ". ")
            + "Setting plaster grows hot enough to soften some printed plastics.",
            "Wear a dust mask. Never set a hand or a foot in setting plaster, and cast no body "
            "part: it burns deeply. Plaster sets in drains too: let rests set and throw them away "
            "as your local rules say.",
            "Dry the block for days at no more than 45 °C before clay is pressed into it.",
        ]
        first = wet.lofts[0]
        if first.bottom[1].area <= first.top[1].area * (1.0 + 1e-9):
            told.append(
                "The walls of this piece are upright, and plaster holds on to such walls: soap "
                "them twice, or give the shape some draft."
            )
        if poured.wet >= LIFT:
            told.append(
                f"The wet block weighs {block}: ask for a second pair of hands, and see your local "
                "rules for lifting."
            )
        return tuple(told)


def _walls(outer: Contour, z0: float, low: Outline, z1: float, high: Outline) -> Body:
    """Walls between two levels, upright outside, leaning out inside."""
    inner = (z0, Outline(outer, (low.outer,))), (z1, Outline(outer, (high.outer,)))
    return Body((Loft(inner),))


def _bevelled(x: float, y: float, c: float) -> list[Point]:
    """Corners of a rectangle with bevelled corners, from the left one of the side below."""
    points = [(c - x, -y), (x - c, -y), (x, c - y), (x, y - c)]
    return [*points, (x - c, y), (c - x, y), (-x, y - c), (-x, c - y)]
