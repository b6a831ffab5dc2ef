"""`wadforms firing`: from the list of what is fired to a folder of what it needs."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from wadforms.cli.options import Among, Answering, ClayOptions, Writing
from wadforms.setting.assessment import UNSAFE
from wadforms.setting.limits import SHEAR

if TYPE_CHECKING:
    from wadforms.firing.batch import Batch
    from wadforms.firing.choosing import Touch
    from wadforms.firing.make_list import Make
    from wadforms.firing.write import Written
    from wadforms.setting.mixes import Mix

EXAMPLES = """
wadforms firing --start list.csv
wadforms firing list.csv
wadforms firing list.csv --out november --spare 15% --moulds
"""


def run(
    list_: Annotated[
        Path | None,
        typer.Argument(metavar="LIST", help="The table of what is fired, as CSV."),
    ] = None,
    start: Annotated[
        Path | None,
        typer.Option("--start", help="Write an invented list into this file, to fill in."),
    ] = None,
    out: Annotated[
        Path | None,
        typer.Option("--out", "-o", help="The folder to make; LIST-firing if not given."),
    ] = None,
    spare: Annotated[
        str, typer.Option("--spare", help="How many pieces to make on top, as a share: 10%.")
    ] = "10%",
    moulds: Annotated[
        bool, typer.Option("--moulds", help="Make a press tray for each shape too.")
    ] = False,
    mix: Annotated[
        list[str],
        typer.Option("--mix", help="A mix for the bodies it suits. Repeat for more."),
    ] = [],  # noqa: B006 - typer copies it
    feel: Annotated[
        str, typer.Option("--feel", help=f"How the wet mix feels: {', '.join(SHEAR)}.")
    ] = "firm",
    *,
    among: Among,
    answering: Answering,
    writing: Writing,
) -> int:
    """Choose wads for a whole firing: what to make, from what, and where each goes."""
    from wadforms.cli.printing import json_text, say
    from wadforms.cli.reading import Reader, read_shear
    from wadforms.errors import BadInput, Fault
    from wadforms.firing.batch import batch
    from wadforms.firing.candidates import candidates
    from wadforms.firing.choosing import touches
    from wadforms.firing.folder import refuse_folder
    from wadforms.firing.list_file import read_list
    from wadforms.firing.make_list import make_list, mix_volumes

    if start is not None:
        return _start(start, list_, answering, writing)
    if list_ is None:
        right = "give a table, or --start FILE to get one to fill in"
        raise BadInput(Fault("LIST", "nothing", right))
    reader = Reader()
    share = reader.quantity(spare, "share", "--spare")
    reader.done()
    folder = out or Path(f"{list_.stem}-firing")
    refuse_folder(folder, force=writing.force)
    mixes = _mixes(mix)
    found = touches(
        read_list(list_, among.shapes_in),
        candidates(among.shape, among.shapes_in),
        candidates(among.shape, among.shapes_in, lid=True),
        mixes=mixes,
        shear=read_shear(ClayOptions(feel=feel)),
    )
    makes = make_list(found, spare=share)
    named = {make.mix.name: make.mix for make in makes}
    batches = [batch(named[name], volume) for name, volume in mix_volumes(makes).items()]

    def answer(written: Written) -> dict[str, Any]:
        return _answer(found, makes, batches, share, written)

    written = _write(
        folder,
        found,
        makes,
        moulds=moulds,
        writing=writing,
        record=lambda made: json_text(answer(made) | {"files": made.files}),
    )
    if answering.json:
        files = [] if writing.dry_run else [str(folder / name) for name in written.files]
        say(json_text(answer(written) | {"files": files}))
    else:
        say(*_lines(found, makes, batches, written))
        if not writing.dry_run:
            say("", f"Written: {len(written.files)} files in {folder}")
    return 3 if any(touch.verdict == UNSAFE for touch in found) else 0


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


def _write(
    folder: Path,
    found: Sequence[Touch],
    makes: Sequence[Make],
    *,
    moulds: bool,
    writing: Writing,
    record: Any,
) -> Written:
    import tempfile

    from wadforms.firing.folder import whole_folder
    from wadforms.firing.write import write_firing

    if writing.dry_run:
        # All the work, so that its faults are told too, and then it is let go.
        with tempfile.TemporaryDirectory() as elsewhere:
            return write_firing(Path(elsewhere), found, makes, moulds=moulds, record=record)
    with whole_folder(folder, force=writing.force) as beside:
        return write_firing(beside, found, makes, moulds=moulds, record=record)


def _answer(
    found: Sequence[Touch],
    makes: Sequence[Make],
    batches: Sequence[Batch],
    spare: float,
    written: Written,
) -> dict[str, Any]:
    """The firing for scripts; units stand in the keys."""
    from wadforms.cli.batch import CAUTION, batch_json

    assumed = [text for t in found if t.best for text in t.best.assessment.assumed]
    return {
        "touches": [
            _touch(touch, picture) for touch, picture in zip(found, written.pictures, strict=True)
        ],
        "wads": [
            {
                "shape": make.shape,
                "body": make.body,
                "mix": make.mix.name,
                "needed": make.needed,
                "to_make": make.to_make,
                "each_wet_volume_mm3": make.each_wet_volume,
                "wet_volume_mm3": make.wet_volume,
                "wet_mass_g": make.wet_mass,
            }
            for make in makes
        ],
        "shapes": sorted({make.shape for make in makes}),
        "spare": spare,
        "mix_volume_mm3": sum(make.wet_volume for make in makes),
        "batches": [batch_json(made, None) for made in batches],
        "problems": _problems(found, written),
        "assumed": list(dict.fromkeys(assumed)),
        "caution": CAUTION,
    }


def _touch(touch: Touch, picture: str | None) -> dict[str, Any]:
    from wadforms.cli.printing import assessment_json
    from wadforms.cli.wads import pieces_json

    about = {
        "name": touch.name,
        "row": touch.ware.row,
        "kind": touch.kind,
        "pots": touch.pots,
        "place": touch.ware.place.name,
        "verdict": touch.verdict,
        "shape": touch.best.name if touch.best else None,
        "count": None,
        "radius_mm": None,
        "why": touch.sizing.why,
        "nearest": touch.shown.sentence if touch.shown and not touch.best else None,
        "picture": picture,
    }
    if touch.best:
        checked = assessment_json(touch.best.assessment)
        # Wad by wad and check by check it is told by `contact`, and drawn in the picture.
        about |= pieces_json(touch.best.setting)
        about |= {k: v for k, v in checked.items() if k not in ("per_wad", "checks", "assumed")}
    return about


def _problems(found: Sequence[Touch], written: Written) -> list[str]:
    return [*(t.problem for t in found if t.problem), *written.problems]


def _lines(
    found: Sequence[Touch], makes: Sequence[Make], batches: Sequence[Batch], written: Written
) -> list[str]:
    """The firing for people."""
    from wadforms import units
    from wadforms.cli.batch import CAUTION, batch_rows
    from wadforms.cli.printing import marked, table

    lines = ["What goes where:"]
    lines += table(
        [
            marked(touch.verdict),
            f"{touch.pots} × {touch.name}",
            touch.best.sentence if touch.best else "nothing serves, see below",
        ]
        for touch in found
    )
    lines += ["", "What to make, spare included:"]
    lines += table(
        [
            f"{make.to_make} × {make.shape}",
            make.body,
            f"mix {make.mix.name!r}",
            units.show(make.wet_volume, "mm3"),
            units.show(make.wet_mass, "g"),
        ]
        for make in makes
    )
    for made in batches:
        wet = f"{made.wet_volume / 1e6:.3f} l, {made.wet_mass / 1000:.3f} kg wet"
        lines += ["", f"What to weigh out of mix {made.mix.name!r}: {wet}", *batch_rows(made, None)]
    problems = _problems(found, written)
    lines += ["", *(f"Problem: {problem}." for problem in problems)] if problems else []
    lines += ["", "Assumed, besides every limit, which you should test in your own kiln:"]
    lines += [f"  - {text}" for text in dict.fromkeys(a for made in batches for a in made.assumed)]
    return [*lines, "", CAUTION]
