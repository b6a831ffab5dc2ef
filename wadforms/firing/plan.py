"""What a firing's touches were given: wads for each, and what the whole takes."""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

from wadforms.families.base import Piece
from wadforms.firing.touches import Touch
from wadforms.setting.assessment import UNSAFE
from wadforms.setting.mixes import Mix
from wadforms.setting.sizing import Choice


class Wads(NamedTuple):
    """The wads of one touch: their shape, how they are set, their mix, and how many."""

    shape: str
    body: str
    piece: Piece
    mix: Mix
    number: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Chosen:
    """A touch with its wads.

    Parameters
    ----------
    touch : Touch
        What touches.
    wads : Wads or None
        Under each of them; None where nothing serves, or nothing is wanted.
    choice : Choice or None
        The arrangement with its assessment; None for cones, and where nothing serves.
    nearest : Choice or None
        Where nothing serves, what came nearest.
    why : tuple of str
        The reasons, in sentences.
    """

    touch: Touch
    wads: Wads | None
    choice: Choice | None = None
    nearest: Choice | None = None
    why: tuple[str, ...] = ()

    @property
    def name(self) -> str:
        """What touches what, in words."""
        return self.touch.name

    @property
    def shown(self) -> Choice | None:
        """What a picture shows: the choice, else what came nearest."""
        return self.choice or self.nearest

    @property
    def verdict(self) -> str | None:
        """Sound, tight or unsafe; None where there is no load to judge."""
        if self.choice is not None:
            return self.choice.assessment.verdict
        return None if self.wads is not None else UNSAFE

    @property
    def problem(self) -> str | None:
        """Why it cannot be fired like this, in words."""
        if self.verdict != UNSAFE:
            return None
        return f"row {self.touch.row.row}, {self.name}: {'; '.join(self.why)}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """Wads for every touch of a firing.

    Parameters
    ----------
    chosen : tuple of Chosen
        In the order of the audit.
    from_stock : dict of (str, str) to int
        Pieces taken out of the boxes, by shape and body.
    gap : float
        How far, as a share, the mix may be from the least that is possible; 0 where proven.
    is_fewest : bool
        Whether it is proven that fewer shapes would not do.
    one_fewer, one_more : str
        What one shape fewer, and one more, would cost, in words.
    problems : tuple of str
        Of the audit, and of the choice.
    """

    chosen: tuple[Chosen, ...]
    from_stock: dict[tuple[str, str], int]
    gap: float
    one_fewer: str
    one_more: str
    problems: tuple[str, ...] = ()
    is_fewest: bool = True

    @property
    def unproven(self) -> tuple[str, ...]:
        """What time ran out before it was proven, in sentences."""
        said = []
        if not self.is_fewest:
            said.append("It is not proven that fewer shapes would not do; time ran out.")
        if self.gap > 0.0:
            said.append(f"The mix may be up to {self.gap:.1%} from the least; time ran out.")
        return tuple(said)
