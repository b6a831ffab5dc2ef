"""Writes what a firing needs into its folder: pictures, outlines, make list, moulds."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from wadforms.errors import NotMakeable, ProofFailed
from wadforms.files import write_whole
from wadforms.firing.choosing import Touch
from wadforms.firing.folder import RECORD
from wadforms.firing.make_list import Make, make_list_csv

MAKE_LIST: Final = "make-list.csv"

_COPIES: Final = (12, 8, 6, 4, 3, 2, 1)
"""Outlines tried on one sheet: the most that are needed and fit."""

_LONGEST: Final = 40  # characters of a name that a file's name repeats


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
    touches: Sequence[Touch],
    makes: Sequence[Make],
    *,
    moulds: bool,
    record: Callable[[Written], str],
) -> Written:
    """Write the files of a firing into an empty folder.

    Parameters
    ----------
    folder : Path
        See `whole_folder`.
    touches : sequence of Touch
        One picture is drawn of each.
    makes : sequence of Make
        A sheet of outlines is drawn for each, at the size that leaves the mould.
    moulds : bool
        Whether a press tray is made for each too.
    record : callable
        Gives the text of the folder's record, which must name all its files.

    Raises
    ------
    BadInput
        A file cannot be written.
    """
    problems: list[str] = []
    pictures = tuple(
        _picture(folder, touch, number, len(str(len(touches))))
        for number, touch in enumerate(touches, 1)
    )
    files = [picture for picture in pictures if picture is not None]
    for make in makes:
        try:
            files.append(_outline(folder, make))
        except NotMakeable as error:
            problems.append(f"no outline sheet of {make.shape}, {make.body}: {error}")
    if moulds:
        files += _moulds(folder, makes, problems)
    _write(folder, MAKE_LIST, make_list_csv(makes))
    files += [MAKE_LIST, RECORD]
    written = Written(pictures, tuple(files), tuple(problems))
    _write(folder, RECORD, record(written).encode())
    return written


def plain_name(name: str) -> str:
    """A name as a file may have it anywhere: small letters, digits and hyphens.

    Examples
    --------
    >>> plain_name("Jar by the firebox"), plain_name("Große Schüssel / 2"), plain_name("茶碗")
    ('jar-by-the-firebox', 'grosse-schussel-2', '')
    """
    plain = unicodedata.normalize("NFKD", name.casefold()).encode("ascii", "ignore").decode()
    return "-".join(re.findall("[a-z0-9]+", plain))[:_LONGEST].rstrip("-")


def _picture(folder: Path, touch: Touch, number: int, digits: int) -> str | None:
    from wadforms.templates.setting_picture import setting_picture
    from wadforms.templates.setting_view import setting_view
    from wadforms.templates.svg import svg

    shown = touch.shown
    if shown is None:
        return None
    title = touch.name if touch.best else f"Nothing serves: {touch.name}"
    view = setting_view(shown.setting, shown.assessment, title=title, shape=shown.name)
    # The number keeps names apart that differ only in what a file's name cannot show.
    name = "-".join(filter(None, [f"{number:0{digits}}", plain_name(touch.name)]))
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


def _moulds(folder: Path, makes: Sequence[Make], problems: list[str]) -> list[str]:
    """Make the moulds that can be made."""
    from wadforms.moulds import Order, kind, write_mould
    from wadforms.moulds.label import words

    files = []
    for make in makes:
        name = f"moulds/{make.shape}-{make.body}-tray.stl"
        (folder / name).parent.mkdir(exist_ok=True)
        shrinkage = make.mix.shrinkage(make.body)
        order = Order(make.piece, shrinkage, words(make.shape, make.piece, shrinkage))
        try:
            write_mould(kind("tray")().make(order), folder / name)
        except (NotMakeable, ProofFailed) as error:
            problems.append(f"no mould of {make.shape}, {make.body}: {error}")
            continue
        files.append(name)
    if not files and (folder / "moulds").is_dir():
        (folder / "moulds").rmdir()
    return files


def _write(folder: Path, name: str, data: bytes) -> str:
    path = folder / name
    path.parent.mkdir(exist_ok=True)
    write_whole(path, data, force=False)
    return name
