"""The frame and its pusher: a block with cavities right through it, and what frees the piece.

The frame lies on a level board, narrow ends down.  Clay is pressed in and struck off; then the
frame is lifted, and the pusher, which follows the narrow end, pushes each piece out toward its
wide end.  Where a piece has holes, the cores that make them stand on a plate under the frame,
and are drawn out before the piece is pushed.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from wadforms import units
from wadforms.errors import Fault, NotMakeable
from wadforms.families.base import Piece, length
from wadforms.geometry.body import Body, Loft
from wadforms.geometry.outline import Outline
from wadforms.moulds.base import (
    Kind,
    Order,
    ledge_field,
    refuse_thin_ridges,
    turned_over,
    wall_field,
    widening,
)
from wadforms.moulds.board import Block, Board, Laid, block, lay, standing
from wadforms.moulds.kinds.parallel import moved, neck, outlines
from wadforms.moulds.kinds.plain import obstacle
from wadforms.moulds.label import sunk
from wadforms.moulds.part import Mould, Part, Placed, prism

_LEAST_GRIP: Final = 32.0  # across, for a palm [mm]; assumed

_PALM: Final = ((0.0, -4.5), (3.0, -1.5), (6.5, 0.0))  # bevels of the grip, (level, offset) [mm]

_SHOULDER: Final = 3.0  # radius around the grip's upper edge [mm]

_STOP: Final = 3.0  # of the grip's level face all around the plunger [mm]

_LIP: Final = 2.0  # of the rim that holds the frame in its place over the cores: width [mm]

_LIP_RISE: Final = 2.0  # and height over the plate; a frame is 3 mm high at least [mm]

_LEAST_CORE: Final = 3.0  # a core that is thinner would break [mm]; assumed


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame(Kind):
    """A block with cavities that go through it, and a pusher.

    Examples
    --------
    >>> from wadforms.families import family
    >>> made = Frame().make(Order(family("ring")().piece(), 0.06))
    >>> [part.name for part in made.parts]
    ['frame', 'pusher', 'cores']
    """

    name = "frame"
    summary = "a block that is open below, with a pusher for the piece; for flat tops"

    wall: float = wall_field()
    clearance: float = length(
        0.4,
        0.1,
        1.5,
        "between the pusher and the cavity's narrow end, on each side",
        "makers of printers give 0.2 to 0.5 mm for parts that slide, and do not agree",
    )
    travel: float = length(1.5, 0.0, 20.0, "how far the pusher comes out above the rim", "assumed")
    grip: float = length(
        20.0, 12.0, 60.0, "height of the pusher's grip", "assumed; fingers close around it"
    )
    plate: float = length(
        3.0,
        1.6,
        20.0,
        "thickness of the plate that the cores of holes stand on",
        "assumed; 1.6 mm is eight layers of 0.2 mm",
    )
    ledge: float = ledge_field()

    def faults(self) -> Iterator[Fault]:
        """The relief must leave some of the cores' plate upright."""
        yield from Kind.faults(self)
        if self.relief >= self.plate:
            yield Fault("relief", f"{self.relief:g} mm", "give less than the plate")

    def refusal(self, piece: Piece) -> str | None:
        """A frame makes what has one level top that a pusher can follow."""
        if (reason := obstacle(piece) or widening(piece)) is not None:
            return reason
        lines, sides = 2 * self.nozzle, 2 * self.clearance
        top = _narrow_end(piece.body)
        found = neck(top, sides) or neck(top, sides + lines)
        if found is not None:
            left = max(found.width - sides, 0.0)
            return (
                f"is {units.show(found.width, 'mm')} wide {found.where} on its top: a pusher with "
                f"{units.show(self.clearance, 'mm')} of clearance on each side would have "
                f"{units.show(round(left, 2), 'mm')} there, and needs two printed lines, "
                f"{units.show(lines, 'mm')}"
            )
        for hole in piece.body.base.holes:
            width = Outline(hole).inscribed_width
            if width < _LEAST_CORE:
                return (
                    f"has a hole {units.show(round(width, 2), 'mm')} wide at its base, and a core "
                    f"of less than {_LEAST_CORE:g} mm would break"
                )
        return None

    def parts_for(self, order: Order) -> Mould:
        """See `Kind.parts_for`."""
        refuse_thin_ridges(order, self.nozzle)
        wet = order.wet.body
        mouth = turned_over(wet.base)
        # The relief takes its share of the outer wall where a cavity without draft is no
        # narrower, and the plate of the cores reaches beyond the block.
        rim = self.wall + self.relief
        beyond = self.clearance + _LIP if mouth.holes else 0.0
        found = lay(mouth, order.board, wall=self.wall, rim=rim + beyond, ledge=self.ledge)
        laid = found._replace(width=found.width - 2 * beyond, depth=found.depth - 2 * beyond)
        around = block(
            laid, height=wet.height, wall=rim, ledge=self.ledge,
            ledge_height=min(self.in_layers(max(wet.height / 2, 3.0)), wet.height),
            relief=self.relief,
        )  # fmt: skip
        words = sunk(order.words, around, letters=self.letters, nozzle=self.nozzle)
        cavity = _without_holes(wet)
        frame = Part(
            name=self.name,
            solids=around.solids,
            cuts=tuple(Placed(cavity, s.x, s.y, wet.height, s.turn, over=True) for s in laid.spots),
            form=wet,
            wall=self.wall,
            floor=0.0,
            relief=self.relief,
            words=words,
        )
        pusher = self._pusher(wet, order.board)
        cores = (self._cores(wet, laid, around),) if mouth.holes else ()
        return Mould(
            kind=self.name,
            parts=(frame, pusher, *cores),
            cavities=len(laid.spots),
            wet=wet,
            wet_outline_size=order.wet.outline.size,
            set_volume=order.piece.volume,
            contact_top_area=order.piece.top_area,
            facts=(
                ("frame_height_mm", wet.height),
                ("plunger_length_mm", wet.height + self.travel),
                ("clearance_mm", self.clearance),
            ),
            advice=self._advice(holes=bool(cores)),
        )

    def _pusher(self, wet: Body, board: Board) -> Part:
        """A plunger on a grip, standing on the grip.

        Raises
        ------
        NotMakeable
            It is too large for the bed.
        """
        (plunger,) = moved(turned_over(_narrow_end(wet)), -self.clearance)
        rise = self.in_layers(self.grip)
        widest = _around(plunger)
        grip = Body((Loft.drafted(widest, _grip_profile(rise)),))
        rod = prism(plunger, wet.height + self.travel)
        turns = range(0, 180, 5) if board.printable else (0,)
        for turn in turns:
            made = Part(
                name="pusher",
                solids=(Placed(grip, turn=turn), Placed(rod, z=rise, turn=turn)),
                cuts=(),
                form=rod,
                wall=2 * self.nozzle,
                floor=rise - _SHOULDER,
                relief=_PALM[-1][0],
                once=True,
            )
            room = board.printable
            if room is None or (made.size[0] <= room[0] and made.size[1] <= room[1]):
                return made
        size = " × ".join(units.show(side, "mm") for side in widest.size)
        raise NotMakeable(
            f"the grip of the pusher measures {size} and does not fit the bed at any turn"
        )

    def _cores(self, wet: Body, laid: Laid, around: Block) -> Part:
        """A plate that the frame is set on, with the cores of the holes."""
        inner = _ground(around).offset(self.clearance)
        outer = inner.offset(_LIP)
        plate = self.in_layers(self.plate)
        lip = prism(Outline(outer.outer, (inner.outer,)), _LIP_RISE)
        cores = _holes(wet)
        stand = tuple(
            Placed(core, s.x, s.y, plate + wet.height, s.turn, over=True)
            for s in laid.spots
            for core in cores
        )
        return Part(
            name="cores",
            solids=(Placed(standing(outer, plate, self.relief)), Placed(lip, z=plate), *stand),
            cuts=(),
            form=Body(tuple(core.lofts[0] for core in cores)),
            wall=_LIP,
            floor=plate,
            relief=self.relief,
        )

    def _advice(self, *, holes: bool) -> tuple[str, ...]:
        where = "Set the frame into the rim of the cores' plate" if holes else (
            "Lay the frame on a level board with a sheet of paper"
        )  # fmt: skip
        draw = (
            "turn frame and plate over together and lift the plate off, its cores with it"
            if holes
            else "lift the frame off the board and turn it over, the narrow ends up"
        )
        return (
            f"{where}, the narrow ends of the cavities down; dust it, press the clay in, and "
            "strike it off level with the rim.",
            f"To free a piece, {draw}; hold it clear of the board, press the pusher in from the "
            "narrow end until its grip meets the frame, and take the piece from below.",
            "The first layer spreads on the bed: trim the narrow ends with a blade until the "
            f"pusher slides; it was given {units.show(self.clearance, 'mm')} on each side.",
        )


