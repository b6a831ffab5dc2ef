"""`wadforms slab`: lays pieces on a rolled slab or a sheet."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any, NamedTuple

import typer

from wadforms.cli.options import Answering, MixOptions, PaperOptions, ShapeOptions, Writing

if TYPE_CHECKING:
    from wadforms.families.base import Family, Piece
    from wadforms.setting.mixes import Mix
    from wadforms.templates.correction import Correction
    from wadforms.templates.drawing import Drawing
    from wadforms.templates.paper import Paper
    from wadforms.templates.slab_layout import SlabLayout

EXAMPLES = """
wadforms slab disk-25 --size 400x300 --wet --body dry
wadforms slab leaf-55 tripod-50 disk-25 --size 400x300 --edge 10mm --out slab.pdf
wadforms slab disk-31:24 rail-100:2 --size 12x12in --search 10
wadforms slab disk-20:3 tee-50:1 --sets --size 400x300 --overview --out plan.pdf
"""


def run(
    shapes: Annotated[
        list[str],
        typer.Argument(
            metavar="SHAPE[:COUNT]...",
            help="A shape or a family, with its count or without. One without fills the slab; "
            "several without lie in whole sets of one each; with counts just these are laid.",
        ),
    ],
    size: Annotated[
        str, typer.Option("--size", help="Of the slab: 400x300, 12x12in; bare numbers are mm.")
    ],
    sets: Annotated[
        bool,
        typer.Option("--sets", help="The counts make one set: as many whole sets as there fit."),
    ] = False,
    gap: Annotated[
        str,
        typer.Option(
            "--gap",
            help="Between two pieces, for the knife. With 0 they may share an edge, which is then "
            "drawn for each of them.",
        ),
    ] = "2mm",
    edge: Annotated[
        str, typer.Option("--edge", help="Left free along the slab's edges, which may be ragged.")
    ] = "0",
    thickness: Annotated[
        str | None,
        typer.Option("--thickness", help="Of the slab; the pieces' height if not given."),
    ] = None,
    wet: Annotated[
        bool,
        typer.Option("--wet", help="Lay the size to cut from wet clay, not the size as set."),
    ] = False,
    search: Annotated[
        float,
        typer.Option(
            "--search",
            help="Seconds to look for more than rows and bands give. The search stops by the "
            "clock, so its result may differ from run to run; rows and bands never do.",
        ),
    ] = 0.0,
    seed: Annotated[
        int,
        typer.Option(
            "--seed",
            help="Of that search: the same one makes a like result likely, but not certain.",
        ),
    ] = 0,
    overview: Annotated[
        bool, typer.Option("--overview", help="One page only, made to fit: not to cut by.")
    ] = False,
    out: Annotated[
        Path | None,
        typer.Option(
            "--out",
            "-o",
            help="A PDF in sheets of paper after an overview, or an SVG file of the whole slab; "
            "SHAPE-slab.svg if not given.",
        ),
    ] = None,
    *,
    paper: PaperOptions,
    changes: ShapeOptions,
    made_of: MixOptions,
    answering: Answering,
    writing: Writing,
) -> int:
    """Lay as many pieces as a rolled slab yields, and tell what is left over."""
    from wadforms.cli.pictures import (
        correction,
        correction_json,
        correction_lines,
        draw_all,
        refuse_overwrite,
    )
    from wadforms.cli.printing import print_json, say
    from wadforms.errors import BadInput, Fault, NotMakeable
    from wadforms.templates.slab_layout import SlabItem, slab_layout
    from wadforms.templates.write import check_suffix

    request = _read_sizes(size, gap, edge, thickness)
    if not 0.0 <= search <= 600.0:
        raise BadInput(Fault("--search", f"{search:g}", "give 0 to 600 seconds"))
    if not 0 <= seed < 2**32:
        raise BadInput(Fault("--seed", str(seed), f"give 0 to {2**32 - 1}"))
    wanted = _read_shapes(shapes, changes)
    body, mix = _made_of(wanted, made_of)
    factor = mix.wet_factor(body) if wet else 1.0
    path = out or Path(f"{'-and-'.join(one.name for one in wanted[:3])}-slab.svg")
    check_suffix(path)
    refuse_overwrite(path, writing)
    on_paper = _read_paper(path, paper, overview=overview)
    try:
        layout = slab_layout(
            [SlabItem(one.name, one.piece.outline.scaled(factor), one.number) for one in wanted],
            slab=request.slab,
            gap=request.gap,
            edge=request.edge,
            in_sets=sets,
            seconds=search,
            seed=seed,
        )
    except NotMakeable as error:
        if size.strip()[-1:].isdigit() and max(request.slab) < 100.0:
            raise NotMakeable(f"{error}; bare numbers are mm: {size.strip()}in?") from None
        raise
    thick = request.thickness or _common_height(wanted, factor)
    state = f"To be set {body}, of mix {mix.name!r}"
    drawn = f"wet size, set size × {factor:.4f}" if wet else "the size as set"
    facts = [f"{state}; drawn at {drawn}"]
    if thick:
        facts.append(f"Slab {_mm(thick)} thick: {_grams(mix, layout.slab_area * thick)}")
    pages = _pages(layout, path, facts, on_paper, overview=overview)
    files = draw_all([(path, pages)], writing)
    if answering.json:
        told = _answer(layout, files, mix, body, factor, thick)
        print_json(told | correction_json(correction(paper)))
    else:
        say(*_lines(layout, mix, thick, facts))
        say(*(line for one in wanted for line in _limits(one)))
        say(*_paper_lines(layout, path, on_paper, len(pages), overview=overview))
        say(*correction_lines(paper), *(f"Written: {file}" for file in files))
    return 0


class _Request(NamedTuple):
    """The sizes that were asked for [mm]."""

    slab: tuple[float, float]
    gap: float
    edge: float
    thickness: float | None


class _Wanted(NamedTuple):
    """A shape to be cut, and how many."""

    name: str
    size: Family
    piece: Piece
    bodies: tuple[str, ...]
    number: int | None


def _read_sizes(size: str, gap: str, edge: str, thickness: str | None) -> _Request:
    """What was typed, in mm.

    Raises
    ------
    BadInput
        With all faults.
    """
    from wadforms import units
    from wadforms.cli.reading import Reader
    from wadforms.errors import BadInput

    reader = Reader()
    slab = (0.0, 0.0)
    try:
        slab = units.extent(size, "--size")
    except BadInput as error:
        reader.faults += error.faults
    between = reader.quantity(gap, "mm", "--gap")
    free = reader.quantity(edge, "mm", "--edge")
    thick = None if thickness is None else reader.above_zero(thickness, "mm", "--thickness")
    reader.done()
    return _Request(slab, between, free, thick)


def _read_shapes(words: Sequence[str], changes: ShapeOptions) -> list[_Wanted]:
    """The shapes with their counts.

    Raises
    ------
    BadInput
        One is unknown, a count is none, or a change could be meant for several.
    """
    from wadforms import units
    from wadforms.cli.reading import read_shape
    from wadforms.cli.wads import piece_of, title
    from wadforms.errors import BadInput, Fault

    if len(words) > 1 and (changes.with_ or changes.ease):
        option = "--with" if changes.with_ else "--ease"
        right = "give it with one shape alone, or keep the changed shape among your own"
        raise BadInput(Fault(option, f"{len(words)} shapes", right))
    found = []
    for word in words:
        name, sign, number = word.partition(":")
        count = units.count(number) if sign else None
        if sign and (count is None or count < 1):
            raise BadInput(Fault("shape", repr(word), "write SHAPE:COUNT, as disk-25:12"))
        shape, values = read_shape(name, changes)
        size = shape.sized(values)
        bodies = tuple(shape.bodies_of(size))
        # Cut along a line, so that there need be no room for draft.
        piece = piece_of(size, upright=True, drafted="draft" in values)
        found.append(_Wanted(title(shape, values), size, piece, bodies, count))
    return found


def _made_of(wanted: Sequence[_Wanted], options: MixOptions) -> tuple[str, Mix]:
    """One body and one mix for all, since they come from one slab.

    Raises
    ------
    BadInput
        The shapes have no body in common, or the one asked for is none of theirs.
    """
    from wadforms.cli.reading import read_body, read_mix
    from wadforms.errors import BadInput, Fault

    common = [b for b in wanted[0].bodies if all(b in one.bodies for one in wanted)]
    if not common:
        given = "; ".join(f"{one.name}: {' or '.join(one.bodies)}" for one in wanted)
        right = "lay shapes on one slab that can be set alike"
        raise BadInput(Fault("shapes", given, right))
    body = read_body(options.clay, common)
    return body, read_mix(options.clay, body)


def _common_height(wanted: Sequence[_Wanted], factor: float) -> float | None:
    """The height of the pieces as cut [mm]; None where it is not the same."""
    heights = [one.piece.height * factor for one in wanted]
    return heights[0] if max(heights) - min(heights) < 0.05 else None


def _read_paper(
    path: Path, paper: PaperOptions, *, overview: bool
) -> tuple[Paper, Correction | None]:
    """The sheets, and what makes up for the printer.

    Raises
    ------
    BadInput
        The paper is unknown, or what was said of it would have no effect.
    """
    from wadforms.cli.pictures import correction, is_pdf, needed
    from wadforms.errors import BadInput, Fault
    from wadforms.templates.paper import paper as paper_named

    sheet, corrected = paper_named(paper.paper), correction(paper)
    faults = []
    if corrected and (overview or not is_pdf(path)):
        right = "leave it out: it is for a slab at full size on paper, a PDF"
        faults.append(Fault("--square-measured", "something without effect here", right))
    if paper.paper != PaperOptions().paper and not overview and not is_pdf(path):
        right = "leave it out, or write a PDF: an SVG file has the size of the slab"
        faults.append(Fault("--paper", "something without effect here", right))
    if faults:
        raise BadInput(*faults)
    return sheet, needed(corrected)


def _pages(
    layout: SlabLayout,
    path: Path,
    facts: Sequence[str],
    on_paper: tuple[Paper, Correction | None],
    *,
    overview: bool,
) -> Sequence[Drawing]:
    """What is drawn: an overview, sheets for paper, or the whole slab."""
    from wadforms.cli.pictures import is_pdf
    from wadforms.templates.slab_drawing import slab_drawing, slab_pages

    sheet, corrected = on_paper
    title = "Slab of " + ", ".join(item.name for item in layout.items)
    if overview:
        return [slab_drawing(layout, title=title, facts=facts, overview=sheet)]
    if is_pdf(path):
        return slab_pages(layout, title=title, facts=facts, paper=sheet, correction=corrected)
    return [slab_drawing(layout, title=title, facts=facts)]


def _answer(
    layout: SlabLayout,
    files: list[str],
    mix: Mix,
    body: str,
    factor: float,
    thick: float | None,
) -> dict[str, Any]:
    return {
        "pieces": len(layout.cuts),
        "counts": {
            item.name: count for item, count in zip(layout.items, layout.counts, strict=True)
        },
        "sets": layout.sets,
        "yield_share": layout.yield_share,
        "waste_share": layout.waste_share,
        "area_mm2": layout.area,
        "slab_area_mm2": layout.slab_area,
        "thickness_mm": thick,
        "slab_mass_g": thick and mix.wet_mass(layout.slab_area * thick),
        "pieces_mass_g": thick and mix.wet_mass(layout.area * thick),
        "how": layout.how,
        "factor": factor,
        "body": body,
        "mix": mix.name,
        "files": files,
    }


def _lines(layout: SlabLayout, mix: Mix, thick: float | None, facts: Sequence[str]) -> list[str]:
    from wadforms import units

    counts = zip(layout.items, layout.counts, strict=True)
    what = " and ".join(f"{count} × {item.name}" for item, count in counts)
    of = " × ".join(f"{side:g}" for side in layout.slab)
    times = "" if layout.sets is None else f", {layout.sets} whole sets"
    lines = [f"{what}{times}, from a slab of {of} mm: {layout.how}."]
    used, left = units.show(layout.area, "mm2"), units.show(layout.slab_area - layout.area, "mm2")
    lines.append(
        f"Pieces {used}, {100 * layout.yield_share:.1f} % of the slab; "
        f"left over {left}, {100 * layout.waste_share:.1f} %."
    )
    lines.append(f"{facts[0]}.")
    if thick:
        pieces = _grams(mix, layout.area * thick)
        slab = _grams(mix, layout.slab_area * thick)
        lines.append(f"At {_mm(thick)} thick: slab {slab} of wet mix, pieces {pieces}.")
    else:
        lines.append("The pieces are of different heights: give --thickness for the mass.")
    return lines


def _paper_lines(
    layout: SlabLayout,
    path: Path,
    on_paper: tuple[Paper, Correction | None],
    pages: int,
    *,
    overview: bool,
) -> list[str]:
    """How many sheets of paper the slab takes, and how they are joined."""
    from wadforms.cli.pictures import is_pdf
    from wadforms.templates.slab_drawing import slab_grid
    from wadforms.templates.tiles import JOIN

    if overview or not is_pdf(path):
        return []
    sheet, corrected = on_paper
    taken = slab_grid(layout, paper=sheet, correction=corrected)
    what = f"{pages} pages: an overview, then {taken.columns} columns × {taken.rows} rows of sheets"
    return [f"{what} at full size.", *([JOIN] if taken.columns * taken.rows > 1 else [])]


def _limits(one: _Wanted) -> list[str]:
    """What is not cut this way, or was eased."""
    from wadforms.cli.wads import eased_lines
    from wadforms.templates.outline_sheet import outline_only

    limit = outline_only(one.piece)
    return [*eased_lines(one.size), *([f"{one.name}: {limit}."] if limit else [])]


def _mm(length: float) -> str:
    from wadforms import units

    return units.show(length, "mm")


def _grams(mix: Mix, volume: float) -> str:
    from wadforms import units

    return units.show(mix.wet_mass(volume), "g")
