"""A table as the page holds it: text, cell by cell, kept as a plain CSV that the commands read."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Final, NamedTuple

from wadforms.errors import BadInput, Fault
from wadforms.files import read_at_most, write_whole
from wadforms.firing.tables import LARGEST, Column, read_table
from wadforms.firing.tables.columns import Cell, headings, is_remark
from wadforms.firing.tables.csv_rows import csv_rows
from wadforms.firing.tables.encodings import decode
from wadforms.firing.tables.xlsx_rows import is_zip, xlsx_rows
from wadforms.page.told import for_field

MOST: Final = 2000
"""As many rows are shown in the page; longer tables are for the command line."""

LONGEST: Final = 1000
"""Characters of a cell."""


@dataclass(slots=True)
class Sheet:
    """Remarks, headings and rows of text; every row has a cell for each heading.

    Parameters
    ----------
    headings : list of str
        What the columns hold.
    rows : list of list of str
        The cells.
    remarks : list of list of str
        Rows before the headings that are there for people.
    """

    headings: list[str]
    rows: list[list[str]] = field(default_factory=list)
    remarks: list[list[str]] = field(default_factory=list)

    @property
    def first(self) -> int:
        """The number that the first row has in the file."""
        return len(self.remarks) + 2

    @property
    def filled(self) -> bool:
        """Whether anything stands in it."""
        return any(any(row) for row in self.rows)

    def csv(self) -> bytes:
        r"""The table as CSV.

        Examples
        --------
        >>> Sheet(["name", "weight"], [["Bowl", "2,4 kg"]]).csv()
        b'name,weight\nBowl,"2,4 kg"\n'
        """
        # Bare headings tell the separator, so another one's mark in them must stand in quotes.
        astray = len(self.headings) == 1 or any(m in head for head in self.headings for m in ";\t")
        text = io.StringIO()
        out = csv.writer(text, lineterminator="\n")
        if astray:
            out = csv.writer(text, lineterminator="\n", quoting=csv.QUOTE_ALL)
        out.writerows([*self.remarks, self.headings, *self.rows])
        return text.getvalue().encode()

    def add_missing(self, usual: Sequence[str], columns: Sequence[Column]) -> None:
        """Add the columns that the table lacks, so that they can be filled in.

        Parameters
        ----------
        usual : sequence of str
            The heading of every column, with a unit where it has one.
        columns : sequence of Column
            What the table may have.

        Examples
        --------
        >>> sheet = Sheet(["Name"], [["Bowl"]])
        >>> columns = [Column("name", "text", "what"), Column("weight", "g", "of one")]
        >>> sheet.add_missing(["name", "weight (kg)"], columns)
        >>> sheet.headings, sheet.rows
        (['Name', 'weight (kg)'], [['Bowl', '']])
        """
        there = set(headings(self.headings, columns, "").names)
        for heading, name in zip(usual, headings(usual, columns, "").names, strict=True):
            if name not in there:
                self.headings.append(heading)
                for row in self.rows:
                    row.append("")

    def keep(self, file: Path) -> None:
        """Write the table into a file, in place of what it was."""
        file.parent.mkdir(parents=True, exist_ok=True)
        write_whole(file, self.csv(), force=True)


class Taken(NamedTuple):
    """A table that was read.

    Parameters
    ----------
    sheet : Sheet
        What stands in it.
    notes : tuple of str
        How it was read, where that was not plain.
    """

    sheet: Sheet
    notes: tuple[str, ...] = ()


def sheet_of(data: bytes, where: str) -> Taken:
    r"""The table in a CSV or XLSX file, as text.

    Parameters
    ----------
    data : bytes
        Of the file.
    where : str
        Its name, for messages.

    Raises
    ------
    BadInput
        It is no table, or too long to be shown.

    Examples
    --------
    >>> sheet_of(b"# ours\nname;foot\nBowl;5,2 cm\n", "list.csv").sheet
    Sheet(headings=['name', 'foot'], rows=[['Bowl', '5,2 cm']], remarks=[['# ours']])
    """
    read_table(data, (), where)  # refuses what is no table at all
    notes: list[str] = []
    rows: list[list[str]]
    if is_zip(data):
        found, told = xlsx_rows(data, where, None)
        rows = [_texts(f"{where}, row {number}", cells, notes) for number, cells in found]
    else:
        text, told = decode(data, where)
        rows = [row for _, row in csv_rows(text, where)]
    remarks: list[list[str]] = []
    while rows and is_remark(rows[0]):
        remarks.append(rows.pop(0))
    if not rows:
        raise BadInput(Fault(where, "an empty table", "begin with a row of headings"))
    heads, *rest = rows
    if len(rest) > MOST:
        right = f"give at most {MOST} here; the command line takes more"
        raise BadInput(Fault(where, f"a table of {len(rest)} rows", right))
    width = max(len(heads), *(len(row) for row in rest), 1)
    for row in (heads, *rest):
        row += [""] * (width - len(row))
    return Taken(Sheet(heads, rest, remarks), (*told, *notes))


def kept(file: Path) -> Sheet | None:
    """The table in a file of ours; None where there is none that can be read."""
    if not file.is_file():
        return None
    try:
        return sheet_of(read_at_most(file, LARGEST, "a table"), file.name).sheet
    except BadInput:
        return None


class Blamed(NamedTuple):
    """Where faults belong.

    Parameters
    ----------
    cells : dict of str to str
        What is wrong, by ``"ROW,COLUMN"``, counted from 0.
    elsewhere : list of str
        What is wrong with no one cell.
    heads : bool
        Whether a heading is wrong.
    """

    cells: dict[str, str]
    elsewhere: list[str]
    heads: bool


def blamed(faults: Sequence[Fault], where: str, sheet: Sheet, columns: Sequence[Column]) -> Blamed:
    """Put faults at their cells.

    Parameters
    ----------
    faults : sequence of Fault
        Each tells its row and column as the command line does.
    where : str
        What the messages call the file.
    sheet : Sheet
        What was read.
    columns : sequence of Column
        What it may have.

    Examples
    --------
    >>> fault = Fault("list.csv, row 2, foot", "'x'", "give a length")
    >>> columns = [Column("name", "text", "what"), Column("foot", "mm", "across")]
    >>> blamed([fault], "list.csv", Sheet(["name", "foot"], [["Bowl", "x"]]), columns).cells
    {'0,1': "'x' was given; give a length"}
    """
    names = headings(sheet.headings, columns, "").names
    at = {name: c for c, name in enumerate(names) if name is not None}
    told = re.compile(rf"{re.escape(where)}, row (\d+)(?:, (.*))?")
    cells: dict[str, str] = {}
    elsewhere = []
    heads = False
    for fault in faults:
        match = told.fullmatch(fault.where)
        row = int(match[1]) - sheet.first if match else -2
        column = _column((match[2] or "") if match else "", at)
        if 0 <= row < len(sheet.rows) and at:
            key, words = f"{row},{column}", for_field(fault, {})
            cells[key] = f"{cells[key]}; {words}" if key in cells else words
        else:
            heads = heads or row == -1
            elsewhere.append(str(fault).removeprefix(f"{where}, "))
    return Blamed(cells, elsewhere, heads)


def _column(words: str, at: Mapping[str, int]) -> int:
    """The column that words about a cell name, else the first."""
    if words in at:
        return at[words]
    # "dry length", "height of the loaded wad"
    return next((c for word in words.split() if (c := at.get(word)) is not None), 0)


def _texts(where: str, cells: Sequence[Cell], notes: list[str]) -> list[str]:
    """Cells as text; what gives no value stands there as it was told, and is noted."""
    found = []
    for position, cell in enumerate(cells, 1):
        if isinstance(cell, str):
            found.append(cell)
        else:
            notes.append(f"{where}, column {position}: {cell.given} was given; {cell.right}")
            found.append(cell.given.rstrip(","))
    return found