def _narrow_end(body: Body) -> Outline:
    """The highest section of a piece, its rounding taken off: the lowest in the frame."""
    return body.lofts[0].top[1]


def _without_holes(body: Body) -> Body:
    """The body, its holes filled."""
    return Body(
        tuple(Loft(tuple((z, Outline(o.outer)) for z, o in x.sections)) for x in body.lofts)
    )


def _holes(body: Body) -> tuple[Body, ...]:
    """What fills each hole of a body of one loft."""
    sections = body.lofts[0].sections
    return tuple(
        Body((Loft(tuple((z, Outline(o.holes[k])) for z, o in sections)),))
        for k in range(len(body.base.holes))
    )


def _around(plunger: Outline) -> Outline:
    """The grip's outline: round and convex, wide enough for a palm and for its edges."""
    hull = plunger.polygon().convex_hull
    box = list(hull.minimum_rotated_rectangle.exterior.coords)
    narrow = min(math.dist(box[0], box[1]), math.dist(box[1], box[2]))
    # A hair more, for what is straightened.
    reach = max(_SHOULDER + _STOP, (_LEAST_GRIP - narrow) / 2) + 0.1
    (found,) = outlines(hull.simplify(0.05).buffer(reach, quad_segs=16).simplify(0.01))
    return found


def _grip_profile(rise: float) -> tuple[tuple[float, float], ...]:
    """Levels and offsets of a grip [mm]: bevelled for the palm below, rounded above."""
    angles = [math.pi / 2 * k / 4 for k in range(5)]
    edge = tuple(
        (rise - _SHOULDER * (1 - math.sin(a)), -_SHOULDER * (1 - math.cos(a))) for a in angles
    )
    return (*_PALM, *edge)


def _ground(around: Block) -> Outline:
    """The convex outline around a block."""
    (found,) = outlines(around.solids[0].body.lofts[0].top[1].polygon().convex_hull)
    return found
