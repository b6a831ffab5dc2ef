"""Reads what lies in the boxes: pieces by shape and by how they are set."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Final, TypeAlias

from wadforms.catalogue import find
from wadforms.errors import BadInput, Fault
from wadforms.families.base import BODIES, WET
from wadforms.files import read_at_most, shortened
from wadforms.firing.programme import Mould
from wadforms.firing.tables import LARGEST, Column, Line, read_table

KEPT: Final = tuple(body for body in BODIES if body != WET)
"""How pieces are set that keep in a box."""

Stock: TypeAlias = dict[Mould, int]
"""Pieces by shape and body."""

_SOFT: Final = (
    "leave the row out: soft wads do not keep, and dried they are smaller than their set size; "
    "put them back into the mix"
)

COLUMNS: Final = (
    Column("shape", "text", "name of a shape", required=True),
    Column("body", "text", f"how they are set: {', '.join(KEPT)}", required=True),
    Column("count", "count", "how many lie in the box", required=True),
)


def read_stock(path: Path, shapes_in: Sequence[Path] = ()) -> Stock:
    """Read a stock of shapes from a CSV or XLSX file; soft pieces are none, they do not keep.

    Parameters
    ----------
    path : Path
        The file.
    shapes_in : sequence of Path
        Folders of the user's own shapes.

    Raises
    ------
    BadInput
        With every fault of the file.
    """
    return parse_stock(read_at_most(path, LARGEST, "a table"), shortened(path), shapes_in)


def parse_stock(data: bytes, where: str, shapes_in: Sequence[Path] = ()) -> Stock:
    r"""Read a stock of shapes from the bytes of its file; two boxes of the same add up.

    Parameters
    ----------
    data : bytes
        The file.
    where : str
        Its name, for messages.
    shapes_in : sequence of Path
        Folders of the user's own shapes.

    Raises
    ------
    BadInput
        With every fault of the file.

    Examples
    --------
    >>> parse_stock(b"shape,body,count\ndisk-16,dry,40\ndisk-16,dry,2\n", "boxes.csv")
    {('disk-16', 'dry'): 42}
    """
    table = read_table(data, COLUMNS, where)
    faults = list(table.faults)
    stock: Stock = {}
    for line in table.lines:
        shape, bodies = _shape(line, shapes_in)
        body, count = line.one_of("body", BODIES), line.count("count")
        if bodies and body is not None and body not in bodies:
            line.fault("body", f"give {' or '.join(bodies)}: {shape} is set no other way")
        elif body == WET:
            line.fault("body", _SOFT)
        elif bodies and body is not None and count is not None:
            stock[shape, body] = stock.get((shape, body), 0) + count
        faults += line.faults
    if faults:
        raise BadInput(*faults)
    return stock


def _shape(line: Line, shapes_in: Sequence[Path]) -> tuple[str, tuple[str, ...]]:
    """The shape that a row names, and how it may be set; no way where the row is at fault."""
    name = line.text("shape") or ""
    if not name:
        return name, ()
    try:
        shape = find(name, shapes_in)
        return name, shape.bodies_of(shape.sized())
    except BadInput as error:
        # Told with its row and column, whatever the catalogue calls the place.
        line.faults += [Fault(f"{line.where}, shape", f.given, f.right) for f in error.faults]
        return name, ()
