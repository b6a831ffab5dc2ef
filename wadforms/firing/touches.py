"""Every pair of things that would stick together, with the load that the touch carries."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from wadforms.firing.rows import Row
from wadforms.setting.pot import Pot

FOOT: Final = "foot"
LID: Final = "lid"
STACKED: Final = "stacked"
ON_POST: Final = "shelf"
UNDER_POST: Final = "post"
SEAT: Final = "cones"


@dataclass(frozen=True, slots=True, kw_only=True)
class Touch:
    """One kind of touch in the firing.

    Parameters
    ----------
    row : Row
        The row of the list that it comes from: what stands on top.
    kind : str
        One of `FOOT`, `LID`, `STACKED`, `ON_POST`, `UNDER_POST`, `SEAT`.
    upper, lower : str
        What touches what, in words.
    count : int
        How many such touches there are.
    pot : Pot or None
        What bears, with all that stands above it; None for cones, whose seats carry no load.
    aligned_with : int or None
        Number, in the audit, of the touch whose arrangement it must share.
    notes : tuple of str
        What was assumed about its load, in words.
    """

    row: Row
    kind: str
    upper: str
    lower: str
    count: int
    pot: Pot | None
    aligned_with: int | None = None
    notes: tuple[str, ...] = ()

    @property
    def name(self) -> str:
        """What touches what, in words."""
        return f"{self.upper} on {self.lower}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Audit:
    """All touches of a firing, and what is wrong with how it is stacked.

    Parameters
    ----------
    touches : tuple of Touch
        From the list's first row to its last.
    problems : tuple of str
        What would fall, tip or stick whatever the wads, each with its row.
    notes : tuple of str
        What was assumed, in words.
    """

    touches: tuple[Touch, ...]
    problems: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
