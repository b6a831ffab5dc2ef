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
from wadforms.geometry.body import Body, Loft
from wadforms.geometry.outline import Outline
from wadforms.geometry.tightness import room, tight_places, with_room
from wadforms.moulds.base import Kind, Order, flat_top, prism
from wadforms.moulds.board import Board, standing
from wadforms.moulds.kinds.bar import LONG, bar
from wadforms.moulds.kinds.openings import Openings, centred, openings
from wadforms.moulds.kinds.underside import beneath
from wadforms.moulds.part import Mould, Part, Placed, around

ALONG: Final = "along"
ACROSS: Final = "across"
RIM: Final = "rim"
SCREWS: Final = "screws"

_SPIGOT: Final = 2.0  # the plate goes so far into the barrel at least [mm]

_RUN: Final = 100.0  # of the plunger's travel, and of pieces, that figures are given for

_PRESSURE: Final = 0.1  # that the push on the plate is given for [MPa]: 100 kPa, 1 bar


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
        75.0, 20.0, 300.0, "inner diameter of the extruder's barrel", "assumed; measure yours"
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
        "rim: slips into the barrel, its rim held by the barrel's cap; screws: a ring of screws",
        "assumed; see how your extruder holds its plates",
    )
    rim_width: float = length(
        6.0, 2.0, 40.0, "how far the rim stands out beyond the barrel's bore", "assumed"
    )
    rim_thickness: float = length(4.0, 2.0, 20.0, "of the rim", "assumed")
    screws: int = count(6, 3, 16, "how many screws hold a screwed plate", "assumed; count yours")
    screw_circle: float = length(
        100.0, 30.0, 400.0, "diameter of the circle that the screws stand on", "assumed"
    )
    screw_hole: float = length(
        5.5,
        2.0,
        13.0,
        "diameter of a screw's hole",
        "ISO 273, medium series, for a screw of 5 mm; from memory",
    )

    @property
    def inside(self) -> float:
        """Radius of the circle that openings must keep within [mm]."""
        return round(self.barrel / 2 - self.clearance - self.wall, 9)

    @property
    def thickness(self) -> float:
        """Of the plate, in whole layers [mm]: relief, land and lead-in."""
        return self.in_layers(self.relief + self.land + self.lead_in)

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
            most = units.show(self.barrel / 2 - self.clearance - 1.0, "mm")
            yield Fault("wall", units.show(self.wall, "mm"), f"give less than {most}")
        if self.fixing == RIM:
            most_rim = self.thickness - _SPIGOT
            if self.in_layers(self.rim_thickness) > most_rim + 1e-9:
                right = f"give at most {units.show(most_rim, 'mm')}, or a longer land"
                yield Fault("rim_thickness", units.show(self.rim_thickness, "mm"), right)
            return
        least = self.barrel + self.screw_hole + 2 * self.wall
        apart = (self.screw_hole + self.wall) / math.sin(math.pi / self.screws)
        if self.screw_circle < max(least, apart):
            why = "clear of the barrel" if least >= apart else "clear of each other"
            right = f"give at least {units.show(max(least, apart), 'mm')}: screws stand {why}"
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
        opening = self._opening(centred(section))
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
            floor=self.in_layers(self.rim_thickness) if self.fixing == RIM else self.thickness,
            relief=self.relief,
            words=beneath(
                order.words, feet, radius=edge, deep=deep, letters=self.letters, nozzle=self.nozzle
            ),
        )
        bore = math.pi * (self.barrel / 2) ** 2
        number = len(laid.spots)
        run = _RUN * bore / body.volume
        facts = (
            ("opening_area_mm2", section.area),
            ("cut_length_mm", cut),
            ("wet_length_per_100_pieces_mm", _RUN * cut),
            ("pieces_per_100_mm_of_barrel", run),
            ("clay_speed_over_plunger_speed", bore / (number * section.area)),
            ("plate_thickness_mm", self.thickness),
            ("push_on_plate_per_100_kpa_n", bore * _PRESSURE),
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
            advice=self._advice(cut, section, bore, run, square=long is not None),
        )

    def _opening(self, section: Outline) -> Body:
        """What is cut out of the plate for one opening: relief, land and lead-in.

        Raises
        ------
        NotMakeable
            The outline is too tight for the lead-in; the message says where, and what would do.
        """
        out = max(self.lead, self.relief)
        found = with_room(section, out)
        if found is None:
            place = tight_places(section, out)[0]
            most = math.floor(room(section, out) * 100) / 100
            deep = math.floor(most / math.tan(math.radians(self.lead_angle)) * 10) / 10
            x, y = (round(v, 1) + 0.0 for v in place.at)
            what = "a bend of radius" if place.kind == "bend" else "a gap of"
            mend = f"--making lead_in={deep:g}mm at most" if deep else "--making lead_in=0"
            if most < self.relief:
                mend += f" --making relief={most:g}mm"
            raise NotMakeable(
                f"the lead-in widens the opening by {out:.2f} mm, and the outline is too tight "
                f"for that at ({x:.1f}, {y:.1f}) mm from its middle: {what} "
                f"{place.width:.2f} mm. Give {mend}"
            )
        levels = [(self.relief, found), (self.thickness - self.lead_in, found)]
        if self.relief:
            levels.insert(0, (0.0, found.offset(self.relief)))
        if self.lead_in:
            levels.append((self.thickness, found.offset(self.lead)))
        return Body((Loft(tuple(levels)),))

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
        if self.fixing == RIM:
            rim = self.in_layers(self.rim_thickness)
            wide = self.barrel / 2 + self.rim_width
            spigot = Outline.circle(self.barrel / 2 - self.clearance)
            solids = (
                Placed(standing(Outline.circle(wide), rim, self.relief)),
                Placed(prism(spigot, self.thickness - rim), z=rim),
            )
            return solids, (), wide - self.relief - 1.0
        hole = prism(Outline.circle(self.screw_hole / 2), self.thickness)
        radius = self.screw_circle / 2
        angles = [math.tau * (k + 0.5) / self.screws for k in range(self.screws)]
        holes = tuple(Placed(hole, radius * math.cos(a), radius * math.sin(a)) for a in angles)
        plate = standing(Outline.circle(self.wide / 2), self.thickness, self.relief)
        return (Placed(plate),), holes, radius - self.screw_hole / 2 - 1.0

    @property
    def wide(self) -> float:
        """Diameter of the plate [mm]."""
        if self.fixing == RIM:
            return self.barrel + 2 * self.rim_width
        return self.screw_circle + self.screw_hole + 2 * (self.wall + self.relief)

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

    def _advice(
        self, cut: float, section: Outline, bore: float, run: float, *, square: bool
    ) -> tuple[str, ...]:
        """How bars or slices are cut, and what to mind."""
        what = f"bars of {cut:.1f} mm" if square else f"slices {cut:.1f} mm thick"
        ends = (
            "Ends come square: round them by hand where the shape has round ones."
            if square
            else "Walls come upright; a slice may lie on either face."
        )
        push = bore * _PRESSURE / units.GRAVITY
        return (
            f"Cut {what} while the clay is wet: 100 pieces want {_RUN * cut / 1000:.2f} m, and "
            f"100 mm of the barrel give {run:.1f}.",
            ends,
            "Clay swells a little as it leaves the land, more or less with the mix, and nothing is "
            "allowed for that: cut a test length, measure it wet, and make the plate anew for a "
            "size that is smaller by as much where it matters.",
            f"Each 100 kPa (1 bar) of pressure pushes on the plate like {push:.0f} kg. Press "
            "slowly, keep hands and face away from the opening, and look for cracks before each "
            "use: a printed plate can break. Open the barrel only when no pressure is left in it.",
        )


def _widest(opening: Body) -> Outline:
    """The largest section of an opening: what must stay apart from the next."""
    return max((outline for _, outline in opening.lofts[0].sections), key=lambda o: o.area)


def _on_bed(laid: Openings) -> Iterator[tuple[float, float, float, float]]:
    """Places on the bed: x, y, z and turn."""
    for spot in laid.spots:
        yield spot.x, spot.y, 0.0, spot.turn
