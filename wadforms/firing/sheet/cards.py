"""What goes where: cards in the order in which one packs, level by level."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import groupby

from wadforms.firing.plan import Chosen, Plan
from wadforms.firing.rows import Posts, Shelf
from wadforms.firing.sheet.furniture import furniture
from wadforms.firing.sheet.levels import levels
from wadforms.firing.sheet.parts import Card, Pick
from wadforms.firing.sheet.picks import pick, told_alike
from wadforms.firing.touches import FOOT, LID


@dataclass(frozen=True, slots=True)
class _Shown:
    """Touches of one row that are told by one picture: the first, and how many there are."""

    first: Chosen
    lowers: tuple[str, ...]
    count: int
    repeated: int


def cards(plan: Plan) -> tuple[tuple[str, tuple[Card, ...]], ...]:
    """The cards of each level under its heading, from the floor up.

    Touches that get the same wads in the same way share one picture; wads that must stand in line
    with those below are told with these.

    Examples
    --------
    >>> cards(Plan(chosen=(), from_stock={}, gap=0.0, one_fewer="", one_more=""))
    ()
    """
    return tuple(
        (level.heading, (*furniture(level), *_wares(level.chosen, plan.chosen)))
        for level in levels(plan)
    )


def _wares(chosen: Sequence[Chosen], every: Sequence[Chosen]) -> Iterator[Card]:
    wares = [one for one in chosen if not isinstance(one.touch.row, Shelf | Posts)]
    for _, row in groupby(wares, key=lambda one: one.touch.row.row):
        yield _card(list(row), every)


def _card(row: Sequence[Chosen], every: Sequence[Chosen]) -> Card:
    shown: dict[tuple[object, ...], _Shown] = {}
    for one in row:
        touch = one.touch
        target = every[touch.aligned_with] if touch.aligned_with is not None else None
        base = target if target is not None and _key(one)[2:] == _key(target)[2:] else one
        key = _key(base)
        found = shown.get(key)
        if found is None:
            shown[key] = _Shown(one, (touch.lower,), touch.count, 0)
        elif base is not one:
            shown[key] = replace(found, repeated=found.repeated + touch.count)
        else:
            lowers = tuple(dict.fromkeys([*found.lowers, touch.lower]))
            shown[key] = replace(found, lowers=lowers, count=found.count + touch.count)
    about = row[0].touch.row
    picks = tuple(_pick(s) for s in shown.values())
    return Card(name=about.name, count=f"× {about.count}", picks=picks)


def _key(one: Chosen) -> tuple[object, ...]:
    """What must agree so that one picture tells both."""
    return one.touch.row.row, one.touch.kind, one.verdict, *told_alike(one)


def _pick(shown: _Shown) -> Pick:
    told = pick(shown.first, where=_where(shown), touches=shown.count + shown.repeated)
    if not shown.repeated:
        return told
    in_line = (
        f"the same between the pots of each stack, {shown.repeated} times, every wad in line "
        "with the one below"
    )
    return replace(told, remarks=(in_line, *told.remarks))


def _where(shown: _Shown) -> str:
    touch, below = shown.first.touch, ", ".join(shown.lowers)
    if touch.kind == FOOT:
        return f"under the foot, on {below}"
    return "under the lid" if touch.kind == LID else f"{touch.upper} on {below}"
