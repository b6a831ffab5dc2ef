"""The order of work, as far as this firing has that work."""

from __future__ import annotations

from collections.abc import Sequence

from wadforms.families.base import DRY, SOLID, WET
from wadforms.firing.batch import Batch
from wadforms.firing.make_list import Make
from wadforms.firing.plan import Plan
from wadforms.firing.rows import Cones, Posts, Shelf, Ware
from wadforms.firing.sheet.tables import litres
from wadforms.firing.wash import KilnWash
from wadforms.setting.assessment import UNSAFE


def order_of_work(
    plan: Plan,
    makes: Sequence[Make],
    batches: Sequence[Batch],
    *,
    wash: KilnWash | None = None,
) -> tuple[tuple[str, str], ...]:
    """What is done when: a word or two for it, and what to do.

    Parameters
    ----------
    plan : Plan
        What is set under what.
    makes : sequence of Make
        What is made for it.
    batches : sequence of Batch
        What is weighed out for that.
    wash : KilnWash or None
        What is brushed on.

    Examples
    --------
    >>> nothing = Plan(chosen=(), from_stock={}, gap=0.0, one_fewer="", one_more="")
    >>> [what for what, _ in order_of_work(nothing, (), ())]
    []
    """
    steps = [*_before(makes, batches), *_packing(plan, makes, wash)]
    if any(make.needed for make in makes):
        kept = [body for body in (SOLID, DRY) if any(make.body == body for make in makes)]
        keep = f" Whole {' and '.join(kept)} pieces go back to their boxes." if kept else ""
        steps.append(
            ("Afterwards", f"When the kiln is cold, knock the wads off, then grind the feet.{keep}")
        )
    return tuple(steps)


def _before(makes: Sequence[Make], batches: Sequence[Batch]) -> list[tuple[str, str]]:
    """Steps of the days before: boxes, mixes, and pieces, those first that take longest."""
    steps = []
    if boxed := [f"{m.from_stock} × {m.shape}, {m.body}" for m in makes if m.from_stock]:
        text = f"Take {_joined(boxed)}. Leave out what is cracked or glazed over."
        steps.append(("Boxes", text))
    if batches:
        mixed = [f"{litres(made.wet_volume)} of {made.mix.name}" for made in batches]
        steps.append(("Mix", f"Make up {_joined(mixed)}; keep covered."))
    after = {
        SOLID: "Let them dry through, then biscuit-fire them: they must be fired before they are "
        "set.",
        DRY: "Let them dry through: they are set bone dry.",
        WET: "On the day of packing; keep them covered, they are set soft.",
    }
    for body, text in after.items():
        pressed = [f"{m.to_make} × {m.shape}" for m in makes if m.body == body and m.to_make]
        if pressed:
            steps.append((f"Press {body}", f"{_joined(pressed)}. {text}"))
    return steps


def _packing(plan: Plan, makes: Sequence[Make], wash: KilnWash | None) -> list[tuple[str, str]]:
    """Steps at the kiln."""
    rows = {one.touch.row.row: one.touch.row for one in plan.chosen}.values()
    steps = []
    if wash is not None and wash.volume:
        covered = ["tops of shelves"] * bool(wash.shelves_area)
        covered += ["tops and sides of dry and solid wads"] * bool(wash.wads_area)
        steps.append(
            ("Wash", f"Brush kiln wash on {' and '.join(covered)}: {litres(wash.volume)}.")
        )
    if any(make.body in (DRY, SOLID) for make in makes):
        # Common practice, no source.
        kept = " and ".join(b for b in (DRY, SOLID) if any(make.body == b for make in makes))
        steps.append(
            (
                f"Stick {kept} wads",
                "To the foot, or to the shelf, each with a dab of slip or white glue, which burns "
                "away.",
            )
        )
    if any(isinstance(row, Shelf | Posts) for row in rows):
        text = "From the floor up: wads, post, wads, shelf. Posts stand in line with those below."
        steps.append(("Shelves", f"{text} Push each shelf: it must not rock."))
    if any(isinstance(row, Ware) for row in rows):
        wet = any(make.body == WET for make in makes)
        press = " Wet wads are pressed on: press until every one touches." if wet else ""
        steps.append(
            ("Pots", f"Lay the wads as the picture shows, then the pot straight down.{press}")
        )
    if any(isinstance(row, Ware) and row.stack > 1 for row in rows):
        steps.append(("Stacks", "Every wad stands right above the one below it."))
    if any(isinstance(row, Ware) and row.lid is not None for row in rows):
        steps.append(("Lids", "Wads on the gallery first; none may touch the wall beside it."))
    if any(isinstance(row, Cones) for row in rows):
        steps.append(("Cones", "In their seats, where the spy hole shows them."))
    if steps:
        steps.append(("Look round", "Tick every card. Nothing may touch that has no wad between."))
    if wrong := [one.name for one in plan.chosen if one.verdict == UNSAFE]:
        steps.append(("Stop", f"Not fit to fire: {_joined(wrong)}. Mend it before you light."))
    return steps


def _joined(words: Sequence[str]) -> str:
    """Words as a list in a sentence."""
    return "; ".join(words)
