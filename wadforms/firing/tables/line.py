"""One row of a table: its cells as words, counts, quantities and points."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Final

from wadforms import units
from wadforms.errors import BadInput, Fault, UnknownName, quoted
from wadforms.firing.tables.columns import UNFIT, Cell, Column, Unreadable

_UNPRINTABLE: Final = re.compile("[\x00-\x1f\x7f-\x9f\u2028\u2029\ufffe\uffff]")
_THOUSANDS: Final = re.compile(r"(?<![0-9.,])([+-]?[1-9][0-9]{0,2})\.([0-9]{3})(?![0-9.,])")
_LENGTH: Final = r"[+-]?(?:(?:[0-9]+\s+)?[0-9]+/[0-9]+|[0-9]*\s*[¼-¾⅐-⅞]|[0-9][0-9.,]*)"
_PAIR: Final = re.compile(
    rf"(?P<x>{_LENGTH})\s*(?P<of_x>[A-Za-z\"]+)?\s*(?:\s|[x×])\s*"
    rf"(?P<y>{_LENGTH})\s*(?P<of_y>[A-Za-z\"]+)?",
)
_ONE_LENGTH: Final = re.compile(rf"{_LENGTH}\s*[A-Za-z\"]*")
_EXAMPLE: Final = {"g": "a mass, such as '2.4 kg'", "mm": "a length, such as '24 mm'"}
_IMPERIAL: Final = re.compile(r'"|(?<![A-Za-z])(?:in|inch|inches|ft)(?![A-Za-z])', re.IGNORECASE)
_UNIT: Final = re.compile(r'[A-Za-z"]')
_COUNT: Final = "give a whole number, 1 to 999999"
_POINTS: Final = (
    "give points such as '40 40; 560 40; 300 410', or '1 1/2 in 1 1/2 in; 22 1/2 in 1 1/2 in'"
)
_POINT: Final = "give one point, such as '300 225' or '12 in 8 1/2 in'"


@dataclass(slots=True)
class Line:
    """One row of a table; its readers collect what is wrong with it.

    Parameters
    ----------
    where : str
        Its file and row, for messages.
    row : int
        Its number, as a spreadsheet counts.
    cells : mapping of str to str or Unreadable
        What is filled in, by column.
    columns : mapping of str to Column
        The columns that the table has.
    units : mapping of str to str
        Units that the headings give, by column.
    commas : bool
        Whether the table has decimal commas, so that a point may part thousands.
    inches : bool
        Whether lengths of the table are in inches or feet, so that a bare one is no plain mm.
    faults : list of Fault
        What is wrong with it.
    absent : list of str
        Columns that it needs and that the table does not have.
    """

    where: str
    row: int
    cells: Mapping[str, Cell]
    columns: Mapping[str, Column]
    units: Mapping[str, str] = field(default_factory=dict)
    commas: bool = False
    inches: bool = False
    faults: list[Fault] = field(default_factory=list)
    absent: list[str] = field(default_factory=list)

    def __post_init__(self) -> None:
        """Tell every cell that gives no value."""
        for column, cell in self.cells.items():
            if isinstance(cell, Unreadable):
                self.faults.append(Fault(f"{self.where}, {column}", *cell))

    def filled(self, column: str) -> bool:
        """Whether anything stands in a cell, be it right or wrong."""
        return column in self.cells

    def fault(self, column: str, right: str) -> None:
        """Note that a cell is wrong, and what would be right."""
        text = self.cells.get(column)
        if isinstance(text, Unreadable):
            return  # told already
        given = "nothing" if text is None else quoted(text)
        self.faults.append(Fault(f"{self.where}, {column}", given, right))

    def need(self, column: str) -> None:
        """Note that a cell is empty that this row needs; `absent` where no row can fill it."""
        if column not in self.columns:
            self.absent.append(column)
        elif not self.filled(column):
            self.fault(column, _right(self.columns[column]))

    def text(self, column: str) -> str | None:
        """The words of a cell; None where it is empty."""
        text = self._plain(column)
        if text is not None and _UNPRINTABLE.search(text):
            self.fault(column, "leave out line breaks and control characters")
            return None
        return text

    def one_of(self, column: str, known: Sequence[str]) -> str | None:
        """A cell that holds one of several words, in any case, with any spaces."""
        text = self.text(column)
        word = text and " ".join(text.lower().replace("_", " ").split())
        if text is None or word in known:
            return word
        self.faults += UnknownName(f"{self.where}, {column}", text, known).faults
        return None

    def quantity(self, column: str, *, zero: bool = False) -> float | None:
        """A cell in its column's unit (see `Column`); None where it is empty or at fault.

        The cell's own unit comes before its heading's.

        Parameters
        ----------
        column : str
            Which.
        zero : bool
            Whether 0 is a value too.
        """
        unit = self.columns[column].unit if column in self.columns else ""
        text = self._plain(column)
        value = None if text is None else self._number(column, text, unit, self.units.get(column))
        if value is None or value > 0 or (zero and value == 0):
            return value
        self.fault(column, "give 0 or more" if zero else "give more than 0")
        return None

    def count(self, column: str) -> int | None:
        """A cell that holds a whole number; None where it is empty or at fault."""
        text = self._plain(column)
        if text is None:
            return None
        if not re.fullmatch("[0-9]{1,6}", text) or int(text) < 1:
            self.fault(column, _COUNT)
            return None
        return int(text)

    def points(self, column: str) -> tuple[tuple[float, float], ...] | None:
        """A cell that holds points, parted by semicolons; each is two lengths [mm]."""
        text = self._plain(column)
        if text is None:
            return None
        found = []
        for part in text.rstrip("; ").split(";"):
            match = _PAIR.fullmatch(part.strip())
            # "1 1/2 in" is one length, and no point: where it ends is not guessed.
            if match is None or len(text) > 2000 or _ONE_LENGTH.fullmatch(part.strip()):
                self.fault(column, _POINTS)
                return None
            last = match["of_y"] or self.units.get(column)  # it is for both, unless x has its own
            x = self._number(column, match["x"], "mm", match["of_x"] or last)
            y = self._number(column, match["y"], "mm", last)
            if x is None or y is None:
                return None
            found.append((x, y))
        return tuple(found)

    def point(self, column: str) -> tuple[float, float] | None:
        """A cell that holds one point [mm]."""
        found = self.points(column)
        if found is None or len(found) == 1:
            return found and found[0]
        self.fault(column, _POINT)
        return None

    def _number(self, column: str, text: str, unit: str, bare: str | None) -> float | None:
        where = f"{self.where}, {column}"
        if self.units.get(column) == UNFIT:
            return None  # told with the headings
        if self.commas and (match := _THOUSANDS.search(text)):
            first, rest = match.groups()
            right = (
                f"write {first},{rest} or {first}{rest}: beside decimal commas it could be either"
            )
            self.faults.append(Fault(where, quoted(text), right))
            return None
        try:
            value = units.parse(text, unit, where, bare=bare)
        except BadInput as error:
            self.faults += error.faults
            return None
        if self.inches and unit == "mm" and bare is None and value and not _UNIT.search(text):
            right = f"write {text} mm or {text} in: beside inches it could be either"
            self.faults.append(Fault(where, quoted(text), right))
            return None
        return value if math.isfinite(value) else None

    def _plain(self, column: str) -> str | None:
        """The text of a cell; None where it is empty, told if it is required, or unreadable."""
        text = self.cells.get(column)
        # A required column that is not there at all is told once, with the headings.
        if text is None and column in self.columns and self.columns[column].required:
            self.fault(column, _right(self.columns[column]))
        return None if isinstance(text, Unreadable) else text


def in_inches(text: str) -> bool:
    """Whether a length, or the unit of a heading, is in inches or feet.

    Examples
    --------
    >>> in_inches("2 1/2 in"), in_inches('3/8"'), in_inches("24 mm")
    (True, True, False)
    """
    return _IMPERIAL.search(text) is not None


def _right(column: Column) -> str:
    """What to do about an empty cell."""
    if column.unit == "count":
        return _COUNT
    return f"give {_EXAMPLE[column.unit]}" if column.unit in _EXAMPLE else "fill it in"
