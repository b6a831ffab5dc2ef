"""`wadforms batch`: what to weigh out for a volume of wet mix."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated, Any

import typer

from wadforms.cli.options import Answering

if TYPE_CHECKING:
    from wadforms.firing.batch import Batch

EXAMPLES = """
wadforms batch --volume 3l
wadforms batch --volume 3l --mix dense --scoop 400ml
wadforms batch --volume 2l --mix my-mix.toml --spare 20% --json
"""


def run(
    volume: Annotated[str, typer.Option("--volume", help="Of wet mix that is wanted: 3l, 800ml.")],
    mix: Annotated[
        str, typer.Option("--mix", help="A mix by name, or a TOML file of your own.")
    ] = "open",
    spare: Annotated[
        str, typer.Option("--spare", help="How much to make on top, as a share: 10%.")
    ] = "10%",
    scoop: Annotated[
        str | None,
        typer.Option("--scoop", help="What your scoop holds, to count by it: 400ml."),
    ] = None,
    *,
    answering: Answering,
) -> int:
    """Tell what to weigh out for a volume of wet mix, by weight and by the scoop."""
    from wadforms.cli.printing import print_json, say
    from wadforms.cli.reading import Reader
    from wadforms.firing.batch import batch
    from wadforms.setting.mixes import mix as mix_named

    reader = Reader()
    wanted = reader.quantity(volume, "mm3", "--volume")
    share = reader.quantity(spare, "share", "--spare")
    holds = reader.optional(scoop, "mm3", "--scoop")
    reader.done()
    made = batch(mix_named(mix), wanted, spare=share)
    if answering.json:
        print_json(batch_json(made, holds))
    else:
        say(*batch_lines(made, holds))
    return 0


def batch_json(made: Batch, scoop: float | None) -> dict[str, Any]:
    """A batch for scripts, counted by a scoop [mm³]; units stand in the keys."""
    from wadforms.firing.batch import DUST, scoops

    def by(volume: float) -> float | None:
        return None if scoop is None else scoops(volume, scoop)

    return {
        "mix": made.mix.name,
        "wet_volume_mm3": made.wet_volume,
        "spare": made.spare,
        "wet_mass_g": made.wet_mass,
        "dry_mass_g": made.dry_mass,
        "ingredients": [
            {
                "name": p.name,
                "mass_g": p.mass,
                "volume_mm3": p.volume,
                "scoops": by(p.volume),
                "burns_out": p.burns_out,
            }
            for p in made.portions
        ],
        "water_g": made.water,
        "water_scoops": by(made.water_volume),
        "burnt_out_share": made.burnt_out_share,
        "fired_mass_g": made.fired_mass,
        "assumed": list(made.assumed),
        "caution": DUST,
    }


def batch_lines(made: Batch, scoop: float | None) -> list[str]:
    """A batch for people, counted by a scoop [mm³] too."""
    from wadforms import units
    from wadforms.firing.batch import DUST

    spare = units.show(made.spare, "share")
    lines = [
        f"{made.wet_volume / 1e6:.2f} l of mix {made.mix.name!r}, {spare} spare in it: "
        f"{made.wet_mass / 1000:.2f} kg wet, {made.dry_mass / 1000:.2f} kg dry",
        *batch_rows(made, scoop),
    ]
    if made.burnt_out_share:
        burnt = units.show(made.burnt_out_share, "share")
        lines.append(f"The fire takes {burnt} of the dry weight as filler.")
    if made.fired_mass is not None:
        lines.append(
            f"Fired it weighs {made.fired_mass / 1000:.2f} kg: bound water leaves its minerals too."
        )
    lines += ["", "Litres are loose, struck off. Assumed (weigh your own):"]
    lines += [f"  - {text}" for text in made.assumed]
    return [*lines, "", DUST]


def batch_rows(made: Batch, scoop: float | None) -> list[str]:
    """What goes into a batch, a line each, counted by a scoop [mm³] too."""
    from wadforms.cli.printing import table
    from wadforms.firing.batch import scoop_words, scoops

    def row(name: str, mass: float, volume: float, remark: str) -> list[str]:
        shown = [name, f"{mass / 1000:.3f} kg", f"{volume / 1e6:.3f} l"]
        shown += [] if scoop is None else [scoop_words(scoops(volume, scoop))]
        return [*shown, remark]

    rows = [
        row(p.name, p.mass, p.volume, "burns out" if p.burns_out else "") for p in made.portions
    ]
    rows.append(row("water", made.water, made.water_volume, "the last of it by feel"))
    return table(rows)
