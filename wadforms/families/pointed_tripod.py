"""The pointed tripod: three fine tips of dense clay, which leave hardly a mark."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from wadforms.errors import Fault
from wadforms.families.arms import (
    arm_faults,
    arms_outline,
    end_field,
    tip_faults,
    tip_flat_field,
    tip_foot_field,
    tip_height_field,
    tipped,
)
from wadforms.families.base import (
    SOLID,
    Family,
    Piece,
    choice,
    draft_field,
    height_field,
    inner_field,
    length,
    rounding_field,
)
from wadforms.families.relations import LEAST_BEND, at_most
from wadforms.geometry.outline import Outline


@dataclass(frozen=True, slots=True, kw_only=True)
class PointedTripod(Family):
    """Three fine tips on arms or on a plate.

    Examples
    --------
    >>> piece = PointedTripod(tip_flat=2).piece()
    >>> len(piece.faces), round(piece.top_area, 4), piece.height
    (3, 9.4248, 18.0)
    """

    name = "pointed-tripod"
    summary = "three fine tips of dense clay on arms or on a plate; leaves hardly a mark"
    bodies = (SOLID,)

    form: str = choice("arms", ("arms", "plate"), "what the tips stand on")
    reach: float = length(32.0, 10.0, 150.0, "from the centre to the end of an arm or plate edge")
    width: float = length(
        14.0, 5.0, 60.0, "of an arm, or of the plate's rim that the tips stand on"
    )
    end: float = end_field(7.0)
    inner: float = inner_field("the arms", 6.0)
    height: float = height_field(18.0, 6.0)
    draft: float = draft_field()
    rounding: float = rounding_field(1.0)
    tip_height: float = tip_height_field(8.0, "; the arms or plate are the rest of it")
    tip_flat: float = tip_flat_field()
    tip_foot: float = tip_foot_field()

    def faults(self) -> Iterator[Fault]:
        """The tips must stand wholly on what is below them, apart from each other."""
        low = self.height - self.tip_height
        yield from tip_faults(self, count=3)
        if low <= 0.0:
            return
        if self.form == "arms":
            yield from arm_faults(self, arms=3, height=low)
        else:
            yield from at_most("rounding", self.rounding, low - LEAST_BEND, "below the tips")

    def piece(self) -> Piece:
        """The piece of this size; the tips stand half a width in from the end of the arms."""
        arms = self.form == "arms"
        outline = arms_outline(self, 3) if arms else Outline.circle(self.reach)
        return tipped(self, outline, count=3)
