"""A firing in words, and as JSON."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any, NamedTuple

from wadforms import units

if TYPE_CHECKING:
    from wadforms.firing.batch import Batch
    from wadforms.firing.make_list import Box, Make
    from wadforms.firing.plan import Chosen, Plan
    from wadforms.firing.wash import KilnWash
    from wadforms.firing.write import Written


class Reckoned(NamedTuple):
    """All that was found out about a firing, before anything is written.

    Parameters
    ----------
    plan : Plan
        Wads for every touch.
    makes : tuple of Make
        What to make.
    batches : tuple of Batch
        What to weigh out, mix by mix.
    boxes : tuple of Box
        What is left.
    wash : KilnWash
        For wads and shelves.
    spare : float
        Share that is made on top.
    scoop : float or None
        What the user's scoop holds [mm³].
    notes : tuple of str
        How the list was read, and what it left open.
    """

    plan: Plan
    makes: tuple[Make, ...]
    batches: tuple[Batch, ...]
    boxes: tuple[Box, ...]
    wash: KilnWash
    spare: float
    scoop: float | None
    notes: tuple[str, ...]

    @property
    def unsafe(self) -> bool:
        """Whether it cannot be fired like this."""
        return bool(self.plan.problems)  # an unsafe touch is one of them

    @property
    def assumed(self) -> list[str]:
        """What was assumed anywhere, each thing once."""
        every = [text for one in self.plan.chosen for text in _assumed(one)]
        every += [text for made in self.batches for text in made.assumed]
        return list(dict.fromkeys([*every, *self.wash.assumed]))


def firing_json(found: Reckoned, written: Written) -> dict[str, Any]:
    """The firing for scripts; units stand in the keys."""
    from wadforms.cli.batch import batch_json
    from wadforms.firing.batch import DUST

    return {
        "touches": [
            _touch(chosen, picture)
            for chosen, picture in zip(found.plan.chosen, written.pictures, strict=True)
        ],
        "wads": [
            {
                "shape": make.shape,
                "body": make.body,
                "mix": make.mix.name,
                "needed": make.needed,
                "from_stock": make.from_stock,
                "to_make": make.to_make,
                "minutes": make.minutes,
                "each_wet_volume_mm3": make.each_wet_volume,
                "wet_volume_mm3": make.wet_volume,
                "wet_mass_g": make.wet_mass,
                "coated_area_mm2": make.coated_area,
            }
            for make in found.makes
        ],
        "shapes": sorted({make.shape for make in found.makes}),
        "spare": found.spare,
        "mix_volume_mm3": sum(make.wet_volume for make in found.makes),
        "choice_gap": found.plan.gap,
        "fewest_proven": found.plan.is_fewest,
        "unproven": list(found.plan.unproven),
        "one_shape_fewer": found.plan.one_fewer,
        "one_shape_more": found.plan.one_more,
        "batches": [batch_json(made, found.scoop) for made in found.batches],
        "kiln_wash": {
            "wads_area_mm2": found.wash.wads_area,
            "shelves_area_mm2": found.wash.shelves_area,
            "volume_mm3": found.wash.volume,
            "mass_g": found.wash.mass,
            "each_volume_mm3": found.wash.each_volume,
            "recipe": found.wash.recipe,
        },
        "boxes_after": [box._asdict() for box in found.boxes],
        "problems": [*found.plan.problems, *written.problems],
        "notes": list(found.notes),
        "assumed": found.assumed,
        "caution": DUST,
    }


def _assumed(chosen: Chosen) -> Sequence[str]:
    return chosen.choice.assessment.assumed if chosen.choice else ()


def _touch(chosen: Chosen, picture: str | None) -> dict[str, Any]:
    from wadforms.cli.printing import assessment_json
    from wadforms.cli.wads import pieces_json

    touch, wads = chosen.touch, chosen.wads
    about: dict[str, Any] = {
        "name": chosen.name,
        "row": touch.row.row,
        "kind": touch.kind,
        "times": touch.count,
        "place": touch.row.place.name,
        "verdict": chosen.verdict,
        "shape": wads and wads.shape,
        "count": wads and wads.number,
        "body": wads and wads.body,
        "radius_mm": None,
        "why": chosen.why,
        "notes": touch.notes,
        "nearest": chosen.nearest.sentence if chosen.nearest and not chosen.choice else None,
        "picture": picture,
    }
    if chosen.choice:
        checked = assessment_json(chosen.choice.assessment)
        # Wad by wad and check by check it is told by `contact`, and drawn in the picture.
        about |= pieces_json(chosen.choice.setting)
        left_out = ("per_wad", "checks", "assumed", "notes")
        about |= {k: v for k, v in checked.items() if k not in left_out}
    return about


def firing_lines(found: Reckoned, written: Written) -> list[str]:
    """The firing for people."""
    from wadforms.cli.batch import batch_rows
    from wadforms.cli.printing import table
    from wadforms.firing.batch import DUST

    lines = [f"Note: {note}." for note in found.notes]
    lines += ["What goes where:"]
    lines += table(_where(chosen) for chosen in found.plan.chosen)
    problems = [*found.plan.problems, *written.problems]
    lines += ["", *(f"Problem: {problem}." for problem in problems)] if problems else []
    if found.makes:
        lines += ["", "What to make, spare included:"]
        lines += table(_make(make) for make in found.makes)
    minutes = [make.minutes for make in found.makes if make.minutes is not None]
    if minutes:
        lines.append(f"  Pressing takes about {sum(minutes) / 60.0:.1f} hours at that rate.")
    lines += [
        f"  {text[:1].upper()}{text[1:]}."
        for text in dict.fromkeys((found.plan.one_fewer, found.plan.one_more))
        if text
    ]
    lines += found.plan.unproven
    for made in found.batches:
        wet = f"{made.wet_volume / 1e6:.3f} l, {made.wet_mass / 1000:.3f} kg wet"
        lines += ["", f"What to weigh out of mix {made.mix.name!r}: {wet}"]
        lines += batch_rows(made, found.scoop)
    wash = found.wash
    areas = f"{wash.wads_area / 1e6:.2f} m² of dry and solid wads, "
    areas += f"{wash.shelves_area / 1e6:.2f} m² of shelves"
    lines += ["", f"Kiln wash, {areas}: {wash.volume / 1e6:.2f} l, {wash.mass / 1000:.2f} kg"]
    lines.append(f"  {wash.recipe}. Soft wads are not coated: they must bed.")
    lines += ["", "Assumed, besides every limit, which you should test in your own kiln:"]
    assumed = [a for made in found.batches for a in made.assumed] + list(wash.assumed)
    lines += [f"  - {text}" for text in dict.fromkeys(assumed)]
    return [*lines, "", DUST]


def _where(chosen: Chosen) -> list[str]:
    from wadforms.cli.printing import marked

    if chosen.choice:
        what = chosen.choice.sentence
    elif chosen.wads:
        what = f"{chosen.wads.number} × {chosen.wads.shape}, {chosen.wads.body}"
    else:
        what = "nothing, see below"
    verdict = "  no load" if chosen.verdict is None else marked(chosen.verdict)
    return [verdict, f"{chosen.touch.count} × {chosen.name}", what]


def _make(make: Make) -> list[str]:
    return [
        f"{make.to_make} × {make.shape}",
        make.body,
        f"mix {make.mix.name!r}",
        units.show(make.wet_volume, "mm3"),
        units.show(make.wet_mass, "g"),
        f"and {make.from_stock} out of the boxes" if make.from_stock else "",
    ]
