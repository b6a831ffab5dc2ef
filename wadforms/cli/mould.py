"""`wadforms mould`: writes press moulds."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from wadforms.cli.options import Answering, MixOptions, ShapeOptions, Writing

if TYPE_CHECKING:
    from wadforms.families.base import Piece

EXAMPLES = """
wadforms mould disk-25
wadforms mould leaf-55 --body dry --out leaf.stl
wadforms mould tripod --with reach=45mm --making wall=4mm
"""


def run(
    shape: Annotated[str, typer.Argument(help="A shape or a family.")],
    out: Annotated[
        Path | None, typer.Option("--out", "-o", help="The STL file; SHAPE-tray.stl if not given.")
    ] = None,
    making: Annotated[
        list[str],
        typer.Option(
            "--making", help="Change the tray: wall=4mm, floor=, relief=. Repeat for more."
        ),
    ] = [],  # noqa: B006 - typer copies it
    *,
    changes: ShapeOptions,
    made_of: MixOptions,
    answering: Answering,
    writing: Writing,
) -> int:
    """Write a press tray as STL, enlarged for shrinkage and proven by reading it back."""
    import tempfile
    from dataclasses import asdict

    from wadforms import units
    from wadforms.cli.pictures import check_name, refuse_overwrite
    from wadforms.cli.printing import print_json, say
    from wadforms.cli.reading import Reader, read_body, read_mix, read_shape
    from wadforms.cli.wads import eased_json, eased_lines, extent, title
    from wadforms.moulds import Making, write_tray
    from wadforms.setting.quantities import quantities

    reader = Reader()
    sizes = dict(reader.pair(text, "--making", "wall=4mm") for text in making)
    reader.done()
    found, values = read_shape(shape, changes)
    name = title(found, values)
    path = out or Path(f"{name}-tray.stl")
    check_name(path, ".stl")
    refuse_overwrite(path, writing)
    size = found.sized(values)
    body = read_body(made_of.clay, found.bodies_of(size))
    mix = read_mix(made_of.clay, body)
    piece = size.piece()
    with tempfile.TemporaryDirectory() as elsewhere:
        # A dry run makes and proves the file too, and then lets it go.
        made = write_tray(
            piece,
            Path(elsewhere, path.name) if writing.dry_run else path,
            shrinkage=mix.shrinkage(body),
            making=Making.sized(sizes),
            force=writing.force,
        )
    files = [] if writing.dry_run else made.files
    floor = [side * mix.wet_factor(body) for side in piece.outline.size]
    wet_mass = quantities(piece, mix, body).wet_mass
    if answering.json:
        clay_facts = {"wet_mass_g": wet_mass, "body": body, "mix": mix.name}
        print_json(
            asdict(made)
            | {"floor_size_mm": floor}
            | clay_facts
            | eased_json(size)
            | {"files": files}
        )
    else:
        *mouth, depth = made.wet_size_mm
        say(
            f"Tray for {name}, set {body}, mix {mix.name!r}:",
            f"  cavity {extent(floor)} {_level(piece)}, as a wet template shows it;",
            f"  {extent(mouth)} at its mouth, {units.show(depth, 'mm')} deep; one filling "
            f"{units.show(made.wet_volume_mm3, 'mm3')}, {units.show(wet_mass, 'g')} of wet mix",
            f"  piece as set {units.show(made.piece_volume_mm3, 'mm3')}, bearing face "
            f"{units.show(made.contact_top_area_mm2, 'mm2')}",
            f"  tray {extent(made.outer_size_mm)}, {units.show(made.material_volume_mm3, 'mm3')} "
            "to print, mouth up, without supports",
        )
        say(*eased_lines(size), *(f"Written: {file}" for file in files))
    return 0


def _level(piece: Piece) -> str:
    """Where in the cavity, which lies upside down, the outline is found."""
    if piece.tips and piece.tips.base_area:
        return "where the points begin"
    return "at its floor, the bearing face" if piece.faces else "at its floor"
