"""Chooses wads for every touch of a firing: few shapes, sound arrangements, little mix."""

from __future__ import annotations

import contextlib
from collections.abc import Callable, Mapping, Sequence
from typing import Final, TypeAlias

from wadforms.errors import BadInput, Fault
from wadforms.firing.candidates import cone_seat
from wadforms.firing.deadline import Deadline
from wadforms.firing.needs import Need, all_needs
from wadforms.firing.plan import Chosen, Plan, Wads
from wadforms.firing.programme import Mould, Solved, TimeRanOutError, Way, fewest, within
from wadforms.firing.reasons import (
    BARE,
    NOT_HELD,
    NOT_IN_TIME,
    ONE_SEAT,
    one_fewer,
    one_more,
    why_no_seat,
    why_this,
)
from wadforms.firing.touches import SEAT, Audit, Touch
from wadforms.setting.limits import TIGHT, Limit
from wadforms.setting.mixes import Mix
from wadforms.setting.pot import Pot
from wadforms.setting.quantities import quantities
from wadforms.setting.tries import Candidate, Choice, Judged, chosen, nothing_serves

Progress: TypeAlias = Callable[[int, int], None]

_TOLD: Final = 100  # how often progress is told at most
_Choices: TypeAlias = Mapping[Pot, Choice]


