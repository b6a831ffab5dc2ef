"""The custom piece: any outline that can be pressed."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from wadforms.errors import Fault
from wadforms.families.base import (
    Family,
    Piece,
    choice,
    draft_field,
    height_field,
    length,
    outline_field,
    rounding_field,
)
from wadforms.families.flat import flat_topped
from wadforms.families.relations import LEAST_BEND, at_most, spread
from wadforms.geometry.easing import Easing, eased
from wadforms.geometry.outline import Outline


@dataclass(frozen=True, slots=True, kw_only=True)
class Custom(Family):
    """A flat piece of any outline.

    Examples
    --------
    >>> piece = Custom(outline=Outline.circle(5), width=30, draft=0).piece()
    >>> [round(side, 9) for side in piece.outline.size]
    [30.0, 30.0]
    """

    name = "custom"
    summary = "any outline that can be pressed, read from a drawing"

    outline: Outline = outline_field("the outline of the bearing face")  # noqa: RUF009
    width: float = length(
        0.0, 0.0, 300.0, "scale to this width from left to right; 0 keeps the size"
    )
    height: float = height_field()
    draft: float = draft_field()
    rounding: float = rounding_field()
    ease: str = choice("no", ("no", "yes"), "whether to fill what is too tight for the draft")

    def faults(self) -> Iterator[Fault]:
        """The rounding must be lower than the piece; what the outline allows, `piece` finds."""
        limit = self.height - LEAST_BEND
        yield from at_most("rounding", self.rounding, limit, "so that a wall is left")

    def piece(self) -> Piece:
        """The piece of this size.

        Raises
        ------
        NotMakeable
            The outline does not allow the draft or the rounding; the message names the place.
        """
        change = self.easing()
        outline = change.outline if change else self._at_size()
        return flat_topped(
            outline, self.height, self.draft, self.rounding, can_ease=self.ease == "no"
        )

    def easing(self) -> Easing | None:
        """What was filled of the outline at this size, where that was asked for."""
        if self.ease == "no":
            return None
        out = spread(self.height, self.draft, self.rounding)
        return eased(self._at_size(), out, LEAST_BEND)

    def _at_size(self) -> Outline:
        if not self.width:
            return self.outline
        return self.outline.scaled(self.width / self.outline.size[0])
