"""Reads a table, as CSV or XLSX, into lines by column."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final

from wadforms.errors import BadInput, Fault
from wadforms.firing.tables.columns import Cell, Column, headings, is_remark
from wadforms.firing.tables.csv_rows import csv_rows
from wadforms.firing.tables.encodings import decode
from wadforms.firing.tables.line import Line, in_inches
from wadforms.firing.tables.xlsx_rows import is_zip, xlsx_rows

LARGEST: Final = 8_000_000
"""Largest table that is read [bytes]; ten thousand rows take about one million."""

MOST_ROWS: Final = 20_000
"""As many rows may be filled in; no kiln holds so many kinds."""

_MOST_COLUMNS: Final = 200  # a heading that is not known is compared with all that are

_OTHERS: Final = (
    (b"\xd0\xcf\x11\xe0", "an old or a locked spreadsheet"),
    (b"%PDF", "a PDF"),
    (b"\x89PNG", "a picture"),
    (b"\xff\xd8\xff", "a picture"),
)
"""What is often given in place of a table, by its first bytes."""

_DECIMAL_COMMA: Final = re.compile(
    r"(?<![0-9.,])(?:[0-9]+|[1-9][0-9]{0,2}(?:\.[0-9]{3})+),[0-9]+(?![0-9.,])"
)


@dataclass(frozen=True, slots=True)
class Table:
    """What was read.

    Parameters
    ----------
    lines : tuple of Line
        Its rows, without blank ones and remarks.
    faults : tuple of Fault
        What is wrong with the table as such.
    notes : tuple of str
        How it was read, where that was not plain.
    """

    lines: tuple[Line, ...]
    faults: tuple[Fault, ...]
    notes: tuple[str, ...] = ()


def read_table(
    data: bytes,
    columns: Sequence[Column],
    where: str,
    *,
    encoding: str | None = None,
    sheet: str | None = None,
) -> Table:
    r"""Read a table from the bytes of a CSV or XLSX file, told apart by what is in them.

    Blank rows are left out, and rows of remarks, which begin with ``#``.

    Parameters
    ----------
    data : bytes
        The file.
    columns : sequence of Column
        What it may have, in any order.
    where : str
        The file's name, for messages.
    encoding : str or None
        Of a CSV file, where it says it neither itself nor by being UTF-8; see `ENCODINGS`.
    sheet : str or None
        Of a workbook; its first one where None.

    Raises
    ------
    BadInput
        It is no table at all: too large, in no known encoding, without headings, with quotes
        astray, or a workbook that cannot be read safely.

    Examples
    --------
    >>> columns = [Column("name", "text", "what it is", True), Column("foot", "mm", "across")]
    >>> table = read_table(b"Name;Foot (cm)\nTea bowl;5,2\n", columns, "list.csv")
    >>> table.lines[0].row, table.lines[0].text("name"), table.lines[0].quantity("foot")
    (2, 'Tea bowl', 52.0)
    """
    if len(data) > LARGEST:
        right = f"give a table of less than {LARGEST // 1_000_000} MB"
        raise BadInput(Fault(where, f"a file of more than {LARGEST} bytes", right))
    for start, what in _OTHERS:
        if data.startswith(start):
            raise BadInput(Fault(where, what, "save it as XLSX or CSV"))
    rows: Iterable[tuple[int, Sequence[Cell]]]
    notes: tuple[str, ...]
    if is_zip(data):
        if encoding is not None:
            right = "leave it out: a workbook has its own"
            raise BadInput(Fault("encoding", repr(encoding), right))
        rows, notes = xlsx_rows(data, where, sheet)
        commas = False
    else:
        if sheet is not None:
            right = f"leave it out: {where} is no workbook, and has no sheets"
            raise BadInput(Fault("sheet", repr(sheet), right))
        text, notes = decode(data, where, encoding)
        plain = csv_rows(text, where)
        commas = any(_DECIMAL_COMMA.search(cell) for _, row in plain for cell in row)
        rows = plain
    lines, faults = _lines(rows, columns, where, commas=commas)
    return Table(tuple(lines), tuple(faults), notes)


def _lines(
    rows: Iterable[tuple[int, Sequence[Cell]]],
    columns: Sequence[Column],
    where: str,
    *,
    commas: bool,
) -> tuple[list[Line], list[Fault]]:
    filled = (
        (number, cells) for number, row in rows if (cells := _trimmed(row)) and not is_remark(cells)
    )
    headed = next(filled, None)
    if headed is None:
        heads = ", ".join(c.name for c in columns if c.required)
        raise BadInput(Fault(where, "an empty table", f"begin with the headings {heads}"))
    row, cells = headed
    if len(cells) > _MOST_COLUMNS:
        right = f"give at most {_MOST_COLUMNS} columns"
        raise BadInput(Fault(f"{where}, row {row}", f"a row of {len(cells)} headings", right))
    head = headings(cells, columns, f"{where}, row {row}")
    known = {column.name: column for column in columns if column.name in head.names}
    lines = []
    for count, (number, values) in enumerate(filled, 1):
        if count > MOST_ROWS:
            right = f"give at most {MOST_ROWS} rows"
            raise BadInput(Fault(where, f"a table of more than {MOST_ROWS} rows", right))
        here = f"{where}, row {number}"
        if len(values) > len(head.names):
            right = (
                f"the headings are {len(head.names)}; put a cell that holds the separator in quotes"
            )
            head.faults.append(Fault(here, f"a row of {len(values)} cells", right))
            continue  # which cell belongs to which heading would be a guess
        in_columns = {n: v for n, v in zip(head.names, values, strict=False) if n and v}
        lines.append(Line(here, number, in_columns, known, head.units, commas))
    lengths = {name for name, column in known.items() if column.unit == "mm"}
    inches = any(in_inches(unit) for name, unit in head.units.items() if name in lengths) or any(
        in_inches(cell)
        for line in lines
        for name, cell in line.cells.items()
        if name in lengths and isinstance(cell, str)
    )
    for line in lines:
        line.inches = inches
    return lines, head.faults


def _trimmed(cells: Sequence[Cell]) -> Sequence[Cell]:
    """Without the empty cells that a spreadsheet may leave at the right."""
    while cells and not cells[-1]:
        cells = cells[:-1]
    return cells
