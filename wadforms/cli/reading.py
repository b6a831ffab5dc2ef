"""Turns what was typed into what is meant; every fault is told at once."""

from __future__ import annotations

import math
from collections.abc import Iterable
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar

from wadforms import units
from wadforms.cli.options import ClayOptions, PotOptions, ShapeOptions, WadOptions
from wadforms.errors import BadInput, Fault, UnknownName
from wadforms.families.base import BODIES, WET
from wadforms.setting.limits import PLACES, SHEAR, Limit, Place

if TYPE_CHECKING:
    from wadforms.catalogue import Shape
    from wadforms.families.base import Piece
    from wadforms.setting.arrangement import Spot
    from wadforms.setting.feet import Foot
    from wadforms.setting.mixes import Mix
    from wadforms.setting.pot import Pot

FOOT_KINDS = ("ring", "flat", "outline", "gallery", "round", "side")
WARES = ("flat", "hollow")

MOST_WADS = 200  # under one pot; more is a slip of the finger

_LEAST_ANGLE, _LARGEST_ANGLE = 5.0, 75.0  # of a rail's touch up a belly [deg]

_SMALLEST_BED, _LARGEST_BED = 40.0, 2000.0  # a side [mm]

_T = TypeVar("_T")


class Reader:
    """Reads options and collects what is wrong with them."""

    def __init__(self) -> None:
        self.faults: list[Fault] = []

    def quantity(self, text: str, unit: str, where: str) -> float:
        """A quantity in `unit`; NaN after a fault."""
        try:
            return units.parse(text, unit, where)
        except BadInput as error:
            self.faults += error.faults
            return math.nan

    def above_zero(self, text: str, unit: str, where: str) -> float:
        """A quantity in `unit` that must be more than nothing; NaN after a fault."""
        value = self.quantity(text, unit, where)
        if value <= 0.0:
            self.faults.append(Fault(where, repr(text), "give more than 0"))
        return value

    def unused(self, given: object, option: str, right: str) -> None:
        """A fault for an option that would have no effect here."""
        if given:
            self.faults.append(Fault(option, "something without effect here", right))

    def optional(self, text: str | None, unit: str, where: str) -> float | None:
        """A quantity in `unit`, or None where it was left out; NaN after a fault."""
        return None if text is None else self.quantity(text, unit, where)

    def one_of(self, word: str, known: Iterable[str], where: str) -> str:
        """A word out of several."""
        if word not in known:
            self.faults += UnknownName(where, word, known).faults
        return word

    def pair(self, text: str, where: str, example: str) -> tuple[str, str]:
        """NAME=VALUE, split."""
        name, sign, value = text.partition("=")
        if not (sign and name.strip() and value.strip()):
            self.faults.append(Fault(where, repr(text), f"write it as {example}"))
        return name.strip(), value.strip()

    def done(self) -> None:
        """Raise what was collected.

        Raises
        ------
        BadInput
            With all faults.
        """
        if self.faults:
            raise BadInput(*self.faults)


def read_pot(options: PotOptions) -> Pot:
    """The pot that the options describe.

    Raises
    ------
    BadInput
        With all faults.
    """
    from wadforms.cli.clay_file import read_clay
    from wadforms.setting.pot import Pot

    reader = Reader()
    masses = {"--weight": options.weight, "--lid": options.lid, "--stacked": options.stacked}
    mass = sum(reader.above_zero(text, "g", name) for name, text in masses.items() if text)
    height = reader.optional(options.height, "mm", "--height")
    centre_height = reader.optional(options.centre_height, "mm", "--centre-height")
    base_thickness = reader.optional(options.base_thickness, "mm", "--base-thickness")
    off_x = reader.quantity(options.off_x, "mm", "--off-x")
    off_y = reader.quantity(options.off_y, "mm", "--off-y")
    share = reader.quantity(options.share, "share", "--share")
    if options.ware is not None:
        reader.one_of(options.ware, WARES, "--ware")
    foot = _read_foot(options, reader)
    index, index_source = read_clay(options, reader)
    reader.done()
    assert foot is not None  # noqa: S101 - a missing foot is among the faults
    return Pot(
        mass=mass,
        foot=foot,
        height=height,
        centre_height=centre_height,
        centre=(off_x, off_y),
        share=share,
        ware=options.ware,
        base_thickness=base_thickness,
        pyroplastic_index=index,
        index_source=index_source,
    )


