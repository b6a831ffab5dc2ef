"""`wadforms template`: writes cutting templates."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from wadforms.cli.options import Answering, ClayOptions, ShapeOptions, Writing

EXAMPLES = """
wadforms template leaf-55
wadforms template leaf-55 --wet --body dry --copies 6 --out leaves.svg
wadforms template disk --with diameter=45mm --paper letter
"""


def run(
    shape: Annotated[str, typer.Argument(help="A shape or a family.")],
    out: Annotated[
        Path | None, typer.Option("--out", "-o", help="The file; SHAPE-outline.svg if not given.")
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
    clay: ClayOptions,
    answering: Answering,
    writing: Writing,
) -> int:
    """Write a cutting template at true scale, with a square to measure the print by."""
    from wadforms import units
    from wadforms.cli.pictures import draw, refuse_overwrite
    from wadforms.cli.printing import print_json, say
    from wadforms.cli.reading import read_body, read_mix, read_shape
    from wadforms.templates.outline_sheet import outline_sheet

    found, values = read_shape(shape, changes)
    path = out or Path(f"{found.name}-outline.svg")
    refuse_overwrite(path, writing)
    size = found.sized(values)
    body = read_body(clay, found.bodies_of(size))
    shrinkage = read_mix(clay, body).shrinkage(body) if wet else None
    sheet = outline_sheet(found.name, size.piece(), paper=paper, count=copies, shrinkage=shrinkage)
    files = draw(sheet.drawing, path, writing)
    if answering.json:
        print_json({"files": files, "area_mm2": sheet.area, "copies": sheet.count})
    else:
        say(f"{sheet.count} × {found.name}, {units.show(sheet.area, 'mm2')} inside the outline")
        say("Print at 100 %, no scaling; the square must measure 100 mm before you cut.")
        say(*(f"Written: {file}" for file in files))
    return 0
