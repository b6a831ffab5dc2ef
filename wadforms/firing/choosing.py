"""Chooses wads for every touch of a firing list."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from wadforms.firing.list_file import Ware
from wadforms.setting.assessment import UNSAFE
from wadforms.setting.limits import Limit
from wadforms.setting.mixes import Mix
from wadforms.setting.pot import Pot
from wadforms.setting.sizing import Candidate, Choice, Sizing, bodies_for, size

FOOT: Final = "foot"
LID: Final = "lid"


@dataclass(frozen=True, slots=True, kw_only=True)
class Touch:
    """One kind of touch in the firing, and what was chosen for it.

    Parameters
    ----------
    ware : Ware
        The row of the list that it comes from.
    kind : str
        ``"foot"`` of the pot on its shelf, or ``"lid"`` on its gallery.
    sizing : Sizing
        What was chosen, and why.
    """

    ware: Ware
    kind: str
    sizing: Sizing

    @property
    def name(self) -> str:
        """What touches, in words."""
        return self.ware.name if self.kind == FOOT else f"{self.ware.name}, lid"

    @property
    def pots(self) -> int:
        """How many such touches there are."""
        return self.ware.count

    @property
    def best(self) -> Choice | None:
        """What was chosen; None where nothing serves."""
        return self.sizing.best

    @property
    def shown(self) -> Choice | None:
        """What a picture shows: the choice, else what came nearest."""
        return self.sizing.best or self.sizing.refused

    @property
    def verdict(self) -> str:
        """Sound, tight or unsafe."""
        return self.best.assessment.verdict if self.best else UNSAFE

    @property
    def problem(self) -> str | None:
        """Why it cannot be fired like this, in words."""
        if self.verdict != UNSAFE:
            return None
        return f"row {self.ware.row}, {self.name}: {'; '.join(self.sizing.why)}"


def touches(
    wares: Sequence[Ware],
    for_feet: Sequence[Candidate],
    for_lids: Sequence[Candidate],
    *,
    mixes: Mapping[str, Mix],
    shear: Limit,
) -> tuple[Touch, ...]:
    r"""Choose wads for every pot and every lid of a list.

    Parameters
    ----------
    wares : sequence of Ware
        The list.
    for_feet, for_lids : sequence of Candidate
        Shapes to choose from where a row names none.
    mixes : mapping of str to Mix
        For each body, what it is made of.
    shear : Limit
        Shear strength of the wet mix [kPa].

    Returns
    -------
    tuple of Touch
        In the order of the list, a lid after its pot.

    Examples
    --------
    >>> from wadforms.firing.candidates import candidates
    >>> from wadforms.firing.list_file import parse_list
    >>> from wadforms.setting.limits import SHEAR
    >>> from wadforms.setting.mixes import mix
    >>> mugs = parse_list(b"name,count,weight,foot,height\nMug,12,450 g,80,95\n", "list.csv")
    >>> disks = candidates(["disk-16", "disk-20"])
    >>> chosen = touches(mugs, disks, disks, mixes={"wet": mix("open")}, shear=SHEAR["firm"])
    >>> [(touch.name, touch.best.name, touch.best.count) for touch in chosen]
    [('Mug', 'disk-16', 3)]
    """
    known: dict[tuple[object, ...], Sizing] = {}
    found = []
    for ware in wares:
        for kind, pot, tried, wanted in _asked(ware, for_feet, for_lids):
            # Rows that ask the same are worked out once.
            key = (pot, ware.place.name, wanted, ware.shape and ware.shape.name, kind)
            if key not in known:
                bodies = bodies_for(ware.place, wanted)
                if wanted is None and ware.shape and kind == FOOT:
                    # A shape that must be used is not refused for the bodies it cannot have.
                    bodies = tuple(b for b in bodies if b in ware.shape.bodies) or ware.shape.bodies
                known[key] = size(
                    pot,
                    tried,
                    place=ware.place,
                    shear=shear,
                    mixes={body: mixes[body] for body in bodies if body in mixes},
                )
            found.append(Touch(ware=ware, kind=kind, sizing=known[key]))
    return tuple(found)


def _asked(
    ware: Ware, for_feet: Sequence[Candidate], for_lids: Sequence[Candidate]
) -> Iterator[tuple[str, Pot, Sequence[Candidate], str | None]]:
    """Yield each touch of a ware: its kind, what bears, what may be tried, which body it must have.

    A shape or body that the row insists on is for the foot.
    """
    yield FOOT, ware.pot, [ware.shape] if ware.shape else for_feet, ware.body
    if ware.lid is not None:
        yield LID, ware.lid, for_lids, None
