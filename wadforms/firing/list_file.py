"""Reads a firing list: what is fired, one row for each kind of ware."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from importlib import resources
from pathlib import Path
from typing import Final

from wadforms.catalogue import find
from wadforms.errors import BadInput, Fault, NotMakeable
from wadforms.families.base import BODIES
from wadforms.files import read_at_most
from wadforms.firing.candidates import candidate
from wadforms.firing.tables import LARGEST, Column, Line, read_table
from wadforms.setting.feet import FlatFoot, Foot, GalleryFoot, RingFoot
from wadforms.setting.limits import PLACES, Place
from wadforms.setting.pot import Pot
from wadforms.setting.sizing import Candidate

COLUMNS: Final = (
    Column("name", "text", "what it is", required=True),
    Column("count", "count", "how many of it", required=True),
    Column("weight", "g", "of one, without its lid, with its unit", required=True),
    Column("foot", "mm", "diameter of the foot", required=True),
    Column("foot width", "mm", "of a foot ring; empty for a flat foot"),
    Column("height", "mm", "of the pot"),
    Column("centre height", "mm", "of the centre of gravity; half the height where empty"),
    Column("lid weight", "g", "of a lid that is fired on its pot"),
    Column("gallery diameter", "mm", "of the wall round the ledge that the lid sits on"),
    Column("gallery width", "mm", "of that ledge"),
    Column("place", "text", f"where it stands: {', '.join(PLACES)}; sheltered where empty"),
    Column("body", "text", f"how the wads under its foot are set: {', '.join(BODIES)}"),
    Column("shape", "text", "the shape for its foot, where it must be that one"),
)
"""The columns of a firing list."""

_LID: Final = ("lid weight", "gallery diameter", "gallery width")

_COLUMN_OF: Final = {
    "foot diameter": "foot",
    "centre of gravity": "centre height",
    "weight": "weight",
    "height": "height",
    "foot width": "foot width",
}
"""Which column a fault of a pot is about."""

_COLUMN_OF_LID: Final = {
    "weight": "lid weight",
    "foot diameter": "gallery diameter",
    "foot width": "gallery width",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Ware:
    """One kind of ware in a firing.

    Parameters
    ----------
    row : int
        Where it stands in its list.
    name : str
        What it is.
    count : int
        How many.
    pot : Pot
        As its foot bears, its lid included.
    lid : Pot or None
        Its lid, as that bears on the gallery.
    place : Place
        Where in the kiln.
    body : str or None
        How the wads under its foot must be set; None leaves it open.
    shape : Candidate or None
        Which shape must be under its foot; None leaves it open.
    """

    row: int
    name: str
    count: int
    pot: Pot
    lid: Pot | None
    place: Place
    body: str | None = None
    shape: Candidate | None = None


def example() -> bytes:
    """An invented list to fill in."""
    return (resources.files(__package__) / "example.csv").read_bytes()


def read_list(path: Path, shapes_in: Sequence[Path] = ()) -> tuple[Ware, ...]:
    """Read a firing list from a CSV file.

    Parameters
    ----------
    path : Path
        The file.
    shapes_in : sequence of Path
        Folders of the user's own shapes, for the column ``shape``.

    Raises
    ------
    BadInput
        With every fault of the file, each with row, column, what is there and what would be right.
    """
    data = read_at_most(path, LARGEST, "a table")
    return parse_list(data, str(path), shapes_in)


def parse_list(data: bytes, where: str, shapes_in: Sequence[Path] = ()) -> tuple[Ware, ...]:
    r"""Read a firing list from the bytes of a CSV file; see `read_list`.

    Raises
    ------
    BadInput
        With every fault.

    Examples
    --------
    >>> ware = parse_list(b"name,count,weight,foot\nMug,12,1 lb,80\n", "list.csv")[0]
    >>> ware.name, ware.count, ware.pot.mass, ware.pot.foot.diameter
    ('Mug', 12, 453.59237, 80.0)
    """
    table = read_table(data, COLUMNS, where)
    faults = list(table.faults)
    wares = []
    for line in table.lines:
        ware = _ware(line, shapes_in)
        faults += line.faults
        if ware is not None:
            wares.append(ware)
    if not (table.lines or faults):
        faults.append(Fault(where, "a list without rows", "give a row for each kind of ware"))
    if faults:
        raise BadInput(*faults)
    return tuple(wares)


def _ware(line: Line, shapes_in: Sequence[Path]) -> Ware | None:
    """The ware of a row; None where something is wrong with it."""
    name, count = line.text("name"), line.count("count")
    mass, lid_mass = line.quantity("weight"), line.quantity("lid weight")
    foot, width = line.quantity("foot"), line.quantity("foot width")
    height, centre = line.quantity("height"), line.quantity("centre height")
    place = line.one_of("place", tuple(PLACES))
    body = line.one_of("body", BODIES)
    shape = _shape(line, body, shapes_in)
    lid = _lid(line, lid_mass)
    if line.faults or name is None or count is None or mass is None or foot is None:
        _look_on(line, foot, width)
        return None
    try:
        bearing: Foot = FlatFoot(foot) if width is None else RingFoot(foot, width)
        pot = Pot(mass=mass + (lid_mass or 0.0), foot=bearing, height=height, centre_height=centre)
    except BadInput as error:
        _tell(line, error, _COLUMN_OF)
        return None
    return Ware(
        row=line.row,
        name=name,
        count=count,
        pot=pot,
        lid=lid,
        place=PLACES[place or "sheltered"],
        body=body,
        shape=shape,
    )


def _look_on(line: Line, foot: float | None, width: float | None) -> None:
    """Tell what is wrong with the foot too, where other cells are at fault already."""
    if foot is not None and width is not None:
        try:
            RingFoot(foot, width)
        except BadInput as error:
            _tell(line, error, _COLUMN_OF)


def _lid(line: Line, mass: float | None) -> Pot | None:
    diameter, width = line.quantity("gallery diameter"), line.quantity("gallery width")
    given = [column for column in _LID if column in line.cells]
    if given and len(given) < len(_LID):
        right = f"a lid fired on its pot needs {_LID[0]}, {_LID[1]} and {_LID[2]}; give all or none"
        for column in _LID:
            if column not in given:
                line.fault(column, right)
    if mass is None or diameter is None or width is None:
        return None
    try:
        return Pot(mass=mass, foot=GalleryFoot(diameter, width))
    except BadInput as error:
        _tell(line, error, _COLUMN_OF_LID)
        return None


def _shape(line: Line, body: str | None, shapes_in: Sequence[Path]) -> Candidate | None:
    name = line.text("shape")
    if name is None:
        return None
    try:
        shape = candidate(find(name, shapes_in))
    except (BadInput, NotMakeable) as error:
        _unusable(line, error)
        return None
    if not shape.piece.faces:
        line.fault("shape", "choose a shape that bears a pot; a cone seat holds pyrometric cones")
    elif body is not None and body not in shape.bodies:
        line.fault("body", f"{name} can be set {' or '.join(shape.bodies)}")
    return shape


def _unusable(line: Line, error: BadInput | NotMakeable) -> None:
    """Tell a shape's fault in the row that asks for it."""
    where = f"{line.where}, shape"
    if not isinstance(error, BadInput):
        line.fault("shape", str(error))
        return
    line.faults += [
        Fault(where if f.where == "shape" else f"{where}, {f.where}", f.given, f.right)
        for f in error.faults
    ]


def _tell(line: Line, error: BadInput, column_of: dict[str, str]) -> None:
    """Tell a fault of a pot at the cell that it comes from."""
    for fault in error.faults:
        line.fault(column_of[fault.where], fault.right)
