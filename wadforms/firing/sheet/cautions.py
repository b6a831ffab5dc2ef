"""What can hurt the crew, as far as this firing holds it."""

from __future__ import annotations

from typing import Final

from wadforms import units
from wadforms.firing.batch import DUST
from wadforms.firing.plan import Plan
from wadforms.firing.rows import Posts, Shelf, Ware

HEAVY: Final = 20_000.0
"""What is this heavy is lifted by two [g].

Below the load constant of the revised NIOSH lifting equation, 23 kg, which holds for one person in
the best of postures (Waters, Putz-Anderson & Garg, DHHS (NIOSH) Publication 94-110); nobody lifts
in that posture at a kiln's door.
"""


def cautions(plan: Plan) -> tuple[tuple[str, str], ...]:
    """What to beware of: a word for it, and what to do.

    Examples
    --------
    >>> nothing = Plan(chosen=(), from_stock={}, gap=0.0, one_fewer="", one_more="")
    >>> [what for what, _ in cautions(nothing)]
    ['Dust', 'Grinding', 'Lime', 'Heat', 'Limits']
    """
    said = [
        ("Dust", DUST),
        (
            "Grinding",
            "Wads that are knocked off leave edges as sharp as glass. Gloves; goggles or a face "
            "shield, and a respirator, whenever feet are ground.",
        ),
    ]
    if heavy := heavy_things(plan):
        said.append(
            ("Lifting", f"Two people, or a lift: {', '.join(heavy)}. Clear the way to the kiln.")
        )
    said += [
        (
            "Lime",
            "If you use shells: they burn to quicklime, which burns wet skin and eyes. Brush it "
            "off dry, with gloves and goggles.",
        ),
        (
            "Heat",
            "Gloves, cotton or wool, tinted glasses at the spy hole. Fire gives off carbon "
            "monoxide: keep the air moving. Open the kiln only when it is cold.",
        ),
    ]
    if _stacked(plan):
        said.append(
            (
                "Stacks",
                "Build from the floor up, posts and wads in one line. Push each level: what rocks "
                "comes down and is set again. Nobody reaches below a shelf that is being set.",
            )
        )
    said.append(
        (
            "Limits",
            "The limits behind this sheet are assumed where it says so: test them in your kiln. "
            "Local codes and licensed practice come first.",
        )
    )
    return tuple(said)


def heavy_things(plan: Plan) -> tuple[str, ...]:
    """What weighs 20 kg or more, by name with its weight; lids are lifted by themselves.

    Examples
    --------
    >>> heavy_things(Plan(chosen=(), from_stock={}, gap=0.0, one_fewer="", one_more=""))
    ()
    """
    found = {}
    for one in plan.chosen:
        row = one.touch.row
        if isinstance(row, Ware | Shelf | Posts) and row.mass >= HEAVY:
            found[row.row, 0] = f"{row.name} ({units.show(row.mass, 'g')})"
        if isinstance(row, Ware) and row.lid is not None and row.lid.mass >= HEAVY:
            found[row.row, 1] = f"lid of {row.name} ({units.show(row.lid.mass, 'g')})"
    return tuple(found[key] for key in sorted(found))


def _stacked(plan: Plan) -> bool:
    rows = [one.touch.row for one in plan.chosen]
    return any(isinstance(r, Shelf | Posts) or (isinstance(r, Ware) and r.stack > 1) for r in rows)
