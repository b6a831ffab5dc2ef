"""`wadforms mould`: writes press moulds and other tools that make a shape in quantity."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any, Final, NamedTuple

import typer

from wadforms.cli.options import Answering, MixOptions, ShapeOptions, Writing

if TYPE_CHECKING:
    from wadforms.moulds import Board, Kind, Order, Written
    from wadforms.moulds.runs import Run

EXAMPLES = """
wadforms mould disk-25
wadforms mould leaf-55 --fill-bed 220x220 --picture
wadforms mould tripod-50 --cavities 40 --bed 180x180 --also step
wadforms mould rail-100 --kind die --making barrel=90mm
wadforms mould pointed-tripod-63 --kind master
wadforms mould custom --with outline=oak.svg --ease --kind all --out oak.stl
"""

_ALL: Final = "all"


def run(
    shape: Annotated[str, typer.Argument(help="A shape or a family.")] = "",
    kind: Annotated[
        str,
        typer.Option(
            "--kind",
            "-k",
            help="tray (cavities with a floor), frame (cavities right through, with a pusher), "
            "cutter (blades for a rolled slab), die (an extruder's plate), master (positives in "
            "a tub, to cast a plaster mould from), or all that can make the shape.",
        ),
    ] = "tray",
    cavities: Annotated[
        int | None,
        typer.Option("--cavities", "-n", help="How many pieces one filling gives; 1 if not given."),
    ] = None,
    bed: Annotated[
        str | None,
        typer.Option(
            "--bed", help="The printer's bed, 220x220: what is larger is split over several boards."
        ),
    ] = None,
    fill_bed: Annotated[
        str | None,
        typer.Option("--fill-bed", help="As many cavities as a bed of this size takes: 220x220."),
    ] = None,
    margin: Annotated[
        str | None,
        typer.Option("--margin", help="Kept free along the bed's edges; 5 mm if not given."),
    ] = None,
    search: Annotated[
        float,
        typer.Option(
            "--search",
            help="Seconds to look for a tighter order than rows, which crosses may have.",
        ),
    ] = 0.0,
    making: Annotated[
        list[str],
        typer.Option(
            "--making",
            help="Change how it is made: wall=4mm, nozzle=0.6mm; --about tells what each kind has. "
            "Repeat for more.",
        ),
    ] = [],  # noqa: B006 - typer copies it
    also: Annotated[
        list[str],
        typer.Option("--also", help="Another format beside STL: step, 3mf. Repeat for more."),
    ] = [],  # noqa: B006
    picture: Annotated[
        bool, typer.Option("--picture", help="Draw the parts too, as PNG beside the STL.")
    ] = False,
    out: Annotated[
        Path | None, typer.Option("--out", "-o", help="The STL file; SHAPE-KIND.stl if not given.")
    ] = None,
    about: Annotated[
        str | None,
        typer.Option("--about", help="Tell what a kind is and what --making changes, and stop."),
    ] = None,
    *,
    changes: ShapeOptions,
    made_of: MixOptions,
    answering: Answering,
    writing: Writing,
) -> int:
    """Write moulds, enlarged for shrinkage and proven by reading them back."""
    from wadforms.cli import mould_words
    from wadforms.cli.pictures import refuse_overwrite
    from wadforms.cli.printing import print_json, say
    from wadforms.cli.progress import progress
    from wadforms.cli.reading import Reader, read_body, read_mix, read_shape
    from wadforms.cli.wads import eased_json, eased_lines, piece_of, title
    from wadforms.errors import BadInput, Fault, NotMakeable
    from wadforms.moulds import Order
    from wadforms.moulds.label import words

    if about is not None:
        known = mould_words.about(about)
        print_json(known) if answering.json else say(*mould_words.about_lines(known))
        return 0
    if not shape:
        raise BadInput(Fault("SHAPE", "none", "name one; `wadforms shapes` lists them"))
    reader = Reader()
    sizes = dict(reader.pair(text, "--making", "wall=4mm") for text in making)
    reader.done()
    board = _board(cavities, bed, fill_bed, search, margin)
    refused: dict[str, str] = {}
    every = kind == _ALL
    wanted = _kinds(kind, sizes, refused)
    formats = _formats(also)
    found, values = read_shape(shape, changes)
    name = title(found, values)
    size = found.sized(values)
    body = read_body(made_of.clay, found.bodies_of(size))
    mix = read_mix(made_of.clay, body)
    shrinkage = mix.shrinkage(body)
    plans: list[_Plan] = []
    for asked in wanted:
        path = _path(out, name, asked.name, several=every)
        try:
            piece = piece_of(size, upright=asked.upright, drafted="draft" in values)
            order = Order(piece, shrinkage, words(name, piece, shrinkage), board)
            if every and asked.endless:
                order = order._replace(board=board._replace(pieces=1))
            plans.append(_planned(asked, order, path))
        except NotMakeable as error:
            if not every:
                raise
            refused[asked.name] = str(error)
    if not plans:
        raise NotMakeable("no kind can make it: " + "; ".join(refused.values()))
    for plan in plans:  # all of them before the first is written
        for place in plan.files(formats, picture=picture):
            refuse_overwrite(place, writing)
    answers: list[dict[str, Any]] = []
    done, boards = 0, sum(len(plan.boards) for plan in plans)
    with progress("Making moulds") as told:
        for plan in plans:
            made, files = _make(plan, formats, writing, picture=picture)
            answer = mould_words.answer(made, files, mix, body, written=not writing.dry_run)
            answer["notes"] = mould_words.notes(plan.kind, plan.order, made)
            answers.append(answer)
            done += len(plan.boards)
            if boards > 1:
                told(done, boards)
            if not answering.json:
                say(*mould_words.lines(name, plan.kind, plan.order, mix, body, made, answer))
    if answering.json:
        whole = mould_words.together(answers, refused) if every else answers[0]
        print_json(whole | eased_json(size))
        return 0
    say(*(f"{kind.capitalize()}: not made. {reason}." for kind, reason in refused.items()))
    say(*eased_lines(size))
    say(*(f"Note: {note}." for answer in answers for note in answer["notes"]))
    if others := mould_words.namesakes(shape):
        say(f"Note: this is the family {shape}; others are called {' and '.join(others)}.")
    for plan, answer in zip(plans, answers, strict=True):  # after what wants a decision
        of = f"the {plan.kind.name}" if every else "it"
        say(*mould_words.how_to(answer["advice"], of))
    if writing.dry_run:
        say("Nothing is written: a dry run.")
    say(*(f"Written: {file}" for answer in answers for file in answer["files"]))
    return 0


def _board(
    cavities: int | None, bed: str | None, fill: str | None, search: float, margin: str | None
) -> Board:
    """How many, on which bed.

    Raises
    ------
    BadInput
        The two ways to say how many are mixed, or a size is none.
    """
    from wadforms import units
    from wadforms.cli.reading import read_bed
    from wadforms.errors import BadInput, Fault
    from wadforms.moulds import Board
    from wadforms.moulds.board import MOST

    if fill is not None and (cavities is not None or bed is not None):
        other = "--cavities" if cavities is not None else "--bed"
        raise BadInput(Fault("--fill-bed", f"{other} beside it", "give one of them"))
    if cavities is not None and not 1 <= cavities <= MOST:
        raise BadInput(Fault("--cavities", str(cavities), f"give 1 to {MOST}"))
    if not 0.0 <= search <= 600.0:
        raise BadInput(Fault("--search", f"{search:g}", "give 0 to 600 seconds"))
    size = fill or bed
    where = "--fill-bed" if fill else "--bed"
    free = Board().margin if margin is None else units.parse(margin, "mm", "--margin")
    if not 0.0 <= free <= 100.0:
        raise BadInput(Fault("--margin", repr(margin), "give 0 mm to 100 mm"))
    return Board(
        pieces=None if fill is not None else cavities or 1,
        bed=None if size is None else read_bed(size, where),
        margin=free,
        seconds=search,
    )


def _kinds(name: str, sizes: dict[str, str], refused: dict[str, str]) -> list[Kind]:
    """The kinds that are asked for, with their parameters; of all, each takes those it has.

    What one of all kinds cannot be given is told in `refused`.

    Raises
    ------
    BadInput
        There is no such kind or parameter, or a value is out of bounds.
    """
    from wadforms.errors import BadInput, UnknownName
    from wadforms.moulds import kind, kinds

    if name != _ALL:
        if name not in kinds():
            raise UnknownName("--kind", name, [*kinds(), _ALL])
        return [kind(name).sized(sizes)]
    every = kinds().values()
    known = {p.name for cls in every for p in cls.parameters()}
    for given in sizes:
        if given not in known:
            raise UnknownName("--making", given, known)
    found = []
    for cls in every:
        own = {p.name for p in cls.parameters()}
        try:
            found.append(cls.sized({k: v for k, v in sizes.items() if k in own}))
        except BadInput as error:
            refused[cls.name] = str(error)
    return found


def _formats(also: list[str]) -> list[str]:
    """Further formats, by name.

    Raises
    ------
    UnknownName
        There is no such format.
    """
    from wadforms.errors import UnknownName
    from wadforms.moulds.write import FORMATS

    for name in also:
        if name not in FORMATS:
            raise UnknownName("--also", name, FORMATS)
    return also


def _path(out: Path | None, name: str, kind: str, *, several: bool) -> Path:
    """The file of a kind's main part."""
    from wadforms.cli.pictures import check_name

    path = out or Path(f"{name}-{kind}.stl")
    check_name(path, ".stl")
    return path.with_stem(f"{path.stem}-{kind}") if several and out else path


