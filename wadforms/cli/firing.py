"""`wadforms firing`: from the list of what is fired to a folder of what it needs."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from wadforms.cli.options import (
    Among,
    Answering,
    ChoosingOptions,
    ClayOptions,
    CrewSheetOptions,
    ListOptions,
    MakingOptions,
    Writing,
)

if TYPE_CHECKING:
    from wadforms.cli.firing_words import Reckoned
    from wadforms.firing.rows import FiringList
    from wadforms.firing.write import Wanted, Written
    from wadforms.setting.mixes import Mix

EXAMPLES = """
wadforms firing --start list.csv
wadforms firing list.csv
wadforms firing list.xlsx --out november --spare 15% --paper letter
wadforms firing list.csv --shapes-in-stock boxes.csv --at-most 4 --pieces-an-hour 90
"""

_PAPERS = ("a4", "letter")


def run(
    list_: Annotated[
        Path | None,
        typer.Argument(metavar="LIST", help="The table of what is fired, as CSV or XLSX."),
    ] = None,
    start: Annotated[
        Path | None,
        typer.Option("--start", help="Write an invented list into this file, to fill in."),
    ] = None,
    out: Annotated[
        Path | None,
        typer.Option("--out", "-o", help="The folder to make; LIST-firing if not given."),
    ] = None,
    *,
    saved: ListOptions,
    choosing: ChoosingOptions,
    making: MakingOptions,
    crew: CrewSheetOptions,
    among: Among,
    answering: Answering,
    writing: Writing,
) -> int:
    """Choose wads for a whole firing: what to make, from what, and where each goes."""
    from wadforms.cli.firing_words import firing_json, firing_lines
    from wadforms.cli.printing import json_text, say
    from wadforms.cli.reading import read_bed
    from wadforms.errors import BadInput, Fault, quoted
    from wadforms.firing.folder import refuse_folder
    from wadforms.firing.list_file import read_list
    from wadforms.firing.list_rows import LONGEST_NAME

    if start is not None:
        return _start(start, list_, answering, writing)
    if list_ is None:
        right = "give a table, or --start FILE to get one to fill in"
        raise BadInput(Fault("LIST", "nothing", right))
    if crew.paper not in _PAPERS:
        raise BadInput(Fault("--paper", repr(crew.paper), "give a4 or letter"))
    title = crew.title or ""
    if len(title) > LONGEST_NAME or not title.isprintable():
        right = f"give at most {LONGEST_NAME} letters, without line breaks or control characters"
        raise BadInput(Fault("--title", quoted(title), right))
    bed = read_bed(making.bed, "--bed") if making.moulds else None
    folder = out or Path(f"{list_.stem}-firing")
    refuse_folder(folder, force=writing.force)
    listed = read_list(list_, among.shapes_in, encoding=saved.encoding, sheet=saved.sheet)
    found = reckoned(listed, choosing, making, among)
    wanted = _crew_sheets(found, crew, list_.stem)._replace(bed=bed)
    written = _write(folder, found, wanted, writing)
    if answering.json:
        files = [] if writing.dry_run else [str(folder / name) for name in written.files]
        say(json_text(firing_json(found, written) | {"files": files}))
    else:
        say(*firing_lines(found, written))
        if not writing.dry_run:
            say("", f"Written: {len(written.files)} files in {folder}; begin with crew-sheet.html")
    return 3 if found.unsafe else 0


def reckoned(
    listed: FiringList, choosing: ChoosingOptions, making: MakingOptions, among: Among
) -> Reckoned:
    """All that is found out about a firing before anything is written.

    Raises
    ------
    BadInput
        With what is wrong with an option.
    """
    from wadforms.cli.firing_words import Reckoned
    from wadforms.cli.progress import progress
    from wadforms.cli.reading import Reader, read_shear
    from wadforms.errors import Fault
    from wadforms.firing.batch import batch
    from wadforms.firing.candidates import candidates
    from wadforms.firing.choosing import choose
    from wadforms.firing.make_list import boxes_after, make_list, mix_volumes, refuse_senseless
    from wadforms.firing.stock import read_stock
    from wadforms.firing.touches import audit
    from wadforms.firing.wash import kiln_wash

    reader = Reader()
    spare = reader.quantity(making.spare, "share", "--spare")
    scoop = None if making.scoop is None else reader.above_zero(making.scoop, "mm3", "--scoop")
    if choosing.at_most is not None and choosing.at_most < 1:
        reader.faults.append(Fault("--at-most", str(choosing.at_most), "give 1 or more"))
    if not 1.0 <= choosing.seconds <= 3600.0:
        reader.faults.append(Fault("--seconds", f"{choosing.seconds:g}", "give 1 to 3600"))
    reader.done()
    refuse_senseless(spare, making.rate)
    stock = None if choosing.stock is None else read_stock(choosing.stock, among.shapes_in)
    seen = audit(listed)
    with progress("Choosing wads") as told:
        plan = choose(
            seen,
            candidates(among.shape, among.shapes_in),
            candidates(among.shape, among.shapes_in, lid=True),
            mixes=_mixes(making.mix),
            shear=read_shear(ClayOptions(feel=making.feel)),
            stock=stock or (),
            at_most=choosing.at_most,
            seconds=choosing.seconds,
            progress=told,
        )
    makes = make_list(plan, spare=spare, an_hour=making.rate)
    named = {make.mix.name: make.mix for make in makes}
    return Reckoned(
        plan=plan,
        makes=makes,
        batches=tuple(
            batch(named[k], volume) for k, volume in mix_volumes(makes).items() if volume
        ),
        boxes=boxes_after(makes, stock),
        wash=kiln_wash(makes, listed.shelves),
        spare=spare,
        scoop=scoop,
        notes=(*listed.notes, *seen.notes),
    )


def _crew_sheets(found: Reckoned, crew: CrewSheetOptions, name: str) -> Wanted:
    """The crew sheet for a screen and for paper, by the names of their files."""
    from wadforms.errors import BadInput
    from wadforms.firing.sheet.content import crew_sheet
    from wadforms.firing.sheet.html import sheet_html
    from wadforms.firing.sheet.pdf import sheet_pdf
    from wadforms.firing.write import Wanted
    from wadforms.templates.paper import paper

    sheet = crew_sheet(
        found.plan,
        found.makes,
        found.batches,
        title=crew.title or name,
        date=crew.date,
        wash=found.wash,
        boxes=found.boxes,
        scoop=found.scoop,
        notes=found.notes,
    )
    sheets = {"crew-sheet.html": sheet_html(sheet)}
    try:
        sheets["crew-sheet.pdf"] = sheet_pdf(sheet, paper(crew.paper))
    except BadInput as error:  # the letters of some names are not in the font of paper
        return Wanted(sheets=sheets, problems=(f"no crew-sheet.pdf: {error}",))
    return Wanted(sheets=sheets)


def _start(path: Path, list_: Path | None, answering: Answering, writing: Writing) -> int:
    from wadforms.cli.pictures import refuse_overwrite
    from wadforms.cli.printing import print_json, say
    from wadforms.errors import BadInput, Fault
    from wadforms.files import write_whole
    from wadforms.firing.list_file import example

    if list_ is not None:
        raise BadInput(Fault("--start", f"a list too, {list_}", "give one of the two"))
    refuse_overwrite(path, writing)
    if not writing.dry_run:
        write_whole(path, example(), force=writing.force)
    files = [] if writing.dry_run else [str(path)]
    if answering.json:
        print_json({"files": files})
    else:
        say(*(f"Written: {file}. Fill in your own: wadforms firing {file}" for file in files))
    return 0


def _mixes(names: Sequence[str]) -> dict[str, Mix]:
    """For each body the first mix named that suits it, else the usual one."""
    from wadforms.errors import BadInput, Fault
    from wadforms.setting.mixes import USUAL
    from wadforms.setting.mixes import mix as mix_named

    own = [mix_named(name) for name in names]
    chosen = {
        body: next((mix for mix in own if body in mix.bodies), None) or mix_named(usual)
        for body, usual in USUAL.items()
    }
    for mix in own:
        if mix not in chosen.values():
            right = f"leave it out: another is given for {' and '.join(mix.bodies)} wads"
            raise BadInput(Fault("--mix", repr(mix.name), right))
    return chosen


def _write(folder: Path, found: Reckoned, wanted: Wanted, writing: Writing) -> Written:
    import tempfile

    from wadforms.cli.firing_words import firing_json
    from wadforms.cli.printing import json_text
    from wadforms.cli.progress import progress
    from wadforms.firing.folder import whole_folder
    from wadforms.firing.write import write_firing

    def into(place: Path) -> Written:
        with progress("Drawing and moulding") as told:
            return write_firing(
                place,
                found.plan,
                found.makes,
                boxes=found.boxes,
                wanted=wanted,
                record=lambda made: json_text(firing_json(found, made) | {"files": made.files}),
                progress=told,
            )

    if writing.dry_run:
        # All the work, so that its faults are told too, and then it is let go.
        with tempfile.TemporaryDirectory() as elsewhere:
            return into(Path(elsewhere))
    with whole_folder(folder, force=writing.force) as beside:
        return into(beside)
