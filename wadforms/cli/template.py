"""`wadforms template`: writes cutting templates."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from wadforms.cli.options import Answering, MixOptions, ShapeOptions, Writing

EXAMPLES = """
wadforms template leaf-55
wadforms template leaf-55 --wet --body dry --copies 6 --out leaves.svg
wadforms template disk --with diameter=45mm --paper letter
"""


def run(
    shape: Annotated[str, typer.Argument(help="A shape or a family.")],
    out: Annotated[
        Path | None,
        typer.Option("--out", "-o", help="The SVG file; SHAPE-outline.svg if not given."),
    ] = None,
    copies: Annotated[int, typer.Option("--copies", help="How many outlines on the sheet.")] = 1,
    paper: Annotated[
        str, typer.Option("--paper", help="a4, letter, or either for what both can print.")
    ] = "either",
    wet: Annotated[
        bool,
        typer.Option("--wet", help="Draw the size to cut from wet clay, not the size as set."),
    ] = False,
    *,
    changes: ShapeOptions,
    made_of: MixOptions,
    answering: Answering,
    writing: Writing,
) -> int:
    """Write a cutting template at true scale, with a square to measure the print by."""
    from wadforms import units
    from wadforms.cli.pictures import draw, refuse_overwrite
    from wadforms.cli.printing import print_json, say
    from wadforms.cli.reading import read_body, read_mix, read_shape
    from wadforms.cli.wads import eased_json, eased_lines, extent, title
    from wadforms.templates.outline_sheet import outline_only, outline_sheet

    found, values = read_shape(shape, changes)
    name = title(found, values)
    path = out or Path(f"{name}-outline.svg")
    refuse_overwrite(path, writing)
    size = found.sized(values)
    body = read_body(made_of.clay, found.bodies_of(size))
    mix = read_mix(made_of.clay, body)
    piece = size.piece()
    sheet = outline_sheet(
        name,
        piece,
        paper=paper,
        count=copies,
        shrinkage=mix.shrinkage(body) if wet else None,
        facts=[f"To be set {body}, of mix {mix.name!r}"] if wet else [],
    )
    files = draw(sheet.drawing, path, writing)
    drawn = [side * sheet.factor for side in piece.outline.size]
    if answering.json:
        print_json(
            {
                "files": files,
                "area_mm2": sheet.area,
                "size_mm": drawn,
                "factor": sheet.factor,
                "copies": sheet.count,
                **eased_json(size),
            }
        )
        return 0
    what = f"{sheet.count} × {name}, {extent(drawn)}, {units.show(sheet.area, 'mm2')} inside"
    say(f"{what} the outline", _how_large(wet, sheet.factor, body, mix.name))
    say(*eased_lines(size))
    if limit := outline_only(piece):
        say(f"{limit}.")
    say("Print at 100 %, no scaling; the square must measure 100 mm before you cut.")
    say(*(f"Written: {file}" for file in files))
    return 0


def _how_large(wet: bool, factor: float, body: str, mix: str) -> str:
    """What the size drawn has to do with the size as set."""
    from wadforms.families.base import SOLID

    if not wet:
        return "Drawn as set, nothing added for shrinkage."
    if factor == 1.0:
        return f"Wet size: the size as set, which is {body} too; nothing shrinks in between."
    way = "drying and firing" if body == SOLID else "drying"
    return f"Wet size: the size as set × {factor:.4f} for the {way} of mix {mix!r}."
