"""Make list, batch, boxes, kiln wash and touches, as tables."""

from __future__ import annotations

import math
from collections.abc import Sequence

from wadforms import units
from wadforms.firing.batch import Batch, scoop_words, scoops
from wadforms.firing.make_list import Box, Make
from wadforms.firing.plan import Plan
from wadforms.firing.sheet.parts import Cell, Table
from wadforms.firing.sheet.plain import measured
from wadforms.firing.wash import KilnWash
from wadforms.templates.card_picture import piece_card
from wadforms.templates.words import measure, plan_size


def make_table(makes: Sequence[Make]) -> Table:
    """What to make, each line with a picture.

    Examples
    --------
    >>> make_table(()).heads
    ('Shape', 'Make')
    """
    rows = []
    for make in makes:
        size = f"{plan_size(make.piece.outline)} × {measure(make.piece.height)}"
        size = f"{measured(size, every=True)} mm as set"
        spare = make.to_make - (make.needed - make.from_stock)
        counted = f"{make.needed} needed"
        counted += f", {make.from_stock} in the boxes" if make.from_stock else ""
        counted += f", {spare} spare" if spare else ""
        counted += f"; {hours(make.minutes)}" if make.minutes else ""
        shape = Cell(
            text=f"{make.shape}, {make.body}",
            detail=(f"{size}, mix {make.mix.name}", counted),
            picture=piece_card(make.shape, make.piece),
        )
        rows.append((shape, Cell(text=str(make.to_make))))
    whole = sum(make.minutes or 0.0 for make in makes)
    pressing = f"; {hours(whole)} of pressing" if whole else ""
    return Table(
        caption=f"Pieces to make, the spare ones included{pressing}",
        heads=("Shape", "Make"),
        rows=tuple(rows),
        tick=True,
    )


def hours(minutes: float) -> str:
    """A time of work, given in minutes (a sixtieth part of an hour), rounded up.

    Examples
    --------
    >>> hours(135.0), hours(40.2), hours(120.0), hours(0.0)
    ('2 h 15 min', '41 min', '2 h', '0 min')
    """
    full, rest = divmod(math.ceil(round(minutes, 6)), 60)
    return " ".join([f"{full} h"] * (full > 0) + [f"{rest} min"] * (rest > 0 or not full))


def litres(volume: float) -> str:
    """A volume [mm³] as it is measured out: in litres, or in millilitres where it is less.

    Examples
    --------
    >>> litres(2.345e6), litres(345.6e3), litres(12.34e6)
    ('2.35 l', '346 ml', '12.3 l')
    """
    return units.show(volume, "mm3").replace("cm³", "ml")


def batch_table(made: Batch, scoop: float | None = None) -> Table:
    """What to weigh out for one mix, by a scoop [mm³] too where one is named.

    Examples
    --------
    >>> from wadforms.firing.batch import batch
    >>> from wadforms.setting.mixes import mix
    >>> batch_table(batch(mix("dense"), 2e6)).heads
    ('Ingredient', 'Weight', 'Volume')
    """

    def row(name: str, detail: str, mass: float, volume: float) -> tuple[Cell, ...]:
        by_scoop = () if scoop is None else (scoop_words(scoops(volume, scoop)),)
        return (
            Cell(text=name, detail=(detail,) if detail else ()),
            Cell(text=units.show(mass, "g")),
            Cell(text=litres(volume), detail=by_scoop),
        )

    rows = [
        row(p.name, "burns out" if p.burns_out else "", p.mass, p.volume) for p in made.portions
    ]
    rows.append(row("water", "the last of it by feel", made.water, made.water_volume))
    holds = "" if scoop is None else f"; a scoop holds {litres(scoop)}"
    return Table(
        caption=f"Mix {made.mix.name}: {litres(made.wet_volume)} wet, "
        f"{units.show(made.wet_mass, 'g')}{holds}",
        heads=("Ingredient", "Weight", "Volume"),
        rows=tuple(rows),
        tick=True,
    )


def wash_table(wash: KilnWash) -> Table:
    """How much kiln wash, and what for.

    Examples
    --------
    >>> [cell.text for cell in wash_table(KilnWash(2e5, 8e5, 5e5, 800.0, ())).rows[0]]
    ['1 m²', '500 ml', '800 g']
    """

    def metres(area: float) -> str:
        return f"{area / 1e6:.2g} m²"

    covered = []
    if wash.shelves_area:
        covered.append(f"tops of the shelves {metres(wash.shelves_area)}")
    if wash.wads_area:
        covered.append(f"tops and sides of the dry and solid wads {metres(wash.wads_area)}")
    covered.append(wash.recipe)
    area = metres(wash.wads_area + wash.shelves_area)
    cells = (
        Cell(text=area, detail=tuple(covered)),
        Cell(text=litres(wash.volume)),
        Cell(text=units.show(wash.mass, "g")),
    )
    return Table(
        caption="Kiln wash as it is brushed on",
        heads=("To cover", "Volume", "Weight"),
        rows=(cells,),
    )


def box_words(boxes: Sequence[Box]) -> str:
    """What the boxes hold once the kiln is packed, in a sentence.

    Examples
    --------
    >>> box_words([Box("disk-16", "dry", 12)])
    'Left when the kiln is packed: 12 × disk-16, dry. Soft ones go back into the mix.'
    """
    left = "; ".join(f"{box.number} × {box.shape}, {box.body}" for box in boxes)
    return f"Left when the kiln is packed: {left}. Soft ones go back into the mix."


def touch_table(plan: Plan) -> Table:
    """Every touch, how many there are, its wads and its verdict.

    Examples
    --------
    >>> touch_table(Plan(chosen=(), from_stock={}, gap=0.0, one_fewer="", one_more="")).heads
    ('Touch', 'Times', 'Wads')
    """
    rows = []
    for one in plan.chosen:
        wads = one.wads
        said = f"{wads.number} × {wads.shape}, {wads.body}" if wads else "none"
        told = Cell(text=f"{said}: {one.verdict or 'no load'}", verdict=one.verdict)
        rows.append((Cell(text=one.name), Cell(text=str(one.touch.count)), told))
    return Table(
        caption="Every touch in the kiln",
        heads=("Touch", "Times", "Wads"),
        rows=tuple(rows),
        words=(2,),
        small=True,
    )
