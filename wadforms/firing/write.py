"""Writes what a firing needs into its folder: sheet, pictures, outlines, moulds, tables."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Final, NamedTuple

from wadforms.errors import NotMakeable, ProofFailed
from wadforms.files import write_whole
from wadforms.firing.folder import RECORD
from wadforms.firing.make_list import Box, Make, boxes_csv, make_list_csv
from wadforms.firing.plan import Chosen, Plan
from wadforms.firing.tables.csv_written import csv_bytes
from wadforms.setting.load import weight

MAKE_LIST: Final = "make-list.csv"
BOXES: Final = "boxes-after.csv"
TOUCHES: Final = "touches.csv"

_COPIES: Final = (12, 8, 6, 4, 3, 2, 1)
"""Outlines tried on one sheet: the most that are needed and fit."""

_A_FILLING: Final = 24  # cavities of a tray that two hands fill and knock out (common practice)

_LONGEST: Final = 40  # characters of a name that a file's name repeats


class Wanted(NamedTuple):
    """What is written besides the tables and pictures.

    Parameters
    ----------
    bed : tuple of float or None
        Width and depth of the printer's bed [mm]; None for no moulds.
    sheets : mapping of str to bytes
        Ready files, by their names in the folder.
    problems : tuple of str
        What could not be made ready, and why.
    """

    bed: tuple[float, float] | None = None
    sheets: Mapping[str, bytes] = {}
    problems: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Written:
    """What was written.

    Parameters
    ----------
    pictures : tuple of str or None
        For each touch its picture, as a path from the folder; None where nothing can be laid out.
    files : tuple of str
        All files, as paths from the folder.
    problems : tuple of str
        What could not be made, and why.
    """

    pictures: tuple[str | None, ...]
    files: tuple[str, ...]
    problems: tuple[str, ...]


def write_firing(
    folder: Path,
    plan: Plan,
    makes: Sequence[Make],
    *,
    boxes: Sequence[Box],
    wanted: Wanted,
    record: Callable[[Written], str],
    progress: Callable[[int, int], None] = lambda done, total: None,
) -> Written:
    """Write the files of a firing into an empty folder.

    Parameters
    ----------
    folder : Path
        See `whole_folder`.
    plan : Plan
        One picture is drawn of each touch.
    makes : sequence of Make
        For each that is to be made a sheet of outlines is drawn at the size that leaves the
        mould, and a press tray where moulds are wanted.
    boxes : sequence of Box
        What is left when the kiln is packed.
    wanted : Wanted
        What else is written.
    record : callable
        Gives the text of the folder's record, which must name all its files.
    progress : callable
        Told, now and then, how many files of how many are done.

    Raises
    ------
    BadInput
        A file cannot be written.
    """
    problems = list(wanted.problems)
    new = [make for make in makes if make.to_make]
    total = len(plan.chosen) + len(new) * (1 if wanted.bed is None else 2)
    pictures = []
    for number, chosen in enumerate(plan.chosen, 1):
        pictures.append(_picture(folder, chosen, number, len(str(len(plan.chosen)))))
        progress(number, total)
    files = [picture for picture in pictures if picture is not None]
    for number, make in enumerate(new, len(plan.chosen) + 1):
        try:
            files.append(_outline(folder, make))
        except NotMakeable as error:
            problems.append(f"no outline sheet of {make.shape}, {make.body}: {error}")
        progress(number, total)
    if wanted.bed is not None:
        for number, make in enumerate(new, total - len(new) + 1):
            try:
                files += _mould(folder, make, wanted.bed)
            except (NotMakeable, ProofFailed) as error:
                problems.append(f"no mould of {make.shape}, {make.body}: {error}")
            progress(number, total)
    tables = {
        MAKE_LIST: make_list_csv(makes),
        BOXES: boxes_csv(boxes),
        TOUCHES: touches_csv(plan.chosen),
    }
    files += [_write(folder, name, data) for name, data in {**tables, **wanted.sheets}.items()]
    written = Written(tuple(pictures), (*files, RECORD), tuple(problems))
    _write(folder, RECORD, record(written).encode())
    return written


def touches_csv(chosen: Sequence[Chosen]) -> bytes:
    """Every touch with its load and its wads, as a table for a spreadsheet."""
    heads = [
        "row",
        "touch",
        "times",
        "load [kg]",
        "load [N]",
        "wads each",
        "shape",
        "body",
        "verdict",
    ]
    rows: list[list[object]] = []
    for one in chosen:
        pot = one.touch.pot
        load = ["", ""] if pot is None else [f"{pot.mass / 1000:.3f}", f"{weight(pot.mass):.2f}"]
        wads = (
            ["", "", ""] if one.wads is None else [one.wads.number, one.wads.shape, one.wads.body]
        )
        verdict = one.verdict or "no load"
        rows.append([one.touch.row.row, one.name, one.touch.count, *load, *wads, verdict])
    return csv_bytes(heads, rows)


def plain_name(name: str) -> str:
    """A name as a file may have it anywhere: small letters, digits and hyphens.

    Examples
    --------
    >>> plain_name("Jar by the firebox"), plain_name("Große Schüssel / 2"), plain_name("茶碗")
    ('jar-by-the-firebox', 'grosse-schussel-2', '')
    """
    plain = unicodedata.normalize("NFKD", name.casefold()).encode("ascii", "ignore").decode()
    return "-".join(re.findall("[a-z0-9]+", plain))[:_LONGEST].rstrip("-")


def _picture(folder: Path, chosen: Chosen, number: int, digits: int) -> str | None:
    from wadforms.templates.setting_picture import setting_picture
    from wadforms.templates.setting_view import setting_view
    from wadforms.templates.svg import svg

    shown = chosen.shown
    if shown is None:
        return None
    title = chosen.name if chosen.choice else f"Nothing serves: {chosen.name}"
    view = setting_view(shown.setting, shown.assessment, title=title, shape=shown.name)
    # The number keeps names apart that differ only in what a file's name cannot show.
    name = "-".join(filter(None, [f"{number:0{digits}}", plain_name(chosen.name)]))
    return _write(folder, f"settings/{name}.svg", svg(setting_picture(view)))


def _outline(folder: Path, make: Make) -> str:
    from wadforms.templates.outline_sheet import outline_sheet
    from wadforms.templates.svg import svg

    shrinkage = make.mix.shrinkage(make.body) or None
    facts = [f"To be set {make.body}, of mix {make.mix.name!r}"]
    counts = [k for k in _COPIES if k <= make.to_make] or [1]
    for count in counts:
        try:
            sheet = outline_sheet(
                make.shape, make.piece, count=count, shrinkage=shrinkage, facts=facts
            )
            break
        except NotMakeable:
            if count == counts[-1]:
                raise
    return _write(folder, f"outlines/{make.shape}-{make.body}.svg", svg(sheet.drawing))


def _mould(folder: Path, make: Make, bed: tuple[float, float]) -> list[str]:
    """A press tray of as many cavities as are of use and the bed takes, and its files' names.

    Raises
    ------
    NotMakeable, ProofFailed
        See `write_mould`.
    """
    from wadforms.moulds import Board, Order, kind, write_mould
    from wadforms.moulds.label import words

    name = f"moulds/{make.shape}-{make.body}-tray.stl"
    shrinkage = make.mix.shrinkage(make.body)
    board = Board(pieces=min(make.to_make, _A_FILLING), bed=bed)
    order = Order(make.piece, shrinkage, words(make.shape, make.piece, shrinkage), board)
    mould = kind("tray")().make(order)
    (folder / name).parent.mkdir(exist_ok=True)
    written = write_mould(mould, folder / name, board=board)
    return [Path(file).relative_to(folder).as_posix() for file in written.files]


def _write(folder: Path, name: str, data: bytes) -> str:
    path = folder / name
    path.parent.mkdir(exist_ok=True)
    write_whole(path, data, force=False)
    return name