def _read_foot(options: PotOptions, reader: Reader) -> Foot | None:
    from wadforms.setting import feet

    diameter = reader.optional(options.foot, "mm", "--foot")
    width = reader.optional(options.foot_width, "mm", "--foot-width")
    belly = reader.optional(options.belly, "mm", "--belly")
    inner = tuple(reader.quantity(text, "mm", "--inner-ring") for text in options.inner_ring)
    if options.foot_kind is None and options.belly and not options.foot:
        right = "say --foot-kind round for a round bottom, or side for a pot laid down"
        reader.faults.append(Fault("--belly", "no kind of foot", right))
    ringed = width is not None or options.inner_ring
    kind = options.foot_kind or (
        "outline" if options.foot_outline else "ring" if ringed else "flat"
    )
    reader.one_of(kind, FOOT_KINDS, "--foot-kind")
    for given, option, kinds in (
        (options.foot, "--foot", ("ring", "flat", "gallery")),
        (options.foot_width, "--foot-width", ("ring", "gallery")),
        (options.inner_ring, "--inner-ring", ("ring",)),
        (options.foot_outline, "--foot-outline", ("outline",)),
        (options.belly, "--belly", ("round", "side")),
    ):
        if kind in FOOT_KINDS and kind not in kinds:
            reader.unused(given, option, f"a {kind} foot has no use for it: leave it out")

    def need(value: _T | None, option: str, example: str) -> _T | None:
        if value is None:
            reader.faults.append(
                Fault(option, "nothing", f"a {kind} foot needs it: {option} {example}")
            )
        return value

    needed: list[object] = []
    if kind in ("ring", "gallery"):
        needed = [need(diameter, "--foot", "50mm"), need(width, "--foot-width", "5mm")]
    elif kind == "flat":
        needed = [need(diameter, "--foot", "240mm")]
    elif kind == "outline":
        needed = [need(options.foot_outline, "--foot-outline", "foot.svg")]
    elif kind in ("round", "side"):
        needed = [need(belly, "--belly", "130mm")]
    if reader.faults or not needed:
        return None
    match kind:
        case "ring":
            return feet.RingFoot(diameter or 0.0, width or 0.0, inner)
        case "gallery":
            return feet.GalleryFoot(diameter or 0.0, width or 0.0)
        case "flat":
            return feet.FlatFoot(diameter or 0.0)
        case "outline":
            from wadforms.catalogue.outlines import read_drawn
            from wadforms.cli.printing import talk

            drawn = read_drawn(Path(str(options.foot_outline)))
            for note in drawn.notes:
                talk(f"{options.foot_outline}: {note}")
            return feet.OutlineFoot(drawn.outline)
        case "round":
            return feet.RoundFoot(belly or 0.0)
        case _:
            return feet.SideFoot(belly or 0.0)


def read_bed(text: str, where: str) -> tuple[float, float]:
    """Width and depth of a printer's bed [mm].

    Raises
    ------
    BadInput
        It is none.
    """
    width, depth = units.extent(text, where)
    if not all(_SMALLEST_BED <= side <= _LARGEST_BED for side in (width, depth)):
        right = f"give {_SMALLEST_BED:g} mm to {_LARGEST_BED:g} mm a side"
        raise BadInput(Fault(where, repr(text), right))
    return width, depth


def read_place(options: ClayOptions) -> Place:
    """The place in the kiln.

    Raises
    ------
    UnknownName
        There is no such place.
    """
    if options.place not in PLACES:
        raise UnknownName("--place", options.place, PLACES)
    return PLACES[options.place]


def read_body(options: ClayOptions, allowed: Iterable[str] = BODIES) -> str:
    """The body that the user wants, else the first that the shape can have.

    Raises
    ------
    BadInput
        The shape cannot be set so.
    """
    allowed = tuple(allowed)
    if options.body is None:
        if options.mix is not None:
            from wadforms.setting.mixes import mix

            of_mix = mix(options.mix).bodies
            allowed = tuple(b for b in allowed if b in of_mix) or allowed
        return WET if WET in allowed else allowed[0]
    if options.body not in BODIES:
        raise UnknownName("--body", options.body, BODIES)
    if options.body not in allowed:
        right = f"this shape can be set {' or '.join(allowed)}"
        raise BadInput(Fault("--body", repr(options.body), right))
    return options.body


def read_mix(options: ClayOptions, body: str) -> Mix:
    """The mix, with the user's own limits in place of assumed ones.

    Raises
    ------
    BadInput
        With all faults.
    """
    from wadforms.setting.mixes import MEASURABLE, USUAL, mix

    limits = {k: v for k, v in _measured(options).items() if k in MEASURABLE}
    return mix(options.mix or USUAL[body]).measured(limits, "measured, given with --measured")


def read_shear(options: ClayOptions) -> Limit:
    """Shear strength of the wet mix: the user's own, or by how it feels.

    Raises
    ------
    BadInput
        The feel is none that is known.
    """
    own = _measured(options).get("shear")
    if own is not None:
        return Limit(own, "kPa", "measured, given with --measured", assumed=False)
    if options.feel not in SHEAR:
        raise UnknownName("--feel", options.feel, SHEAR)
    return SHEAR[options.feel]


def _measured(options: ClayOptions) -> dict[str, float]:
    from wadforms.setting.mixes import MEASURABLE

    reader = Reader()
    found = {}
    for text in options.measured:
        name, value = reader.pair(text, "--measured", "at-heat=80kPa")
        reader.one_of(name, (*MEASURABLE, "shear"), "--measured")
        if value:
            found[name] = reader.quantity(value, "kPa", f"--measured {name}")
            if found[name] <= 0:
                reader.faults.append(Fault(f"--measured {name}", value, "give more than 0"))
    reader.done()
    return found