def choose(
    audit: Audit,
    for_feet: Sequence[Candidate],
    for_lids: Sequence[Candidate],
    *,
    mixes: Mapping[str, Mix],
    shear: Limit,
    stock: Mapping[Mould, int] | tuple[()] = (),
    at_most: int | None = None,
    seconds: float = 20.0,
    progress: Progress | None = None,
) -> Plan:
    """Choose wads for every touch: sound ones, of the fewest shapes, of the least mix.

    Parameters
    ----------
    audit : Audit
        The touches.
    for_feet, for_lids : sequence of Candidate
        Shapes to choose from where a row names none.
    mixes : mapping of str to Mix
        For each body, what it is made of.
    shear : Limit
        Shear strength of the wet mix [kPa].
    stock : mapping of (str, str) to int
        Pieces that lie in the boxes, by shape and body; they are used first.
    at_most : int or None
        Of how many shapes pieces may be made.
    seconds : float
        How long the choice between shapes may take [s].
    progress : callable, optional
        Told how many of how many touches are worked out, now and then.

    Raises
    ------
    BadInput
        So few shapes cannot serve every touch.

    Examples
    --------
    >>> from wadforms.firing.candidates import candidates
    >>> from wadforms.firing.rows import Ware
    >>> from wadforms.firing.touches import FOOT
    >>> from wadforms.setting.feet import FlatFoot
    >>> from wadforms.setting.limits import PLACES, SHEAR
    >>> from wadforms.setting.mixes import mix
    >>> foot = FlatFoot(80.0)
    >>> row = Ware(row=2, name="mug", count=12, place=PLACES["sheltered"], mass=450.0, foot=foot)
    >>> mug = Pot(mass=450.0, foot=foot, height=95.0)
    >>> touch = Touch(row=row, kind=FOOT, upper="mug", lower="shelf", count=12, pot=mug)
    >>> disks = candidates(["disk-16", "disk-20"])
    >>> firm = SHEAR["firm"]
    >>> plan = choose(Audit(touches=(touch,)), disks, disks, mixes={"wet": mix("open")}, shear=firm)
    >>> [(c.name, c.wads.shape, c.wads.number, c.verdict) for c in plan.chosen]
    [('mug on shelf', 'disk-16', 3, 'sound')]
    """
    needs = all_needs(audit, for_feet, for_lids, mixes, shear)
    for number, need in enumerate(needs):
        if progress and number % max(1, len(needs) // _TOLD) == 0:
            progress(number, len(needs))
        need.look()
    if progress:
        progress(len(needs), len(needs))
    seats, found = _seats(audit, mixes)
    boxes: dict[Mould, int] = dict(stock)
    deadline = Deadline(seconds)
    while True:
        served = [need for need in needs if need.narrow]
        solved, laid = _solve(served, seats, boxes, at_most, deadline)
        doubtful = [need for need, choices in zip(served, laid, strict=True) if choices is None]
        for need in doubtful:
            need.closely = True
            need.look()
        if not doubtful:
            break
    for need in needs:
        if not need.narrow:
            why = nothing_serves(need.offer.nearest, need.offer.tried)
            found |= {
                number: Chosen(
                    touch=audit.touches[number], wads=None, nearest=need.offer.nearest, why=why
                )
                for number in need.touches
            }
    for need, choices in zip(served, laid, strict=True):
        for number in need.touches:
            found[number] = _chosen(audit.touches[number], need, choices or {})
    for number, touch in enumerate(audit.touches):
        if touch.bare:
            found[number] = Chosen(touch=touch, wads=None, why=(BARE,))
    in_order = tuple(found[number] for number in range(len(audit.touches)))
    fewer, more = _others(served, seats, boxes, solved, deadline)
    return Plan(
        chosen=in_order,
        from_stock=solved.from_stock,
        gap=solved.gap,
        is_fewest=solved.is_fewest,
        one_fewer=fewer,
        one_more=more,
        problems=(*audit.problems, *(c.problem for c in in_order if c.problem)),
    )


def _solve(
    needs: Sequence[Need],
    seats: Sequence[list[Way]],
    boxes: Mapping[Mould, int],
    at_most: int | None,
    deadline: Deadline,
) -> tuple[Solved, list[_Choices | None]]:
    """What is taken for each need, checked in full; None where that finds less in hand than told.

    Raises
    ------
    BadInput
        So few shapes cannot serve every touch.
    """
    narrow = [*(need.ways(need.narrow) for need in needs), *seats]
    solved: Solved | None = fewest(narrow, boxes, seconds=deadline.left(0.5))
    assert solved is not None  # noqa: S101 - narrows the type
    taken = [need.narrow for need in needs]
    if at_most is not None and len(solved.made) > at_most:
        wide = [*(need.ways(need.wide) for need in needs), *seats]
        try:
            solved = within(wide, boxes, most=at_most, seconds=deadline.left(0.5))
        except TimeRanOutError:
            right = "give more, or allow more time: no choice was found in it"
            raise BadInput(Fault("at most", f"{at_most} shapes", right)) from None
        if solved is None:
            least = len(fewest(wide, boxes, seconds=deadline.left()).made)
            right = f"give {least} or more, or leave out rows that ask for a shape of their own"
            raise BadInput(Fault("at most", f"{at_most} shapes", right))
        taken = [need.wide for need in needs]
    laid = []
    for need, found, way in zip(needs, taken, solved.ways[: len(needs)], strict=True):
        need.taken = found[way]
        laid.append(_checked(need, found[way]))
    return solved, laid


def _others(
    needs: Sequence[Need],
    seats: Sequence[list[Way]],
    boxes: Mapping[Mould, int],
    solved: Solved,
    deadline: Deadline,
) -> tuple[str, str]:
    """What one shape fewer would cost, and what one more would save, in words."""
    wide = [*(need.ways(need.wide) for need in needs), *seats]
    most, told = len(solved.made), []
    fewer, more = (most - 1, one_fewer, 0.5), (most + 1 if most else 0, one_more, 1.0)
    for number, words, share in (fewer, more):
        said = NOT_IN_TIME
        with contextlib.suppress(TimeRanOutError):
            left = deadline.left(share)
            other = within(wide, boxes, most=number, seconds=left) if number > 0 else None
            said = words(solved, other) if _holds(needs, other) else NOT_HELD
        told.append(said)
    return told[0], told[1]


def _holds(needs: Sequence[Need], other: Solved | None) -> bool:
    """Whether another answer keeps in full what it says; None says nothing that could fail."""
    if other is None:
        return True
    taken = [need.wide[way] for need, way in zip(needs, other.ways[: len(needs)], strict=True)]
    return all(
        option is need.taken or _checked(need, option) is not None
        for need, option in zip(needs, taken, strict=True)
    )


def _checked(need: Need, option: Judged) -> _Choices | None:
    """An option, in full, under each of the need's pots; None where it is worse than told."""
    found = {}
    for pot in need.pots:
        choice = chosen(option.lot, option.layout, pot, need.conditions)
        if choice is None:
            return None
        used = choice.assessment.governing.used
        if not used <= (TIGHT if option.is_sound else 1.0):
            return None
        found[pot] = choice
    return found


def _chosen(touch: Touch, need: Need, choices: _Choices) -> Chosen:
    """The touch with its wads, and why these."""
    option = need.taken
    assert option is not None  # noqa: S101 - narrows the type
    assert touch.pot is not None  # noqa: S101 - narrows the type
    choice = choices[touch.pot]
    lot = option.lot
    return Chosen(
        touch=touch,
        wads=Wads(lot.name, lot.body, lot.piece, need.conditions.mixes[lot.body], lot.number),
        choice=choice,
        why=why_this(touch, choice, option, need.narrow, need.offer),
    )


def _seats(audit: Audit, mixes: Mapping[str, Mix]) -> tuple[list[list[Way]], dict[int, Chosen]]:
    """One seat under each set of cones: what it takes, and the touches by their number."""
    ways: list[list[Way]] = []
    found: dict[int, Chosen] = {}
    usual: Candidate | None = None
    for number, touch in enumerate(audit.touches):
        if touch.kind != SEAT or touch.bare:
            continue
        usual = usual or cone_seat()
        shape = touch.row.shape or usual
        wanted = [touch.row.body] if touch.row.body else list(mixes)
        body = next((b for b in shape.bodies if b in wanted and b in mixes), None)
        if not shape.piece.body.pockets or body is None:
            found[number] = Chosen(touch=touch, wads=None, why=why_no_seat(shape, touch.row.body))
            continue
        wads = Wads(shape.name, body, shape.piece, mixes[body], 1)
        each = quantities(shape.piece, mixes[body], body).wet_mass
        ways.append([Way((shape.name, body), touch.count, each * touch.count)])
        found[number] = Chosen(touch=touch, wads=wads, why=(ONE_SEAT,))
    return ways, found
