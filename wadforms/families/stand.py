"""The stand: three to twelve arms in one piece, flat or with a fine tip on each."""

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
    count,
    draft_field,
    height_field,
    inner_field,
    length,
    rounding_field,
)
from wadforms.families.flat import flat_topped


@dataclass(frozen=True, slots=True, kw_only=True)
class Stand(Family):
    """Three to twelve arms.

    Examples
    --------
    >>> Stand(arms=4, reach=30, width=10, end=0, inner=0, draft=0).piece().top_area
    1100.0
    >>> Stand(top="pointed").allowed_bodies
    ('solid',)
    """

    name = "stand"
    summary = "many arms in one piece, flat or pointed, for wide feet and plates"

    arms: int = count(5, 3, 12, "how many arms")
    top: str = choice("flat", ("flat", "pointed"), "what bears: the arms, or a tip on each")
    reach: float = length(45.0, 12.0, 200.0, "from the centre to the end of an arm")
    width: float = length(14.0, 4.0, 60.0, "of an arm")
    end: float = end_field(7.0)
    inner: float = inner_field("the arms", 6.0)
    height: float = height_field(16.0)
    draft: float = draft_field()
    rounding: float = rounding_field()
    tip_height: float = tip_height_field(6.0, ", where the top is pointed")
    tip_flat: float = tip_flat_field()
    tip_foot: float = tip_foot_field()

    @property
    def allowed_bodies(self) -> tuple[str, ...]:
        """Fine tips need dense clay."""
        return (SOLID,) if self.top == "pointed" else self.bodies

    def faults(self) -> Iterator[Fault]:
        """The arms must be long and wide enough for their roundings and their tips."""
        low = self.height
        if self.top == "pointed":
            low -= self.tip_height
            yield from tip_faults(self, count=self.arms)
        if low > 0.0:
            yield from arm_faults(self, arms=self.arms, height=low)

    def piece(self) -> Piece:
        """The piece of this size; tips stand half a width in from the end of the arms."""
        outline = arms_outline(self, self.arms)
        if self.top == "flat":
            return flat_topped(outline, self.height, self.draft, self.rounding)
        return tipped(self, outline, count=self.arms)
