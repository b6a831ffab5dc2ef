"""The pointed tripod: three fine tips of dense clay, which leave hardly a mark."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from wadforms.errors import Fault
from wadforms.families.arms import arm_faults, arms_outline, around, tip_faults, tipped
from wadforms.families.base import (
    SOLID,
    Family,
    Piece,
    choice,
    draft_field,
    height_field,
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
    end: float = length(7.0, 0.0, 30.0, "radius of the corners at the end of an arm")
    inner: float = length(6.0, 0.0, 40.0, "radius between the arms")
    height: float = height_field(18.0, 6.0)
    draft: float = draft_field()
    rounding: float = rounding_field(1.0)
    tip_height: float = length(8.0, 2.0, 40.0, "of a tip; the arms or plate are the rest of it")
    tip_flat: float = length(2.0, 1.0, 8.0, "diameter of the small flat on a tip")
    tip_foot: float = length(9.0, 2.0, 40.0, "diameter of a tip where it stands on the clay")

    def faults(self) -> Iterator[Fault]:
        """The tips must stand wholly on what is below them, apart from each other."""
        low = self.height - self.tip_height
        yield from tip_faults(
            count=3,
            reach=self.reach,
            width=self.width,
            height=self.height,
            draft=self.draft,
            rounding=self.rounding,
            tip_height=self.tip_height,
            tip_flat=self.tip_flat,
            tip_foot=self.tip_foot,
        )
        if low <= 0.0:
            return
        if self.form == "arms":
            yield from arm_faults(
                arms=3,
                reach=self.reach,
                width=self.width,
                end=self.end,
                inner=self.inner,
                height=low,
                draft=self.draft,
                rounding=self.rounding,
            )
        else:
            yield from at_most("rounding", self.rounding, low - LEAST_BEND, "below the tips")

    def piece(self) -> Piece:
        """The piece of this size; the tips stand half a width in from the end of the arms."""
        if self.form == "arms":
            outline = arms_outline(3, self.reach, self.width, self.end, self.inner)
        else:
            outline = Outline.circle(self.reach)
        return tipped(
            outline,
            around(3, self.reach - self.width / 2),
            height=self.height,
            draft=self.draft,
            rounding=self.rounding,
            tip_height=self.tip_height,
            tip_flat=self.tip_flat,
            tip_foot=self.tip_foot,
        )