class _Plan(NamedTuple):
    """A kind's boards, and where their files go."""

    kind: Kind
    order: Order
    boards: tuple[Run, ...]
    paths: tuple[Path, ...]

    def files(self, formats: list[str], *, picture: bool) -> list[Path]:
        """Every file that will be written."""
        from wadforms.moulds.write import picture_path, places

        parts = [
            place
            for run, path in zip(self.boards, self.paths, strict=True)
            for place in places(run.mould, path, formats).values()
        ]
        return parts + [picture_path(path) for path in self.paths if picture]


def _planned(kind: Kind, order: Order, path: Path) -> _Plan:
    """What a kind makes of an order; nothing is written yet.

    Raises
    ------
    BadInput, NotMakeable
        The kind cannot make it.
    """
    from wadforms.moulds.runs import runs

    boards = runs(kind, order)
    paths = tuple(
        path if len(boards) == 1 else path.with_stem(f"{path.stem}-{run.mould.cavities}")
        for run in boards
    )
    return _Plan(kind, order, boards, paths)


def _make(
    plan: _Plan, formats: list[str], writing: Writing, *, picture: bool
) -> tuple[list[tuple[Run, Written]], list[str]]:
    """Make and write what was planned; a dry run proves it too, and then lets it go."""
    import tempfile

    from wadforms.moulds import write_mould

    made: list[tuple[Run, Written]] = []
    files: list[str] = []
    with tempfile.TemporaryDirectory() as elsewhere:
        for run, path in zip(plan.boards, plan.paths, strict=True):
            place = Path(elsewhere, path.name) if writing.dry_run else path
            written = write_mould(
                run.mould,
                place,
                formats=formats,
                picture=picture,
                board=plan.order.board,
                force=writing.force,
            )
            made.append((run, written))
            files += written.files
    return made, [] if writing.dry_run else files
