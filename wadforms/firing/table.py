"""Reads a table that a spreadsheet saved as CSV, by headings in plain words.

The separator is told from the headings: comma, semicolon or tab.  Nothing is repaired: what
cannot be read is a fault with its row and column, and all of them are told at once.
"""

from __future__ import annotations

import csv
import math
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Final

from wadforms import units
from wadforms.errors import BadInput, Fault, UnknownName, quoted

SEPARATORS: Final = (";", "\t", ",")

LARGEST: Final = 8_000_000
"""Largest table that is read [bytes]; ten thousand rows take about one million."""

_BLANK: Final = "".join(SEPARATORS)  # a row of these alone is blank, whichever of them separates
_UNPRINTABLE: Final = re.compile("[\x00-\x1f\x7f-\x9f\ufffe\uffff]")


@dataclass(frozen=True, slots=True)
class Column:
    """A column that a table may have.

    Parameters
    ----------
    name : str
        Its heading, in small letters.
    unit : str
        One of the keys of `units.UNITS`; ``"count"`` for whole numbers, ``"text"`` for words.
    help : str
        What stands in it.
    required : bool
        Whether every row needs it.
    """

    name: str
    unit: str
    help: str
    required: bool = False


@dataclass(slots=True)
class Line:
    """One row of a table; its readers collect what is wrong with it.

    Parameters
    ----------
    where : str
        Its file and row, for messages.
    row : int
        Its number, as a spreadsheet counts.
    cells : mapping of str to str
        What is filled in, by column.
    columns : mapping of str to Column
        The columns that the table has.
    faults : list of Fault
        What is wrong with it.
    """

    where: str
    row: int
    cells: Mapping[str, str]
    columns: Mapping[str, Column]
    faults: list[Fault] = field(default_factory=list)

    def fault(self, column: str, right: str) -> None:
        """Note that a cell is wrong, and what would be right."""
        text = self.cells.get(column)
        given = "nothing" if text is None else quoted(text)
        self.faults.append(Fault(f"{self.where}, {column}", given, right))

    def text(self, column: str) -> str | None:
        """The words of a cell; None where it is empty."""
        text = self.cells.get(column)
        if text is None:
            self._missing(column, "fill it in")
        elif _UNPRINTABLE.search(text):
            self.fault(column, "leave out line breaks and control characters")
        return text

    def one_of(self, column: str, known: Sequence[str]) -> str | None:
        """A cell that holds one of several words, in any case."""
        text = self.text(column)
        if text is None or text.lower() in known:
            return text and text.lower()
        found = UnknownName(f"{self.where}, {column}", text, known)
        self.faults += found.faults
        return None

    def quantity(self, column: str) -> float | None:
        """A cell in its column's unit (see `Column`); None where it is empty or at fault."""
        text = self.cells.get(column)
        unit = self.columns[column].unit if column in self.columns else ""
        if text is None:
            if unit:
                example = {"g": "a mass, such as '2.4 kg'", "mm": "a length, such as '24 mm'"}
                self._missing(column, f"give {example.get(unit, 'it')}")
            return None
        try:
            value = units.parse(text, unit, f"{self.where}, {column}")
        except BadInput as error:
            self.faults += error.faults
            return None
        if not (math.isfinite(value) and value > 0):
            self.fault(column, "give more than 0")
            return None
        return value

    def count(self, column: str) -> int | None:
        """A cell that holds a whole number; None where it is empty or at fault."""
        text = self.cells.get(column)
        right = "give a whole number, 1 to 999999"
        if text is None:
            self._missing(column, right)
            return None
        if not re.fullmatch("[0-9]{1,6}", text) or int(text) < 1:
            self.fault(column, right)
            return None
        return int(text)

    def _missing(self, column: str, right: str) -> None:
        # A required column that is not there at all is told once, with the headings.
        if column in self.columns and self.columns[column].required:
            self.fault(column, right)


@dataclass(frozen=True, slots=True)
class Table:
    """What was read: the rows, and what is wrong with the table as such."""

    lines: tuple[Line, ...]
    faults: tuple[Fault, ...]


