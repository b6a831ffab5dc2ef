"""The stand: three to twelve arms in one piece, flat or with a fine tip on each."""

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
    count,
    draft_field,
    flat_topped,
    height_field,
    length,
    rounding_field,
)


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
    end: float = length(7.0, 0.0, 30.0, "radius of the corners at the end of an arm")
    inner: float = length(6.0, 0.0, 40.0, "radius between the arms")
    height: float = height_field(16.0)
    draft: float = draft_field()
    rounding: float = rounding_field()
    tip_height: float = length(6.0, 2.0, 40.0, "of a tip, where the top is pointed")
    tip_flat: float = length(2.0, 1.0, 8.0, "diameter of the small flat on a tip")
    tip_foot: float = length(9.0, 2.0, 40.0, "diameter of a tip where it stands on the arm")

    @property
    def allowed_bodies(self) -> tuple[str, ...]:
        """Fine tips need dense clay."""
        return (SOLID,) if self.top == "pointed" else self.bodies

    def faults(self) -> Iterator[Fault]:
        """The arms must be long and wide enough for their roundings and their tips."""
        low = self.height
        if self.top == "pointed":
            low -= self.tip_height
            yield from tip_faults(
                count=self.arms,
                reach=self.reach,
                width=self.width,
                height=self.height,
                draft=self.draft,
                rounding=self.rounding,
                tip_height=self.tip_height,
                tip_flat=self.tip_flat,
                tip_foot=self.tip_foot,
            )
        if low > 0.0:
            yield from arm_faults(
                arms=self.arms,
                reach=self.reach,
                width=self.width,
                end=self.end,
                inner=self.inner,
                height=low,
                draft=self.draft,
                rounding=self.rounding,
            )

    def piece(self) -> Piece:
        """The piece of this size; tips stand half a width in from the end of the arms."""
        outline = arms_outline(self.arms, self.reach, self.width, self.end, self.inner)
        if self.top == "flat":
            return flat_topped(outline, self.height, self.draft, self.rounding)
        return tipped(
            outline,
            around(self.arms, self.reach - self.width / 2),
            height=self.height,
            draft=self.draft,
            rounding=self.rounding,
            tip_height=self.tip_height,
            tip_flat=self.tip_flat,
            tip_foot=self.tip_foot,
        )
