"""What every family of shapes has: declared parameters, their checks, and a piece.

A parameter's unit, bounds, default and help are written once, where the family's field is
declared.  Validation, help text, documents, the page's sliders and the property tests read
them from there.
"""

from __future__ import annotations

import math
from abc import ABC, abstractmethod
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, fields
from functools import cache
from typing import TYPE_CHECKING, Any, ClassVar, Final, NamedTuple, Self

from wadforms import units
from wadforms.errors import BadInput, Fault, UnknownName, quoted
from wadforms.geometry.body import Body
from wadforms.geometry.outline import Outline

if TYPE_CHECKING:
    from wadforms.geometry.easing import Easing
    from wadforms.geometry.weakness import WeakPlace

WET: Final = "wet"
DRY: Final = "dry"
SOLID: Final = "solid"
BODIES: Final = (WET, DRY, SOLID)
"""How a wad is set: soft; shaped and dried first; or of dense clay, biscuit-fired."""


@dataclass(frozen=True, slots=True)
class Parameter:
    """A number, a count, a choice or an outline that a family is sized by.

    Parameters
    ----------
    name : str
        As it is typed.
    unit : str
        ``"mm"``, ``"deg"``, ``"share"`` or ``"parts"`` to 100; ``"count"`` for whole numbers,
        ``"choice"`` for words, ``"outline"`` for an outline read from a file.
    default : object
        The value where none is given.
    low, high : float
        Smallest and largest value allowed, in `unit`.
    choices : tuple of str
        The words allowed.
    help : str
        What it measures.
    source : str
        Where the default comes from, or ``"assumed"``; empty for a size that is the user's.
    """

    name: str
    unit: str
    default: Any
    low: float = -math.inf
    high: float = math.inf
    choices: tuple[str, ...] = ()
    help: str = ""
    source: str = ""

    @property
    def range(self) -> str:
        """The values allowed, for people.

        Examples
        --------
        >>> Parameter("height", "mm", 8.0, 3.0, 40.0).range
        '3 mm to 40 mm'
        """
        if self.unit == "choice":
            return " or ".join(self.choices)
        if self.unit == "outline":
            return "an outline file"
        return f"{units.show(self.low, self.unit)} to {units.show(self.high, self.unit)}"

    def read(self, value: object, where: str) -> Any:
        """Turn what was given, text or a number in `unit`, into a value.

        Raises
        ------
        BadInput
            It is not such a value; bounds are checked by the family.
        """
        if self.unit == "outline":
            if not isinstance(value, Outline):
                raise BadInput(Fault(where, quoted(value), f"give {self.range}"))
            return value
        if self.unit == "choice":
            return value
        if self.unit == "count":
            text = value if isinstance(value, str) else quoted(value)
            number = None if isinstance(value, bool) else units.count(text)
            if number is None:
                raise BadInput(Fault(where, quoted(value), f"give a whole number, {self.range}"))
            return number
        if isinstance(value, float) or (isinstance(value, int) and not isinstance(value, bool)):
            try:
                return float(value)
            except OverflowError:
                raise BadInput(Fault(where, quoted(value), f"give {self.range}")) from None
        return units.parse(value if isinstance(value, str) else quoted(value), self.unit, where)

    def fault(self, value: Any) -> Fault | None:
        """What is wrong with a value, if anything."""
        if self.unit == "outline":
            given = "none" if value is None else repr(value)
            return (
                None
                if isinstance(value, Outline)
                else Fault(self.name, given, f"give {self.range}")
            )
        if self.unit == "choice":
            if value in self.choices:
                return None
            return Fault(self.name, quoted(value), f"give {self.range}")
        if math.isfinite(value) and self.low <= value <= self.high:
            return None
        given = units.show(value, self.unit) if math.isfinite(value) else str(value)
        return Fault(self.name, given, f"give {self.range}")


def length(default: float, low: float, high: float, help: str, source: str = "") -> Any:
    """Declare a length [mm] as a field of something `Sized`."""
    return _declare("mm", default, low, high, help, source=source)


