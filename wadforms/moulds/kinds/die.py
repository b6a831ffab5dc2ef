"""The die plate: an opening that an extruder presses clay through, bar after bar.

Clay comes from the barrel into a funnel, the lead-in, and leaves by the land, where the opening
keeps one section.  A straight bar is pressed *along* itself, so that the opening is its section,
and cut to its length; any other piece with a flat top is pressed *across*: the opening is its
outline, and slices are cut off that are as thick as the piece is high.

The plate is printed on the face that the clay leaves by, its lead-in widening upward.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from wadforms import units
from wadforms.errors import Fault, NotMakeable
from wadforms.families.base import Piece, angle, choice, count, length
from wadforms.geometry.body import Body
from wadforms.geometry.outline import Outline
from wadforms.moulds.base import Kind, Order, flat_top
from wadforms.moulds.board import Board, standing
from wadforms.moulds.kinds import extruding
from wadforms.moulds.kinds.bar import LONG, bar
from wadforms.moulds.kinds.funnel import opening_of
from wadforms.moulds.kinds.openings import Openings, centred, openings
from wadforms.moulds.kinds.underside import beneath
from wadforms.moulds.part import Mould, Part, Placed, around, prism

ALONG: Final = "along"
ACROSS: Final = "across"
RIM: Final = "rim"
SCREWS: Final = "screws"

_SPIGOT: Final = 2.0  # the plate goes so far into the barrel at least [mm]

_LEAST_PLATE: Final = 6.0  # of a plate's thickness [mm]; assumed

_BORES: Final = 8.0  # barrels' inner diameters over the plate's least thickness; see `plate`


@dataclass(frozen=True, slots=True, kw_only=True)
class Die(Kind):
    """A round plate with an opening, for an extruder.

    Examples
    --------
    >>> Die().barrel, Die().inside
    (75.0, 34.2)
    >>> Die.sized({"fixing": "glue"})
    Traceback (most recent call last):
    ...
    wadforms.errors.BadInput: fixing: 'glue' was given; give rim or screws
    """

    name = "die"
    summary = "an extruder's plate, for bars that are cut to length or slices to thickness"
    upright = True
    endless = True
    at_once = "a cut"

    way: str = choice(
        "auto",
        ("auto", ALONG, ACROSS),
        "along: bars, cut to length; across: slices, cut to thickness; auto: along where it can be",
        "assumed; slices waste no end, bars keep the draft and the rounding of their section",
    )
    barrel: float = length(
        75.0, 20.0, 300.0, "inner diameter of your extruder's barrel", "assumed; measure yours"
    )
    clearance: float = length(
        0.3,
        0.1,
        1.5,
        "between the plate and the barrel, all around",
        "makers of printers give 0.2 to 0.5 mm for parts that slide",
    )
    land: float = length(
        6.0,
        2.0,
        40.0,
        "length over which the opening keeps its section; longer makes a straighter bar",
        "common practice, no source",
    )
    plate: float = length(
        0.0,
        0.0,
        80.0,
        "thickness of the plate at least: the land is lengthened where relief, land and lead-in "
        "come to less; 0 for an eighth of the barrel, and 6 mm or more",
        "assumed; pressed by 1 MPa, a disk that thick and held at its edge bends with 20 MPa: "
        "3 (3 + ν) p r² / 8 t², a handbook's formula, from memory",
    )
    lead_in: float = length(
        5.0, 0.0, 40.0, "depth of the funnel before it; 0 for none", "common practice, no source"
    )
    lead_angle: float = angle(
        30.0,
        5.0,
        60.0,
        "how far the funnel's walls lean from the way of the clay",
        "common practice, no source",
    )
    wall: float = length(
        3.0,
        2.4,
        20.0,
        "between two openings, and between an opening and the plate's edge in the barrel",
        "assumed; 2.4 mm is six lines of a 0.4 mm nozzle, which bear the clay's push",
    )
    fixing: str = choice(
        RIM,
        (RIM, SCREWS),
        "rim: slips into the barrel, its rim held by the barrel's cap; screws: slips in as far, "
        "and a ring of screws holds it",
        "assumed; see how your extruder holds its plates",
    )
    rim_width: float = length(
        6.0, 2.0, 40.0, "for fixing=rim: how far it stands out beyond the barrel", "assumed"
    )
    rim_thickness: float = length(4.0, 2.0, 20.0, "for fixing=rim: of the rim", "assumed")
    screws: int = count(
        6, 3, 16, "for fixing=screws: how many hold the plate", "assumed; count yours"
    )
    screw_circle: float = length(
        0.0,
        0.0,
        400.0,
        "for fixing=screws: diameter of the circle that they stand on; 0 for the smallest that "
        "clears the barrel and keeps them apart",
        "assumed; measure yours",
    )
    screw_hole: float = length(
        5.5,
        2.0,
        13.0,
        "for fixing=screws: diameter of a screw's hole",
        "ISO 273, medium series, for a screw of 5 mm; from memory",
    )

    @property
    def inside(self) -> float:
        """Radius of the circle that openings must keep within [mm]."""
        return round(self.barrel / 2 - self.clearance - self.wall, 9)

    @property
    def thickness(self) -> float:
        """Of the plate, in whole layers [mm]: relief, land and lead-in, or its least.

        Examples
        --------
        >>> Die().thickness, Die(lead_in=0).thickness, Die(barrel=120).thickness
        (11.6, 9.4, 15.0)
        """
        least = self.plate or max(_LEAST_PLATE, self.barrel / _BORES)
        return self.in_layers(max(self.relief + self.land + self.lead_in, least))

    @property
    def flange(self) -> float:
        """Thickness of what lies outside the barrel, in whole layers [mm]."""
        if self.fixing == RIM:
            return self.in_layers(self.rim_thickness)
        return math.floor((self.thickness - _SPIGOT) / self.layer + 1e-6) * self.layer

    @property
    def circle(self) -> float:
        """Diameter of the circle that the screws stand on [mm].

        Examples
        --------
        >>> Die(fixing="screws").circle, Die(fixing="screws", barrel=120).circle
        (86.5, 132.0)
        """
        return self.screw_circle or extruding.at_least(
            max(self._clear_of_barrel, self._clear_of_each_other)
        )

    @property
    def _clear_of_barrel(self) -> float:
        return self.barrel + self.screw_hole + 2 * self.wall

    @property
    def _clear_of_each_other(self) -> float:
        return (self.screw_hole + self.wall) / math.sin(math.pi / self.screws)

    @property
    def lead(self) -> float:
        """How far the lead-in's mouth stands out beyond the opening [mm].

        Examples
        --------
        >>> round(Die(lead_in=5, lead_angle=30).lead, 3)
        2.887
        """
        return self.lead_in * math.tan(math.radians(self.lead_angle))

    def faults(self) -> Iterator[Fault]:
        """The plate must enter the barrel, or its screws stand clear of it and of each other."""
        yield from Kind.faults(self)
        if self.inside <= 1.0:
            most = units.show(extruding.at_most(self.barrel / 2 - self.clearance - 1.0), "mm")
            yield Fault("wall", units.show(self.wall, "mm"), f"give less than {most}")
        if 0.0 < self.plate < _LEAST_PLATE:
            right = f"give 0, or {units.show(_LEAST_PLATE, 'mm')} or more"
            yield Fault("plate", units.show(self.plate, "mm"), right)
        if self.fixing == RIM:
            most_rim = self.thickness - _SPIGOT
            if self.flange > most_rim + 1e-9:
                most = units.show(extruding.at_most(most_rim), "mm")
                right = f"give at most {most}, or a thicker plate"
                yield Fault("rim_thickness", units.show(self.rim_thickness, "mm"), right)
            return
        barrel, apart = self._clear_of_barrel, self._clear_of_each_other
        if self.circle < max(barrel, apart) - 1e-9:
            why = "clear of the barrel" if barrel >= apart else "clear of each other"
            least = units.show(extruding.at_least(max(barrel, apart)), "mm")
            right = f"give 0, or at least {least}: screws stand {why}"
            yield Fault("screw_circle", units.show(self.screw_circle, "mm"), right)

    def refusal(self, piece: Piece) -> str | None:
        """What comes out of an opening has one section and upright walls."""
        if piece.tips is not None or not piece.faces:
            return "does not bear on a flat top, and a die gives flat pieces alone"
        if piece.body.pockets:
            return "has hollows in its top, which an opening cannot give"
        if piece.outline.holes:
            return "has a hole, and nothing would hold a core in the opening"
        if not flat_top(piece):
            return "is built in steps, and a die gives one section"
        if self.way == ALONG and bar(piece) is None:
            return f"is no straight bar {LONG:g} times as long as wide; give --making way={ACROSS}"
        return None

    def parts_for(self, order: Order) -> Mould:
        """See `Kind.parts_for`."""
        wet, piece = order.wet, order.piece
        long = bar(wet) if self.way != ACROSS else None
        if long is not None:
            section, body, cut = long.section, long.body, long.body.base.size[0]
        else:
            section, body, cut = wet.outline, prism(wet.outline, wet.height), wet.height
        shrunk = piece.height / wet.height
        opening = opening_of(
            centred(section),
            relief=self.relief,
            thickness=self.thickness,
            lead_in=self.lead_in,
            lead_angle=self.lead_angle,
        )
        mouth = _widest(opening)
        laid = self._laid(mouth, section.size, shrunk, order.board)
        self._fit_bed(order.board)
        cuts = tuple(Placed(opening, *spot) for spot in _on_bed(laid))
        feet = around([Placed(prism(opening.base, 1.0), *spot) for spot in _on_bed(laid)])
        solids, holes, edge = self._plate()
        deep = math.floor(self.relief / self.layer + 1e-6) * self.layer
        part = Part(
            name=self.name,
            solids=solids,
            cuts=(*cuts, *holes),
            form=opening,
            wall=self.wall,
            floor=self.flange,
            relief=self.relief,
            words=beneath(
                order.words, feet, radius=edge, deep=deep, letters=self.letters, nozzle=self.nozzle
            ),
        )
        bore = math.pi * (self.barrel / 2) ** 2
        number = len(laid.spots)
        run = extruding.RUN * bore / body.volume
        facts = (
            ("opening_area_mm2", section.area),
            ("cut_length_mm", cut),
            ("wet_length_per_100_pieces_mm", extruding.RUN * cut),
            ("pieces_per_100_mm_of_barrel", run),
            ("clay_speed_over_plunger_speed", bore / (number * section.area)),
            ("barrel_mm", self.barrel),
            ("plate_thickness_mm", self.thickness),
            ("land_mm", self.thickness - self.lead_in - self.relief),
            ("push_on_plate_per_100_kpa_n", extruding.push(bore)),
        )
        top = body.lofts[0].top[1]
        return Mould(
            kind=self.name,
            parts=(part,),
            cavities=number,
            wet=body,
            wet_outline_size=wet.outline.size,
            set_volume=body.volume * shrunk**3,
            contact_top_area=top.area * shrunk**2,
            facts=facts,
            advice=(
                *self._holding(),
                *extruding.printing(self.thickness, order.words if part.words else ()),
                *extruding.using(cut, run, bore, bars=long is not None),
            ),
        )

    def _laid(
        self, mouth: Outline, section: tuple[float, float], shrunk: float, board: Board
    ) -> Openings:
        """The openings in the plate.

        Raises
        ------
        NotMakeable
            One, or as many as were asked, does not fit the barrel.
        """
        found = openings(mouth, gap=self.wall, radius=self.inside, count=board.pieces)
        if not found.spots:
            alone = openings(mouth, gap=self.wall, radius=math.inf, count=1).reach
            grown = max(self.lead, self.relief)
            # A corner that the lead-in moves out by some way is moved by as much at any size.
            bare = openings(
                centred(mouth.offset(-grown)), gap=self.wall, radius=math.inf, count=1
            ).reach
            factor = math.floor((self.inside - (alone - bare)) / bare * 1000) / 1000
            size = " × ".join(units.show(side * shrunk, "mm") for side in section)
            fits = ""
            if factor > 0.0:
                most = " × ".join(units.show(side * shrunk * factor, "mm") for side in section)
                fits = f"the largest of this shape that fits is {factor:.3f} of it, {most} when set"
                fits = f"{fits}; it itself wants "
            barrel = math.ceil(2 * (alone + self.clearance + self.wall))
            raise NotMakeable(
                f"an opening for {size}, wet and with its lead-in, is {2 * alone:.1f} mm across, "
                f"and a barrel of {units.show(self.barrel, 'mm')} leaves "
                f"{2 * self.inside:.1f} mm: {fits}a barrel of {barrel} mm"
            )
        if board.pieces is not None and len(found.spots) < board.pieces:
            number = len(found.spots)
            told = "one does" if number == 1 else f"{number} do"
            raise NotMakeable(
                f"{board.pieces} openings do not fit a barrel of {units.show(self.barrel, 'mm')} "
                f"with {self.wall:g} mm between them: {told}"
            )
        return found

    def _plate(self) -> tuple[tuple[Placed, ...], tuple[Placed, ...], float]:
        """The plate, its screw holes, and the radius that words beneath it keep within [mm]."""
        flange, spigot = self.flange, Outline.circle(self.barrel / 2 - self.clearance)
        solids = (
            Placed(standing(Outline.circle(self.wide / 2), flange, self.relief)),
            Placed(prism(spigot, self.thickness - flange), z=flange),
        )
        if self.fixing == RIM:
            return solids, (), self.wide / 2 - self.relief - 1.0
        hole, radius = prism(Outline.circle(self.screw_hole / 2), flange), self.circle / 2
        angles = [math.tau * (k + 0.5) / self.screws for k in range(self.screws)]
        holes = tuple(Placed(hole, radius * math.cos(a), radius * math.sin(a)) for a in angles)
        return solids, holes, radius - self.screw_hole / 2 - 1.0

    @property
    def wide(self) -> float:
        """Diameter of the plate [mm]."""
        if self.fixing == RIM:
            return self.barrel + 2 * self.rim_width
        return self.circle + self.screw_hole + 2 * (self.wall + self.relief)

    def _fit_bed(self, board: Board) -> None:
        """Whether the plate fits the bed.

        Raises
        ------
        NotMakeable
            It does not.
        """
        if board.printable is not None and min(board.printable) < self.wide:
            raise NotMakeable(
                f"the plate is {self.wide:.1f} mm across, and the bed takes "
                f"{min(board.printable):g} mm"
            )

    def _holding(self) -> tuple[str, ...]:
        """Which barrel it is for, and how it is held there."""
        if self.fixing == RIM:
            rim = units.show(self.rim_width, "mm"), units.show(self.flange, "mm")
            how = f"its rim, {rim[0]} wide and {rim[1]} thick, is held by the barrel's cap"
            return (extruding.barrel(self.barrel, self.clearance, how),)
        hole, circle = units.show(self.screw_hole, "mm"), units.show(self.circle, "mm")
        how = f"screwed on by {self.screws} screws in holes of {hole} on a circle of {circle}"
        return extruding.barrel(self.barrel, self.clearance, how), extruding.SCREWING


def _widest(opening: Body) -> Outline:
    """The largest section of an opening: what must stay apart from the next."""
    return max((outline for _, outline in opening.lofts[0].sections), key=lambda o: o.area)


def _on_bed(laid: Openings) -> Iterator[tuple[float, float, float, float]]:
    """Places on the bed: x, y, z and turn."""
    for spot in laid.spots:
        yield spot.x, spot.y, 0.0, spot.turn
