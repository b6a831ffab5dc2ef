"""How a mould is made, whatever the shape: walls, floor, relief."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from wadforms.errors import Fault
from wadforms.families.base import Sized, length


@dataclass(frozen=True, slots=True, kw_only=True)
class Making(Sized):
    """Thicknesses of a printed mould.

    Examples
    --------
    >>> Making().wall
    3.0
    >>> Making.sized({"wall": "1 mm"})
    Traceback (most recent call last):
    ...
    wadforms.errors.BadInput: wall: 1 mm was given; give 2.4 mm to 20 mm
    """

    name = "mould"

    wall: float = length(
        3.0,
        2.4,
        20.0,
        "thickness of the wall at the mouth, where it is thinnest",
        "assumed; 2.4 mm is six lines of a 0.4 mm nozzle, which bear pressing and striking off",
    )
    floor: float = length(
        3.0,
        1.6,
        20.0,
        "thickness under the deepest point of the cavity",
        "assumed; 1.6 mm is eight layers of 0.2 mm",
    )
    relief: float = length(
        0.5,
        0.0,
        1.0,
        "bevel of 45° along the lower edge, where a first layer spreads on the bed",
        "assumed; makers of printers give 0.2 to 0.5 mm",
    )

    def faults(self) -> Iterator[Fault]:
        """The relief must leave some floor upright."""
        if self.relief >= self.floor:
            yield Fault("relief", f"{self.relief:g} mm", "give less than the floor")
