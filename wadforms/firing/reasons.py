"""Why each touch was given its wads, and what another number of shapes would cost, in words."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from wadforms import units
from wadforms.errors import quoted
from wadforms.families.base import SOLID
from wadforms.firing.options import Offer, mould_of, tips_come_first
from wadforms.firing.programme import Mould, Solved
from wadforms.firing.touches import LID, Touch
from wadforms.setting.tries import Candidate, Choice, Judged, set_as, wet_mix, what_decides

BARE: Final = "stands bare: it will stick"

ONE_SEAT: Final = "one seat holds the set; it carries no load that is worth checking"

NOT_IN_TIME: Final = "what another number of shapes would cost was not found out in time"

NOT_HELD: Final = (
    "what another number of shapes would cost is not told: an answer was found, but checked in "
    "full it did not keep its limits"
)

_LEAST: Final = 0.5  # less of wet mix is no difference to anybody [g]


def why_this(
    touch: Touch,
    choice: Choice,
    taken: Judged,
    options: Sequence[Judged],
    offer: Offer,
) -> tuple[str, ...]:
    """Why a touch has these wads, in sentences.

    Parameters
    ----------
    touch : Touch
        What touches.
    choice : Choice
        What it was given, checked.
    taken : Judged
        The option that this is.
    options : sequence of Judged
        All that it could have been given.
    offer : Offer
        All that may go under it, with what did not serve.
    """
    row, said = touch.row, []
    if taken.is_sound:
        said.append(f"sound by every limit: {wet_mix(choice.mass)}")
    elif offer.is_sound:
        said.append(
            f"keeps every limit; it is tight, so that fewer shapes do: {wet_mix(choice.mass)}"
        )
    else:
        said.append(f"keeps every limit; it is tight, and none is sound: {wet_mix(choice.mass)}")
    if row.shape is not None and touch.kind != LID:
        said.append(f"the list asks for {row.shape.name}")
    if row.body is not None and touch.kind != LID:
        said.append(f"the list asks for {row.body} wads")
    if touch.aligned_with is not None and touch.keeps_level is not None:
        said.append("the same as at its other posts, so that the shelf lies level")
    elif touch.aligned_with is not None:
        said.append("arranged as under the foot of its stack, so that all stand in line")
    said += [*what_decides(choice), *_why_no_tips(touch, taken, offer)]
    lightest = min(options, key=lambda option: option.lot.rank)
    if lightest.lot.mass < taken.lot.mass and mould_of(lightest) != mould_of(taken):
        lot = lightest.lot
        said.append(
            f"by itself it would take {set_as(lot.number, lot.name, lot.body)}, "
            f"{wet_mix(lot.mass)}; the whole firing is better served like this"
        )
    return tuple(said)


def _why_no_tips(touch: Touch, taken: Judged, offer: Offer) -> list[str]:
    """Why no fine tips, where they would come first."""
    row = touch.row
    asked = touch.kind != LID and (row.shape is not None or row.body not in (None, SOLID))
    if asked or taken.lot.piece.tips or not tips_come_first(row.place):
        return []
    if offer.tips is None:
        return ["fine tips: no pointed piece that may be used can be set under this foot"]
    tips = offer.tips
    told = f"{tips.count} × {tips.name} comes nearest"
    return [f"fine tips: {told}: {tips.assessment.governing.reason}"]


def why_no_seat(shape: Candidate, body: str | None) -> tuple[str, ...]:
    """Why a shape cannot hold cones, in sentences.

    Parameters
    ----------
    shape : Candidate
        The shape that was asked for.
    body : str or None
        How it shall be set, where that was asked for.
    """
    if not shape.piece.body.pockets:
        return (f"nothing serves: {shape.name} has no slots for cones; name a cone seat",)
    how = " or ".join(shape.bodies)
    given = quoted(body) if body else "no mix for it"
    return (f"nothing serves: {shape.name} is set {how}, and {given} was given",)


def one_fewer(now: Solved, less: Solved | None) -> str:
    """What one shape fewer would cost, in words.

    Parameters
    ----------
    now : Solved
        What was chosen.
    less : Solved or None
        The best with one shape fewer; None where there is none.
    """
    if len(now.made) <= 1:
        return "no fewer shapes are possible"
    if less is None:
        return "with one shape fewer not every touch could be served, not even tightly"
    return f"one shape fewer, {_instead(now, less)}, would {_change(now, less)}"


def one_more(now: Solved, besides: Solved | None) -> str:
    """What one shape more would save, in words.

    Parameters
    ----------
    now : Solved
        What was chosen.
    besides : Solved or None
        The best with one shape more; None where there is none.
    """
    saves = besides is not None and (besides.tight < now.tight or now.mass - besides.mass > _LEAST)
    if besides is None or not saves:
        return "one shape more would save nothing"
    return f"one shape more, {_instead(now, besides)}, would {_change(now, besides)}"


def _instead(now: Solved, other: Solved) -> str:
    """Which shapes come and which go."""
    new = [mould for mould in other.made if mould not in now.made]
    gone = [mould for mould in now.made if mould not in other.made]
    if not gone:
        return _moulds(new)
    if not new:
        return f"without {_moulds(gone)}"
    return f"{_moulds(new)} in place of {_moulds(gone)}"


def _change(now: Solved, other: Solved) -> str:
    said = []
    mass = other.mass - now.mass
    if abs(mass) <= _LEAST:
        said.append("take as much wet mix")
    elif mass > 0.0:
        said.append(f"take {units.show(mass, 'g')} more of wet mix")
    else:
        said.append(f"save {wet_mix(-mass)}")
    tight = other.tight - now.tight
    if tight:
        kind = "tight instead of sound" if tight > 0 else "sound instead of tight"
        said.append(f"leave {abs(tight)} {'touch' if abs(tight) == 1 else 'touches'} {kind}")
    return " and ".join(said)


def _moulds(made: Sequence[Mould]) -> str:
    """Moulds in words.

    Examples
    --------
    >>> _moulds([("disk-16", "wet"), ("disk-20", "dry")])
    'disk-16 set wet and disk-20 set dry'
    """
    names = [f"{shape} set {body}" for shape, body in made]
    if len(names) < 2:
        return "".join(names) or "all of it from the boxes"
    return f"{', '.join(names[:-1])} and {names[-1]}"
