"""The slab cutter: blades that cut pieces from a rolled slab as thick as the wet piece is high.

The inner side of a blade stands upright and follows the outline exactly; all that makes it
thick is outside, on the clay that is thrown away.  It is printed on the plate that the hand
presses on, blades up, and turned over to cut, so it shows its outlines with left and right
changed over.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Final, NamedTuple

from wadforms import units
from wadforms.errors import Fault
from wadforms.families.base import Piece, length
from wadforms.geometry.body import Body
from wadforms.geometry.construct import centroid
from wadforms.geometry.contour import Contour
from wadforms.geometry.outline import Outline
from wadforms.moulds.base import WORDS_DEEP, Kind, Order, ledge_field, turned_over
from wadforms.moulds.board import block, lay
from wadforms.moulds.kinds.parallel import moved, outlines, room_to_grow, sloped
from wadforms.moulds.kinds.plain import obstacle
from wadforms.moulds.label import sunk
from wadforms.moulds.part import Mould, Part, Placed, prism

if TYPE_CHECKING:
    from wadforms.nesting import Spot

_LAND: Final = 1.0  # from the edge up, the blade keeps the edge's thickness so far [mm]

_WAY_OUT: Final = 3.0  # inside the blade of a hole, for the clay in it, at least [mm]; assumed

_BY_HAND: Final = 500.0  # of blade that a hand alone presses through clay [mm]; assumed

_NEAR: Final = 0.02  # between a bar's edge and a corner of the piece [mm]


class _Levels(NamedTuple):
    """From the bed up: the plate, the blade at its full thickness, its slope, its edge [mm]."""

    plate: float
    full: float
    slope: float
    edge: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Cutter(Kind):
    """Blades on a plate.

    Examples
    --------
    >>> from wadforms.families import family
    >>> disk = family("disk")(diameter=20, height=8, draft=5, rounding=1).piece()
    >>> made = Cutter().make(Order(disk, 0.05))
    >>> round(made.set_volume / (math.pi * 10**2 * 8), 9)
    1.0
    >>> Cutter.sized({"edge": "0.6 mm"})
    Traceback (most recent call last):
    ...
    wadforms.errors.BadInput: edge: 0.6 mm was given; give two lines of the nozzle or more, 0.8 mm
    """

    name = "cutter"
    summary = "blades that cut pieces with upright walls from a slab; for flat tops"
    upright = True
    at_once = "a press"

    edge: float = length(
        0.8,
        0.4,
        3.0,
        "thickness of the blade at its edge; at least two printed lines",
        "common practice, no source: two lines hold together where one breaks",
    )
    wall: float = length(
        2.0, 0.8, 6.0, "thickness of the blade above the slab, outside the piece", "assumed"
    )
    free: float = length(
        4.0, 1.0, 30.0, "how far the plate stays above the slab", "assumed; room to see the cut"
    )
    plate: float = length(
        3.0,
        1.6,
        15.0,
        "thickness of the plate that the hand presses on",
        "assumed; 1.6 mm is eight layers of 0.2 mm",
    )
    rim: float = length(8.0, 3.0, 40.0, "how far the plate reaches beyond the blades", "assumed")
    gap: float = length(
        6.0,
        3.0,
        60.0,
        "between the blades of two pieces, for the strip of clay that is left",
        "assumed; a finger's tip frees the strip",
    )
    bars: float = length(
        6.0, 3.0, 20.0, "width of the bars that hold the blade of a hole", "assumed"
    )
    ledge: float = ledge_field(
        "depth of the ledge to lift it by, which bears the label; 0 for none"
    )

    def faults(self) -> Iterator[Fault]:
        """An edge of less than two lines breaks, and blades do not grow thinner upward."""
        yield from Kind.faults(self)
        if self.edge < 2 * self.nozzle * (1.0 - 1e-9):
            least = units.show(2 * self.nozzle, "mm")
            right = f"give two lines of the nozzle or more, {least}"
            yield Fault("edge", units.show(self.edge, "mm"), right)
        if self.wall < self.edge:
            right = f"give the edge's thickness or more, {units.show(self.edge, 'mm')}"
            yield Fault("wall", units.show(self.wall, "mm"), right)
        if self.relief >= self.plate - WORDS_DEEP:
            right = f"give less than the plate under its letters, {self.plate - WORDS_DEEP:g} mm"
            yield Fault("relief", units.show(self.relief, "mm"), right)

    def refusal(self, piece: Piece) -> str | None:
        """A cutter makes what is alike at every level, but for draft and rounding."""
        if (reason := obstacle(piece)) is not None:
            return reason
        room = room_to_grow(Outline(piece.outline.outer), self.edge)
        if room < self.edge:
            return (
                f"comes within {units.show(round(2 * room, 1), 'mm')} of itself: blades of "
                f"{units.show(self.edge, 'mm')} would meet there and shut in the clay that is left "
                "behind; a tray makes it"
            )
        for hole in piece.outline.holes:
            around = Outline(hole)
            if not moved(around, -self.wall - _WAY_OUT / 2):
                width = round(around.inscribed_width, 2)
                least = 2 * self.wall + _WAY_OUT
                return (
                    f"has a hole {units.show(width, 'mm')} wide: its blade, "
                    f"{units.show(self.wall, 'mm')} on each side, and {_WAY_OUT:g} mm for the clay "
                    f"to come out need {units.show(least, 'mm')}; give a thinner wall, or take a "
                    "tray"
                )
        return None

    def parts_for(self, order: Order) -> Mould:
        """See `Kind.parts_for`."""
        wet, piece = order.wet, order.piece
        cut = turned_over(wet.outline)
        whole = Outline(cut.outer)
        # Where a blade bends back on itself it may be thinner, so that no clay is shut in.
        wall = room_to_grow(whole, self.wall)
        reach = _reach(whole, wall)
        laid = lay(
            cut, order.board, wall=2 * reach + self.gap, rim=reach + self.rim, ledge=self.ledge
        )  # fmt: skip
        levels = self._levels(wet.height)
        around = block(
            laid, height=levels.plate, wall=self.rim, ledge=self.ledge, ledge_height=levels.plate,
            relief=self.relief,
        )  # fmt: skip
        slopes = sloped(whole, self._profile(levels, wall))
        blade = Body(slopes)
        words = sunk(order.words, around, letters=self.letters, nozzle=self.nozzle)
        part = Part(
            name=self.name,
            solids=(*around.solids, *_at(blade, laid.spots, levels.plate)),
            cuts=self._openings(cut, laid.spots, levels),
            form=prism(cut, wet.height),
            wall=self.edge,
            floor=levels.plate - (WORDS_DEEP if words else 0.0),
            relief=self.relief,
            words=words,
        )
        return Mould(
            kind=self.name,
            parts=(part,),
            cavities=len(laid.spots),
            wet=prism(wet.outline, wet.height),
            wet_outline_size=wet.outline.size,
            set_volume=piece.outline.area * piece.height,
            contact_top_area=piece.outline.area if piece.faces else 0.0,
            facts=(
                ("slab_thickness_mm", wet.height),
                ("blade_depth_mm", levels.edge - levels.plate),
            ),
            advice=self._advice(wet, cut, cavities=len(laid.spots), stepped=len(slopes) > 1),
        )

    def _levels(self, slab: float) -> _Levels:
        """Levels of a cutter for a slab of that thickness [mm]."""
        plate = self.in_layers(self.plate)
        full = plate + self.free
        return _Levels(plate, full, full + slab - min(_LAND, slab / 4), full + slab)

    def _profile(
        self, levels: _Levels, wall: float, side: float = 1.0
    ) -> tuple[tuple[float, float], ...]:
        """Levels above the plate, and how far from the cut the blade's other side is [mm]."""
        thick = (wall, wall, self.edge, self.edge)
        return tuple((z - levels.plate, side * t) for z, t in zip(levels, thick, strict=True))

    def _openings(
        self, cut: Outline, spots: tuple[Spot, ...], levels: _Levels
    ) -> tuple[Placed, ...]:
        """What is open, from the edge through the plate but for the bars that hold inner blades."""
        if not cut.holes:
            return _at(prism(cut, levels.edge), spots, 0.0)
        above = [prism(cut, levels.edge - levels.plate)]
        region = cut.polygon()
        for hole in cut.holes:
            # Flat already, so that bars and blade have the same corners.
            flat = Outline(Contour.polygon(hole.flattened()))
            middle = sloped(flat, self._profile(levels, self.wall, -1.0))
            above.append(Body(middle))
            for loft in middle:
                if loft.bottom[0] == 0.0:
                    region = region.union(loft.bottom[1].polygon())
        through = region.difference(self._bars(cut))
        below = [prism(outline, levels.plate) for outline in outlines(through)]
        return (
            *(placed for body in above for placed in _at(body, spots, levels.plate)),
            *(placed for body in below for placed in _at(body, spots, 0.0)),
        )

    def _bars(self, cut: Outline) -> Any:
        """Strips across the piece, two through a single hole, one through each of several."""
        from shapely import LineString, MultiPoint, affinity, snap, unary_union

        region = Outline(cut.outer).polygon()
        reach = 2 * math.hypot(*cut.size)
        strips = []
        for hole in cut.holes:
            x, y = centroid(Outline(hole))
            line = LineString([(x - reach, y), (x + reach, y)])
            ways = [affinity.rotate(line, angle, origin=(x, y)) for angle in range(0, 180, 5)]
            # The shortest way across is the stiffest.
            best = min(
                range(len(ways)), key=lambda k: (round(ways[k].intersection(region).length, 1), k)
            )
            taken = [best] if len(cut.holes) > 1 else [best, (best + len(ways) // 2) % len(ways)]
            strips += [ways[k].buffer(self.bars / 2, cap_style="flat") for k in taken]
        # A corner that a bar's edge all but meets lies on it: no slivers of walls.
        corners = [p for contour in cut.contours for p in contour.flattened()]
        return snap(unary_union(strips), MultiPoint(corners), _NEAR)

    def _advice(self, wet: Piece, cut: Outline, *, cavities: int, stepped: bool) -> tuple[str, ...]:
        slab, blades = units.show(round(wet.height, 1), "mm"), cavities * cut.perimeter
        told = [
            f"Roll the slab {slab} thick, between two strips of that height, on cloth or paper; "
            "press the cutter straight down and push the pieces out through the plate.",
            "A cutter makes no draft and rounds no edge: walls are upright and edges sharp, so "
            "a piece bears on its whole outline and holds a little less or more clay than one "
            "from a tray. Round the upper edge with a wet finger where the shape asks for it.",
        ]
        if stepped:
            told.append(
                "Outside, the blade grows thicker in small ledges, not in a slope: the outline has "
                "hollows that no straight slope can follow. The side that cuts is smooth."
            )
        if blades > _BY_HAND:
            told.append(
                f"These are {blades / 1000:.1f} m of blade, too much for a hand: lay a board over "
                "the plate and lean on it."
            )
        if cavities > 1:
            told.append("Lift the strips between the blades out before the next cut.")
        if cut.holes:
            told.append("Push the clay out of the holes beside the bars.")
        return tuple(told)


def _reach(whole: Outline, wall: float) -> float:
    """How far a blade reaches beyond its outline, farther where that has a corner [mm].

    The blade fills a notch that is narrower than itself: how deep that is does not matter here.
    """
    import shapely

    (foot,) = moved(whole, wall)
    edge = shapely.points(shapely.get_coordinates(foot.polygon().exterior))
    return max(wall, float(shapely.distance(edge, whole.polygon()).max()))


def _at(body: Body, spots: tuple[Spot, ...], z: float) -> tuple[Placed, ...]:
    """A body in every place, on one level [mm]."""
    return tuple(Placed(body, s.x, s.y, z, s.turn) for s in spots)
