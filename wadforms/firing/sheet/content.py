"""All that a crew sheet says, in order: the one thing that every writer of it writes."""

from __future__ import annotations

from collections.abc import Sequence

from wadforms import units
from wadforms.firing.batch import Batch
from wadforms.firing.make_list import Box, Make
from wadforms.firing.plan import Plan
from wadforms.firing.sheet.cards import cards
from wadforms.firing.sheet.cautions import cautions
from wadforms.firing.sheet.order import order_of_work
from wadforms.firing.sheet.parts import Block, Cards, CrewSheet, Part, Plain, Points
from wadforms.firing.sheet.tables import (
    batch_table,
    box_words,
    make_table,
    touch_table,
    wash_table,
)
from wadforms.firing.wash import KilnWash
from wadforms.setting.assessment import UNSAFE, VERDICTS

KEY = "Pictures are seen from above. Open wads are set wet, hatched ones dry, filled ones solid. "
KEY += "Numbers are in mm: in the middle the radius, else from the middle of one wad to the next."


def crew_sheet(
    plan: Plan,
    makes: Sequence[Make],
    batches: Sequence[Batch],
    *,
    title: str,
    date: str = "",
    wash: KilnWash | None = None,
    boxes: Sequence[Box] = (),
    scoop: float | None = None,
    notes: Sequence[str] = (),
) -> CrewSheet:
    """Everything that the crew of a firing must know.

    Parameters
    ----------
    plan : Plan
        What is set under what.
    makes : sequence of Make
        What is made for it.
    batches : sequence of Batch
        What is weighed out for that.
    title : str
        Of the firing.
    date : str
        Of the firing, as it is to be printed; empty leaves a line to write on.
    wash : KilnWash or None
        What is brushed on; None leaves it out.
    boxes : sequence of Box
        What is left when the kiln is packed.
    scoop : float or None
        What the crew's container holds [mm³], to count by it.
    notes : sequence of str
        What was assumed when the list was read and its touches were found.

    Examples
    --------
    >>> nothing = Plan(chosen=(), from_stock={}, gap=0.0, one_fewer="", one_more="")
    >>> [part.heading for part in crew_sheet(nothing, (), (), title="November").parts]
    ['Take care']
    """
    parts: list[Part] = []

    def add(key: str, heading: str, *blocks: Block, **more: bool) -> None:
        parts.append(Part(key=key, heading=heading, blocks=blocks, **more))

    if problems := _problems(plan):
        add("stop", "Mend before firing", _points(problems), alarm=True)
    for number, (heading, shown) in enumerate(cards(plan), 1):
        key = (Plain(text=KEY),) if number == 1 else ()
        add(f"place-{number}", heading, *key, Cards(cards=shown))
    if makes:
        add("make", "What to make", make_table(makes))
    if batches:
        add("mix", "What to weigh out", *(batch_table(made, scoop) for made in batches))
    if wash is not None and wash.volume:
        add("wash", "Kiln wash", wash_table(wash))
    if boxes:
        add("boxes", "Boxes", Plain(text=box_words(boxes)))
    if steps := order_of_work(plan, makes, batches, wash=wash):
        add("order", "Order of work", Points(items=steps, numbered=True))
    add("care", "Take care", Points(items=cautions(plan)))
    desk: list[Block] = [touch_table(plan)] if plan.chosen else []
    if assumed := [*_limits(makes), *_assumed(batches, wash), *notes]:
        items = tuple(("", word) for word in dict.fromkeys(assumed))
        desk.append(Points(items=items, small=True, caption="Assumed"))
    if desk:
        add("leader", "For the leader", *desk, apart=True)
    return CrewSheet(title=title, date=date, tally=_tally(plan), parts=tuple(parts))


def _problems(plan: Plan) -> tuple[str, ...]:
    """What must be mended, in short: why a touch is unsafe stands on its card."""
    unsafe = [one for one in plan.chosen if one.verdict == UNSAFE]
    told = {one.problem for one in unsafe}
    found = [problem for problem in plan.problems if problem not in told]
    for one in unsafe:
        what = "unsafe" if one.wads else "stands bare" if one.touch.row.bare else "nothing serves"
        found.append(f"row {one.touch.row.row}, {one.name}: {what}, see its card")
    return tuple(dict.fromkeys(found))


def _points(words: Sequence[str]) -> Points:
    return Points(items=tuple(("", word) for word in words))


def _tally(plan: Plan) -> tuple[tuple[str, str], ...]:
    counts = dict.fromkeys(reversed(VERDICTS), 0)
    for one in plan.chosen:
        if one.verdict is not None:
            counts[one.verdict] += one.touch.count
    touch = {True: "touch", False: "touches"}
    return tuple((v, f"{n} {touch[n == 1]} {v}") for v, n in counts.items() if n)


def _limits(makes: Sequence[Make]) -> list[str]:
    """The limits of each mix that nobody measured, in one line."""
    found = []
    for mix in {make.mix.name: make.mix for make in makes}.values():
        limits = {"at top heat": mix.at_heat, "cold": mix.cold}
        if mix.tip is not None and any(m.piece.tips for m in makes if m.mix.name == mix.name):
            limits["on a tip"] = mix.tip
        said = [f"{k} {units.show(v.value, v.unit)}" for k, v in limits.items() if v.assumed]
        if said:
            found.append(f"mix {mix.name} bears {', '.join(said)}, before shape and place")
    return found


def _assumed(batches: Sequence[Batch], wash: KilnWash | None) -> list[str]:
    found = [f"mix {made.mix.name}: {text}" for made in batches for text in made.assumed]
    return found + list(wash.assumed if wash is not None and wash.volume else ())
