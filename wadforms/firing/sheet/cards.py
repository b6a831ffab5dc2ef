"""What goes under which pot: a card for each row of the list."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import groupby

from wadforms.families.base import SOLID
from wadforms.firing.plan import Chosen, Plan, Wads
from wadforms.firing.rows import Ware
from wadforms.firing.sheet.parts import Card, Pick
from wadforms.firing.touches import FOOT, LID
from wadforms.setting.assessment import SOUND, UNSAFE
from wadforms.templates.card_picture import piece_card


@dataclass(frozen=True, slots=True)
class _Shown:
    """Touches of one row that are told by one picture: the first, and how many there are."""

    first: Chosen
    uppers: tuple[str, ...]
    lowers: tuple[str, ...]
    count: int
    repeated: int


def cards(plan: Plan) -> tuple[tuple[Card, ...], tuple[Card, ...]]:
    """Cards of the pots, and of what holds them up or stands by: shelves, posts, cones.

    Touches of a row that get the same wads in the same way share one picture; wads that must
    stand in line with those below are told with these.

    Examples
    --------
    >>> cards(Plan(chosen=(), from_stock={}, gap=0.0, one_fewer="", one_more=""))
    ((), ())
    """
    rows = [list(group) for _, group in groupby(plan.chosen, key=lambda one: one.touch.row.row)]
    pots = [rows_ for rows_ in rows if isinstance(rows_[0].touch.row, Ware)]
    others = [rows_ for rows_ in rows if not isinstance(rows_[0].touch.row, Ware)]
    every = plan.chosen
    return tuple(_card(row, every) for row in pots), tuple(_card(row, every) for row in others)


def _card(row: Sequence[Chosen], every: Sequence[Chosen]) -> Card:
    shown: dict[tuple[object, ...], _Shown] = {}
    for one in row:
        touch = one.touch
        stacked = touch.aligned_with is not None and touch.keeps_level is None
        target = every[touch.aligned_with] if stacked and touch.aligned_with is not None else None
        base = target if target is not None and _same(one, target) else one
        key = _key(base)
        found = shown.get(key)
        if found is None:
            shown[key] = _Shown(one, (touch.upper,), (touch.lower,), touch.count, 0)
        elif base is not one:
            shown[key] = replace(found, repeated=found.repeated + touch.count)
        else:
            shown[key] = replace(
                found,
                uppers=tuple(dict.fromkeys([*found.uppers, touch.upper])),
                lowers=tuple(dict.fromkeys([*found.lowers, touch.lower])),
                count=found.count + touch.count,
            )
    about = row[0].touch.row
    return Card(
        name=about.name, count=f"× {about.count}", picks=tuple(_pick(s) for s in shown.values())
    )


def _same(one: Chosen, other: Chosen) -> bool:
    return _key(one)[2:] == _key(other)[2:]


def _key(one: Chosen) -> tuple[object, ...]:
    """What must agree so that one picture tells both."""
    wads = one.wads and (one.wads.shape, one.wads.body, one.wads.number)
    words = one.choice and (one.choice.words, one.choice.radius)
    pot = one.touch.pot and one.touch.pot.foot
    return one.touch.row.row, one.touch.kind, wads, words, one.verdict, pot


def _pick(shown: _Shown) -> Pick:
    one = shown.first
    where = _where(one, shown)
    if one.wads is None:
        return _nothing(one, where)
    wads = one.wads
    lines = [set_words(wads)]
    if one.choice is not None:
        lines.append(one.choice.words)
    total = (shown.count + shown.repeated) * wads.number
    each = f"{shown.count + shown.repeated} × {wads.number} = {total} pieces, mix {wads.mix.name}"
    lines.append(each)
    remarks = []
    if shown.repeated:
        remarks.append(
            f"the same between the pots of each stack, {shown.repeated} times, every wad in line "
            "with the one below"
        )
    if one.choice is not None and one.verdict != SOUND:
        assessment = one.choice.assessment
        remarks += [assessment.reason, *assessment.mends]
    return Pick(
        where=where,
        wads=f"{wads.number} × {wads.shape}",
        lines=tuple(lines),
        verdict=one.verdict,
        remarks=tuple(dict.fromkeys(remarks)),
        choice=one.choice,
        alone=None if one.choice else piece_card(wads.shape, wads.piece),
    )


def _nothing(one: Chosen, where: str) -> Pick:
    if one.touch.row.bare:
        return Pick(
            where=where,
            wads="no wads",
            lines=("stands bare, as the list asks",),
            verdict=UNSAFE,
            remarks=("nothing keeps it from sticking", *one.why),
        )
    return Pick(
        where=where,
        wads="nothing serves",
        lines=("do not set it like this",),
        verdict=UNSAFE,
        remarks=one.why,
        choice=one.nearest,
    )


def _where(one: Chosen, shown: _Shown) -> str:
    below = ", ".join(shown.lowers)
    if one.touch.kind == FOOT:
        return f"under the foot, on {below}"
    return "under the lid" if one.touch.kind == LID else f"{', '.join(shown.uppers)} on {below}"


def set_words(wads: Wads) -> str:
    """How they are set, in words.

    Examples
    --------
    >>> from wadforms.families.disk import Disk
    >>> from wadforms.setting.mixes import mix
    >>> disk = Disk(diameter=20).piece()
    >>> set_words(Wads("disk-20", "solid", disk, mix("fireclay"), 3))
    'set solid, biscuit-fired before'
    >>> set_words(Wads("disk-20", "wet", disk, mix("open"), 3))
    'set wet'
    """
    return "set solid, biscuit-fired before" if wads.body == SOLID else f"set {wads.body}"
