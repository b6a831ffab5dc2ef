"""The custom piece: any outline that can be pressed."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

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
from wadforms.families.relations import LEAST_BEND, LEAST_RIDGE, at_most, spread
from wadforms.geometry.easing import Easing, eased
from wadforms.geometry.outline import Outline
from wadforms.geometry.weakness import WeakPlace, weak_places

_LARGEST: Final = 300.0  # no wad is wider or deeper [mm]


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
    depth: float = length(
        0.0, 0.0, 300.0, "scale to this depth from front to back instead; 0 keeps the size"
    )
    height: float = height_field()
    draft: float = draft_field()
    rounding: float = rounding_field()
    ease: str = choice(
        "no", ("no", "yes"), "whether to fill what is too tight for the draft or for a mould"
    )
    neck: float = length(
        4.0,
        0.0,
        20.0,
        "narrower clay than this is told as weak",
        "Common practice, no source: gritty clay crumbles where it is thinner",
    )
    bend: float = length(
        4.0,
        0.0,
        20.0,
        "a hollow of a smaller radius than this is told as weak",
        "Common practice, no source: clay tears there as it dries",
    )

    def faults(self) -> Iterator[Fault]:
        """The rounding must be lower than the piece; what the outline allows, `piece` finds."""
        limit = self.height - LEAST_BEND
        yield from at_most("rounding", self.rounding, limit, "so that a wall is left")
        if self.width and self.depth:
            right = "give one of them: the outline keeps its proportion"
            yield Fault("depth", "a width too", right)
        elif max(self.drawn.size) > _LARGEST:
            wide, deep = (f"{side:.4g}" for side in self.drawn.size)
            right = f"give a width or depth that keeps both within {_LARGEST:g} mm"
            yield Fault("outline", f"one of {wide} × {deep} mm", right)

    def piece(self) -> Piece:
        """The piece of this size.

        Raises
        ------
        NotMakeable
            The outline does not allow the draft or the rounding; the message names the place.
        """
        change = self.easing()
        outline = change.outline if change else self.drawn
        return flat_topped(
            outline, self.height, self.draft, self.rounding, can_ease=self.ease == "no"
        )

    def easing(self) -> Easing | None:
        """What was filled of the outline at this size, where that was asked for."""
        if self.ease == "no":
            return None
        out = spread(self.height, self.draft, self.rounding)
        return eased(self.drawn, out, LEAST_BEND, LEAST_RIDGE if out else 0.0)

    @property
    def enlarged(self) -> float:
        """How many times larger the outline is at this size than it was given."""
        wide, deep = self.outline.size
        return self.width / wide if self.width else self.depth / deep if self.depth else 1.0

    def weak_places(self) -> tuple[WeakPlace, ...]:
        """Where the outline is narrower than `neck`, or has hollows tighter than `bend`."""
        change = self.easing()
        outline = change.outline if change else self.drawn
        return weak_places(outline, neck=self.neck, bend=self.bend)

    @property
    def drawn(self) -> Outline:
        """The outline at this size, as it was drawn."""
        return self.outline if self.enlarged == 1.0 else self.outline.scaled(self.enlarged)