def angle(default: float, low: float, high: float, help: str, source: str = "") -> Any:
    """Declare an angle [deg] as a field of something `Sized`."""
    return _declare("deg", default, low, high, help, source=source)


def count(default: int, low: int, high: int, help: str, source: str = "") -> Any:
    """Declare a whole number as a field of something `Sized`."""
    return _declare("count", default, low, high, help, source=source)


def choice(default: str, choices: tuple[str, ...], help: str, source: str = "") -> Any:
    """Declare a choice between words as a field of something `Sized`."""
    return _declare("choice", default, choices=choices, help=help, source=source)


def share_field(default: float, low: float, high: float, help: str, source: str = "") -> Any:
    """Declare a share of something as a field of something `Sized`; typed as 0.07 or 7 %."""
    return _declare("share", default, low, high, help, source=source)


def parts_field(default: float, low: float, high: float, help: str, source: str = "") -> Any:
    """Declare parts to 100 of something, as a field of something `Sized`; 70 and 70 % are one."""
    return _declare("parts", default, low, high, help, source=source)


def outline_field(help: str) -> Any:
    """Declare an outline as a field of a family; it has no default."""
    return _declare("outline", None, help=help)


def _declare(
    unit: str,
    default: Any,
    low: float = -math.inf,
    high: float = math.inf,
    help: str = "",
    choices: tuple[str, ...] = (),
    source: str = "",
) -> Any:
    return field(default=default, metadata={"declared": (unit, low, high, choices, help, source)})


def height_field(default: float = 8.0, low: float = 3.0, high: float = 60.0) -> Any:
    """Declare the height of a piece [mm], base to bearing top."""
    return length(default, low, high, "height from the base to the bearing top")


def draft_field() -> Any:
    """Declare the draft of the walls.

    5° is assumed for gritty mix that must leave a printed mould (common practice, no source);
    ceramic and plaster handbooks give less for smooth clay.
    """
    return angle(5.0, 0.0, 15.0, "how far the walls lean out toward the base")


def rounding_field(default: float = 0.0, high: float = 5.0) -> Any:
    """Declare the rounding [mm] of the upper edge, which is taken off the bearing face."""
    return length(default, 0.0, high, "radius of the upper edge")


def corner_field(default: float = 4.0) -> Any:
    """Declare the radius [mm] of the corners that stand out."""
    return length(default, 0.0, 30.0, "radius of the outer corners")


def inner_field(between: str, default: float = 5.0) -> Any:
    """Declare the radius [mm] of the hollow corners, which lie between what is named."""
    return length(default, 0.0, 40.0, f"radius between {between}")


class Tips(NamedTuple):
    """Fine tips that bear instead of a flat top.

    Parameters
    ----------
    flat_area : float
        Of the small flat on one tip [mm²].
    base_area : float
        Of one tip where it grows out of the piece [mm²]; 0 for a stone, which is no clay.
    rise : float
        How far the bearing level stands above the body's own top [mm].
    """

    flat_area: float
    base_area: float
    rise: float = 0.0