def read_table(data: bytes, columns: Sequence[Column], where: str) -> Table:
    r"""Read a table from the bytes of a CSV file; blank rows and rows of remarks are left out.

    A remark is a row that begins with ``#``.

    Parameters
    ----------
    data : bytes
        UTF-8, with or without its mark at the start.
    columns : sequence of Column
        What it may have, in any order.
    where : str
        The file, for messages.

    Raises
    ------
    BadInput
        It is no table at all: not UTF-8, too large, without headings, or with quotes astray.

    Examples
    --------
    >>> columns = [Column("name", "text", "what it is", True), Column("foot", "mm", "across")]
    >>> table = read_table(b"Name;Foot\nTea bowl;5,2 cm\n", columns, "list.csv")
    >>> table.lines[0].row, table.lines[0].text("name"), table.lines[0].quantity("foot")
    (2, 'Tea bowl', 52.0)
    """
    rows = _rows(data, where)
    filled = (
        (number, cells)
        for number, cells in enumerate(rows, 1)
        if any(cell.strip(_BLANK) for cell in cells) and not cells[0].startswith("#")
    )
    headed = next(filled, None)
    if headed is None:
        heads = ", ".join(c.name for c in columns if c.required)
        raise BadInput(Fault(where, "an empty table", f"begin with the headings {heads}"))
    row, cells = headed
    names, faults = _headings(cells, columns, f"{where}, row {row}")
    known = {column.name: column for column in columns if column.name in names}
    lines = []
    for number, values in filled:
        here = f"{where}, row {number}"
        extra = [value for value in values[len(names) :] if value]
        if extra:
            right = f"the headings are {len(names)}; put a cell that holds the separator in quotes"
            faults.append(Fault(here, f"a row of {len(values)} cells", right))
            continue  # which cell belongs to which heading would be a guess
        filled_in = {n: v for n, v in zip(names, values, strict=False) if n in known and v}
        lines.append(Line(here, number, filled_in, known))
    return Table(tuple(lines), tuple(faults))


def _rows(data: bytes, where: str) -> list[list[str]]:
    if len(data) > LARGEST:
        right = f"give a table of less than {LARGEST // 1_000_000} MB"
        raise BadInput(Fault(where, f"a file of more than {LARGEST} bytes", right))
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError:
        right = "save it as CSV in UTF-8"
        raise BadInput(Fault(where, "text that is not UTF-8", right)) from None
    # Line ends are told by the reader itself, so that a cell may hold one.
    lines = re.findall(r"[^\r\n]*(?:\r\n|\r|\n)|[^\r\n]+", text)
    try:
        reader = csv.reader(lines, delimiter=_separator(lines), strict=True)
        return [[cell.strip() for cell in row] or [""] for row in reader]
    except csv.Error as error:
        right = f"save it as CSV with plain quotes ({error})"
        raise BadInput(Fault(where, "a table that cannot be read", right)) from None


def _separator(lines: Sequence[str]) -> str:
    """The separator that the headings have most of; headings themselves hold none."""
    for line in lines:
        if not line.lstrip(' "').startswith("#") and line.strip(_BLANK + ' "\r\n'):
            return max(SEPARATORS, key=line.count)
    return SEPARATORS[-1]


def _headings(
    cells: Sequence[str], columns: Sequence[Column], where: str
) -> tuple[list[str], list[Fault]]:
    """The headings as they are known, and what is wrong with them."""
    while cells and not cells[-1]:
        cells = cells[:-1]  # a spreadsheet may leave empty columns at the right
    names = [" ".join(cell.lower().replace("_", " ").split()) for cell in cells]
    known = [column.name for column in columns]
    faults: list[Fault] = []
    for position, name in enumerate(names):
        if not name:
            right = "give every column a heading"
            faults.append(Fault(f"{where}, column {position + 1}", "no heading", right))
        elif name not in known:
            faults += UnknownName(f"{where}, heading", cells[position], known).faults
        elif name in names[:position]:
            faults.append(Fault(f"{where}, heading", f"{name!r} twice", "give it once"))
    for column in columns:
        if column.required and column.name not in names:
            right = f"add the column {column.name!r}: {column.help}"
            faults.append(Fault(f"{where}, headings", f"no {column.name!r}", right))
    return names, faults