def read_shape(name: str, options: ShapeOptions) -> tuple[Shape, dict[str, str]]:
    """A shape of the library, and the changes to it.

    Raises
    ------
    BadInput
        The shape is unknown, a change is not written as NAME=VALUE, or it cannot be eased.
    """
    from wadforms.catalogue import find
    from wadforms.families import family

    reader = Reader()
    pairs = [reader.pair(text, "--with", "height=12mm") for text in options.with_]
    changes = dict(pairs)
    if len(changes) < len(pairs):
        named = [name for name, _ in pairs]
        twice = next((name for name in named if named.count(name) > 1), "")
        reader.faults.append(Fault(f"--with {twice}", "two values", "give one"))
    if options.ease and changes.setdefault("ease", "yes") != "yes":
        reader.faults.append(Fault("--ease", "--with ease too", "give one of them"))
    reader.done()
    found = find(name, options.shapes_in)
    for parameter in family(found.family).parameters():
        if parameter.unit == "outline" and changes.get(parameter.name, "").lower().endswith(".dxf"):
            from wadforms.catalogue.outlines import read_drawn
            from wadforms.cli.printing import talk

            path = changes[parameter.name]
            for note in read_drawn(Path(path)).notes:
                talk(f"{path}: {note}")
    if options.ease and all(p.name != "ease" for p in family(found.family).parameters()):
        right = "leave it out: only a custom outline is eased, the other shapes are sound by rule"
        raise BadInput(Fault("--ease", f"a {found.family}", right))
    return found, changes


def read_spots(options: WadOptions, pot: Pot, piece: Piece) -> tuple[Spot, ...]:
    """Where the wads go.

    Raises
    ------
    BadInput
        With all faults.
    """
    from wadforms.setting.arrangement import Spot, circle
    from wadforms.setting.feet import PlaneFoot

    reader = Reader()
    turn = reader.quantity(options.turn, "deg", "--turn")
    radius = None
    if options.radius is not None:
        radius = reader.above_zero(options.radius, "mm", "--radius")
    angle = reader.optional(options.rail_angle, "deg", "--rail-angle")
    if angle is not None and not _LEAST_ANGLE <= angle <= _LARGEST_ANGLE:
        right = f"give {_LEAST_ANGLE:g} to {_LARGEST_ANGLE:g} degrees"
        reader.faults.append(Fault("--rail-angle", repr(options.rail_angle), right))
    if options.how_many is not None and not 1 <= options.how_many <= MOST_WADS:
        reader.faults.append(Fault("--count", str(options.how_many), f"give 1 to {MOST_WADS}"))
    ways = {"--circle": options.circle, "--at": options.at, "--rail-angle": options.rail_angle}
    used = [option for option, given in ways.items() if given]
    if len(used) > 1:
        reader.faults.append(Fault("wads", " and ".join(used), "use one of them"))
    elif used:
        reader.unused(options.how_many, "--count", f"{used[0]} says how many: leave it out")
        reader.unused(options.radius, "--radius", f"{used[0]} says where: leave it out")
    spots: list[Spot] = []
    for text in options.circle:
        size, sign, count = text.rpartition(":")
        short = count.strip().isdecimal() and len(count.strip()) < 6
        number = int(count) if sign and short else 0
        if not 1 <= number <= MOST_WADS:
            right = f"write RADIUS:COUNT, as 180mm:15, with up to {MOST_WADS}"
            reader.faults.append(Fault("--circle", repr(text), right))
            continue
        spots += circle(number, reader.quantity(size, "mm", "--circle"), turn=turn)
    for text in options.at:
        parts = text.split(";")
        if not 2 <= len(parts) <= 3:
            reader.faults.append(Fault("--at", repr(text), "write X;Y or X;Y;TURN, as '40;-10;90'"))
            continue
        x, y = (reader.quantity(part, "mm", "--at") for part in parts[:2])
        spots.append(Spot(x, y, reader.quantity(parts[2], "deg", "--at") if parts[2:] else turn))
    reader.done()
    if spots:
        return tuple(spots)
    if angle is not None:
        return tuple(circle(2, _half(pot) * math.sin(math.radians(angle)), turn=turn))
    if piece.hollow_radius and options.how_many is None and radius is None:
        return (Spot(0.0, 0.0, turn),)
    number = 3 if options.how_many is None else options.how_many
    if number == 1 and radius is None:
        return (Spot(0.0, 0.0, turn),)
    if radius is None:
        if not isinstance(pot.foot, PlaneFoot):
            right = "say how far from the middle the wads stand, as --radius 40mm"
            raise BadInput(Fault("--radius", "nothing", right))
        radius = pot.foot.bearing_radius
    return tuple(circle(number, radius, turn=turn))


def _half(pot: Pot) -> float:
    from wadforms.setting.feet import SideFoot

    if not isinstance(pot.foot, SideFoot):
        right = "use it with --foot-kind side, a pot laid on two rails"
        raise BadInput(Fault("--rail-angle", f"a {pot.foot.kind} foot", right))
    return pot.foot.diameter / 2
