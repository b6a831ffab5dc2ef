"""`wadforms template`: writes cutting templates."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any, Final, NamedTuple, TypeVar

import typer

from wadforms.cli.cutting import CuttingOptions
from wadforms.cli.options import Answering, MixOptions, PaperOptions, ShapeOptions, Writing

if TYPE_CHECKING:
    from wadforms.cli.reading import Reader
    from wadforms.families.base import Family, Piece
    from wadforms.templates.correction import Correction
    from wadforms.templates.drawing import Drawing
    from wadforms.templates.stencil import Cutting

EXAMPLES = """
wadforms template leaf-55
wadforms template leaf-55 --wet --body dry --copies 6 --out leaves.pdf
wadforms template ring --with diameter=300mm --paper letter --out ring.pdf
wadforms template --square-only --out square.pdf
wadforms template disk-40 --square-measured 97mm --out disk.pdf
wadforms template tripod-50 --kind stencil --copies 8 --kerf 0.15mm --stroke red
"""

_SHEET: Final = "sheet"
_STENCIL: Final = "stencil"

_T = TypeVar("_T")


def run(
    shape: Annotated[
        str | None, typer.Argument(help="A shape or a family; none with --square-only.")
    ] = None,
    kind: Annotated[
        str,
        typer.Option(
            "--kind",
            "-k",
            help="sheet (outlines on paper, to cut out and cut by) or stencil (closed paths "
            "alone, for a machine that cuts along them).",
        ),
    ] = _SHEET,
    out: Annotated[
        Path | None,
        typer.Option(
            "--out",
            "-o",
            help="The file: .svg or .pdf for paper, .svg or .dxf for a stencil. SHAPE-outline.svg "
            "or SHAPE-stencil.svg if not given; several pages of SVG get -1, -2 and so on.",
        ),
    ] = None,
    copies: Annotated[int, typer.Option("--copies", help="How many outlines.")] = 1,
    wet: Annotated[
        bool,
        typer.Option("--wet", help="Draw the size to cut from wet clay, not the size as set."),
    ] = False,
    square_only: Annotated[
        bool,
        typer.Option(
            "--square-only", help="Write a page with the 100 mm square alone, to try a printer."
        ),
    ] = False,
    *,
    printed: PaperOptions,
    cut: CuttingOptions,
    changes: ShapeOptions,
    made_of: MixOptions,
    answering: Answering,
    writing: Writing,
) -> int:
    """Write a cutting template at true scale: on paper with a square to measure, or a stencil."""
    from wadforms.cli.cutting import read_cutting
    from wadforms.cli.printing import print_json, say
    from wadforms.cli.reading import Reader
    from wadforms.errors import BadInput, Fault
    from wadforms.templates.paper import paper
    from wadforms.templates.write import MACHINE, PAPER, check_suffix

    reader = Reader()
    reader.one_of(kind, (_SHEET, _STENCIL), "--kind")
    formats = MACHINE if kind == _STENCIL else PAPER
    if kind == _STENCIL:
        for option, given in _given(printed).items():
            reader.unused(given, option, "leave it out: a stencil is not for paper")
    else:
        for option in cut.given:
            reader.unused(True, option, "give it with --kind stencil alone")
    if square_only:
        idle = {"SHAPE": shape, "--copies": copies != 1, "--wet": wet, "--with": changes.with_}
        for option, value in idle.items():
            reader.unused(value, option, "leave it out: --square-only draws no shape")
        reader.unused(kind == _STENCIL, "--kind", "leave it out: the square is for paper")
    elif shape is None:
        right = "name a shape or a family; `wadforms shapes` lists them"
        reader.faults.append(Fault("SHAPE", "nothing", right))
    if copies < 1:
        reader.faults.append(Fault("--copies", str(copies), "draw one outline or more"))
    if out is not None:
        _read(reader, lambda: check_suffix(out, formats))
    _read(reader, lambda: paper(printed.paper))
    correction = _read(reader, lambda: _correction(printed))
    cutting = read_cutting(cut, reader) if kind == _STENCIL else None
    found = _read(reader, lambda: _named(shape, changes, made_of, wet=wet)) if shape else None
    reader.done()
    if square_only:
        answer = _square(printed, correction, out)
    elif found is None:
        raise BadInput(*reader.faults)
    elif cutting is not None:
        answer = _stencil(found, copies, cutting, out)
    else:
        answer = _sheet(found, copies, printed, correction, out)
    files = _write(answer, formats, writing)
    if answering.json:
        print_json({"files": files, "kind": "square" if square_only else kind, **answer.told})
    else:
        say(*answer.lines)
        say(*(f"Written: {file}" for file in files))
    return 0


class _Found(NamedTuple):
    """The shape that is drawn, and by how much it shrinks."""

    name: str
    size: Family
    piece: Piece
    body: str
    mix: str
    shrinkage: float | None

    @property
    def factor(self) -> float:
        return 1.0 if self.shrinkage is None else 1.0 / (1.0 - self.shrinkage)

    def state(self) -> str:
        """What the size drawn has to do with the size as set."""
        from wadforms.families.base import SOLID

        if self.shrinkage is None:
            return "Drawn as set, nothing added for shrinkage."
        if self.factor == 1.0:
            return (
                f"Wet size: the size as set, which is {self.body} too; nothing shrinks in between."
            )
        way = "drying and firing" if self.body == SOLID else "drying"
        return f"Wet size: the size as set × {self.factor:.4f} for the {way} of mix {self.mix!r}."


class _Answer(NamedTuple):
    """What is drawn, where it goes, and what is said of it."""

    drawings: Sequence[Drawing]
    path: Path
    told: dict[str, Any]
    lines: list[str]


def _read(reader: Reader, call: Callable[[], _T]) -> _T | None:
    """What a call gives; None after a fault, which is kept to be told with the others."""
    from wadforms.errors import BadInput

    try:
        return call()
    except BadInput as error:
        reader.faults += error.faults
        return None


def _given(printed: PaperOptions) -> dict[str, bool]:
    """Which options of paper were given, by what is typed."""
    defaults = PaperOptions._field_defaults
    return {
        f"--{name.replace('_', '-')}": value != defaults[name]
        for name, value in printed._asdict().items()
    }


def _correction(printed: PaperOptions) -> Correction | None:
    """What makes up for the printer, if it was measured."""
    from wadforms.cli.pictures import correction

    return correction(printed)


def _named(shape: str, changes: ShapeOptions, made_of: MixOptions, *, wet: bool) -> _Found:
    """The shape with its changes, and how it is made.

    Raises
    ------
    BadInput
        With what is wrong with them.
    NotMakeable
        They make no piece.
    """
    from wadforms.cli.reading import read_body, read_mix, read_shape
    from wadforms.cli.wads import piece_of, title

    found, values = read_shape(shape, changes)
    size = found.sized(values)
    body = read_body(made_of.clay, found.bodies_of(size))
    mix = read_mix(made_of.clay, body)
    shrinkage = mix.shrinkage(body) if wet else None
    piece = piece_of(
        size, upright=True, drafted="draft" in values
    )  # what is cut along a line has no draft
    return _Found(title(found, values), size, piece, body, mix.name, shrinkage)


def _sheet(
    found: _Found,
    copies: int,
    printed: PaperOptions,
    correction: Correction | None,
    out: Path | None,
) -> _Answer:
    from wadforms import units
    from wadforms.cli.pictures import correction_json, how_to_print, needed
    from wadforms.cli.wads import eased_json, eased_lines
    from wadforms.templates.outline_pages import outline_pages
    from wadforms.templates.outline_sheet import outline_only
    from wadforms.templates.tiles import JOIN

    made = outline_pages(
        found.name,
        found.piece,
        paper=printed.paper,
        count=copies,
        shrinkage=found.shrinkage,
        facts=[] if found.shrinkage is None else [f"To be set {found.body}, of mix {found.mix!r}"],
        correction=needed(correction),
    )
    drawn = [side * made.factor for side in found.piece.outline.size]
    told = {
        "area_mm2": made.area,
        "size_mm": drawn,
        "factor": made.factor,
        "copies": made.count,
        "paper": printed.paper,
        "pages": len(made.pages),
        "columns": made.grid.columns if made.grid else 1,
        "rows": made.grid.rows if made.grid else 1,
        **correction_json(correction),
        **eased_json(found.size),
    }
    area = units.show(made.area, "mm2")
    what = f"{made.count} × {found.name}, {units.show_extent(drawn)}, {area} inside"
    limit = outline_only(found.piece)
    lines = [
        f"{what} the outline",
        found.state(),
        *eased_lines(found.size),
        *([f"{limit}."] if limit else []),
    ]
    if made.grid:
        lines.append(
            f"Larger than a sheet: {made.grid.columns} columns × {made.grid.rows} rows of sheets "
            f"that overlap. {JOIN}"
        )
    elif len(made.pages) > 1:
        lines.append(f"On {len(made.pages)} sheets.")
    lines += how_to_print(correction)
    path = out or Path(f"{found.name}-outline.svg")
    return _Answer(made.pages, path, told, lines)


def _stencil(found: _Found, copies: int, cutting: Cutting, out: Path | None) -> _Answer:
    from wadforms import units
    from wadforms.cli.wads import eased_json, eased_lines
    from wadforms.templates.outline_sheet import outline_only
    from wadforms.templates.stencil import stencil

    outline = found.piece.outline.scaled(found.factor)
    made = stencil(found.name, outline, count=copies, cutting=cutting)
    told = {
        "area_mm2": made.area,
        "size_mm": list(outline.size),
        "factor": found.factor,
        "copies": made.count,
        "kerf_mm": cutting.kerf,
        "drawn_area_mm2": made.drawn_area,
        "sheet_mm": [made.drawing.width, made.drawing.height],
        "paths": len(made.drawing.items),
        **eased_json(found.size),
    }
    sheet = units.show_extent((made.drawing.width, made.drawing.height))
    area = units.show(made.area, "mm2")
    what = f"{made.count} × {found.name}, {units.show_extent(outline.size)}, {area}"
    limit = outline_only(found.piece)
    lines = [
        f"{what} each as it comes out, on {sheet}",
        found.state(),
        *eased_lines(found.size),
        *([f"{limit}."] if limit else []),
        f"Kerf {cutting.kerf:g} mm: outer paths are drawn {cutting.kerf / 2:g} mm further out, "
        "holes as much further in."
        if cutting.kerf
        else "No kerf: the middle of the cut is the outline.",
        _paths(len(made.drawing.items), holes=len(made.drawing.items) > made.count),
    ]
    return _Answer([made.drawing], out or Path(f"{found.name}-stencil.svg"), told, lines)


def _paths(count: int, *, holes: bool) -> str:
    what = f"{count} closed path{'' if count == 1 else 's'}"
    return f"{what}, of each piece the holes first." if holes else f"{what}."


def _square(printed: PaperOptions, correction: Correction | None, out: Path | None) -> _Answer:
    from wadforms.cli.pictures import correction_json, how_to_print, needed
    from wadforms.templates.proof_page import proof_page

    page = proof_page(paper=printed.paper, correction=needed(correction))
    lines = ["A 100 mm square and a 4 in line, to try a printer.", *how_to_print(correction)]
    told = {"paper": printed.paper, "pages": 1, **correction_json(correction)}
    return _Answer([page], out or Path("square-100mm.svg"), told, lines)


def _write(answer: _Answer, formats: Mapping[str, str], writing: Writing) -> list[str]:
    """Write all files or none; a dry run only looks.

    Raises
    ------
    WouldOverwrite
        A file is there and was not to be replaced.
    BadInput
        One cannot be written there.
    """
    from wadforms.cli.pictures import refuse_overwrite
    from wadforms.files import write_all
    from wadforms.templates.write import contents, places

    for place in places(answer.path, len(answer.drawings)):
        refuse_overwrite(place, writing)
    made = contents(answer.drawings, answer.path, formats)
    if writing.dry_run:
        return []
    write_all(made, force=writing.force)
    return [str(place) for place in made]