@dataclass(frozen=True, slots=True)
class Piece:
    """One wad at its set size: outline, bearing top and solid.

    Parameters
    ----------
    outline : Outline
        In plan at the level of the bearing face, before the edge is rounded [mm].
    body : Body
        The solid, base at z = 0.
    faces : tuple of Outline
        What can touch the pot: the top less its rounding, or the flats of the tips; empty for
        a piece that bears no pot.
    tips : Tips or None
        Given where `faces` are tips.
    hollow_radius : float or None
        Radius of a concave top that takes a pot on its side [mm].
    """

    outline: Outline
    body: Body
    faces: tuple[Outline, ...]
    tips: Tips | None = None
    hollow_radius: float | None = None

    @property
    def volume(self) -> float:
        """Volume [mm³]."""
        return self.body.volume

    @property
    def coated_area(self) -> float:
        """Top and sides [mm²], for kiln wash."""
        return self.body.coated_area

    @property
    def height(self) -> float:
        """From the base to the bearing level [mm]."""
        return self.body.height + (self.tips.rise if self.tips else 0.0)

    @property
    def top_area(self) -> float:
        """Area of all that can touch the pot [mm²]."""
        return math.fsum(face.area for face in self.faces)

    def scaled(self, factor: float) -> Piece:
        """The piece at another size, all in proportion: wet or fired."""
        tips = self.tips and Tips(
            self.tips.flat_area * factor**2,
            self.tips.base_area * factor**2,
            self.tips.rise * factor,
        )
        return Piece(
            self.outline.scaled(factor),
            self.body.scaled(factor),
            tuple(face.scaled(factor) for face in self.faces),
            tips,
            self.hollow_radius and self.hollow_radius * factor,
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Sized:
    """Something whose parameters are declared, read and checked by one rule.

    Subclasses are frozen dataclasses whose fields are declared with `length`, `angle`, `count`
    or `choice`.  An instance cannot exist with a value out of bounds.
    """

    name: ClassVar[str]

    def __post_init__(self) -> None:
        """Refuse values out of bounds, and values that do not go together, all at once."""
        faults = [f for p in self.parameters() if (f := p.fault(getattr(self, p.name)))]
        faults = faults or list(self.faults())
        if faults:
            raise BadInput(*faults)

    @classmethod
    def parameters(cls) -> tuple[Parameter, ...]:
        """The declared parameters, in order."""
        return _parameters(cls)  # type: ignore[arg-type]  # a class can be hashed

    @classmethod
    def sized(cls, values: Mapping[str, object], where: str = "") -> Self:
        """An instance from typed values: text with units, or numbers in the declared unit.

        Parameters
        ----------
        values : mapping
            Parameter name to value; what is left out keeps its default.
        where : str
            The file they come from, for messages.

        Raises
        ------
        BadInput
            With every fault found.
        """
        known = {p.name: p for p in cls.parameters()}
        prefix = f"{where}: " if where else ""
        read: dict[str, Any] = {}
        faults: list[Fault] = []
        for name, value in values.items():
            if name not in known:
                faults += UnknownName(f"{prefix}parameter of {cls.name}", name, known).faults
                continue
            try:
                read[name] = known[name].read(value, prefix + name)
            except BadInput as error:
                faults += error.faults
        if faults:
            raise BadInput(*faults)
        try:
            return cls(**read)
        except BadInput as error:
            raise BadInput(
                *(Fault(prefix + f.where, f.given, f.right) for f in error.faults)
            ) from None

    def faults(self) -> Iterator[Fault]:
        """Faults between parameters, each within its own bounds."""
        yield from ()


@cache
def _parameters(cls: type[Sized]) -> tuple[Parameter, ...]:
    found = []
    for f in fields(cls):
        unit, *declared = f.metadata["declared"]
        found.append(Parameter(f.name, unit, f.default, *declared))
    return tuple(found)


@dataclass(frozen=True, slots=True, kw_only=True)
class Family(Sized, ABC):
    """A parametric kind of shape; an instance is one size of it."""

    summary: ClassVar[str]
    bodies: ClassVar[tuple[str, ...]] = BODIES

    @property
    def allowed_bodies(self) -> tuple[str, ...]:
        """How a piece of this size may be set: the family's `bodies`, or fewer of them."""
        return self.bodies

    def easing(self) -> Easing | None:
        """What was filled of the outline so that it has room for its walls; None if not asked."""
        return None

    @property
    def enlarged(self) -> float:
        """How many times a given outline is enlarged at this size."""
        return 1.0

    def weak_places(self) -> tuple[WeakPlace, ...]:
        """Where clay of this size breaks or tears more easily than anywhere else."""
        return ()

    @abstractmethod
    def piece(self) -> Piece:
        """The piece of this size.

        Raises
        ------
        NotMakeable
            The outline does not allow the draft or the rounding; the message names the place.
        """
