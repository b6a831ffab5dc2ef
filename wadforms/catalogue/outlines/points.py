"""Reads points from a table: x and y in a row, one after the other around the outline."""

from __future__ import annotations

import re
from typing import Final

from wadforms.catalogue.outlines.refusal import MOST_LINES, refused
from wadforms.catalogue.outlines.tracing import Run, Tracer
from wadforms.errors import quoted
from wadforms.units import UNITS

_LONGEST: Final = 200  # characters of a row; two numbers are shorter
_PARTED: Final = "parted by a comma, a semicolon or a tab"
_PAIR: Final = f"give two numbers a row, x and y, {_PARTED}"
_NUMBER: Final = re.compile(r"[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d{1,3})?", re.ASCII)
_COMMA: Final = re.compile(r"[-+]?(?:\d+,?\d*|,\d+)(?:[eE][-+]?\d{1,3})?", re.ASCII)
_HEADING: Final = re.compile(
    r"\"?\s{0,9}[A-Za-z_]{0,20}?\s{0,9}[(\[/]?\s{0,9}(mm|cm|m|in|inch)\s{0,9}[)\]]?\"?"
)


def point_runs(data: bytes, tracer: Tracer) -> list[Run]:
    r"""The runs through a table's points, each closed by itself, y up.

    An empty row ends one contour; the next is a hole.  The first row may name the columns and
    their unit: ``x (cm); y (cm)``.

    Raises
    ------
    Refused
        A row is no pair of numbers.

    Examples
    --------
    >>> run, = point_runs(b"x cm;y cm\n0;0\n1,5;0\n1,5;2", Tracer())
    >>> run.points
    ((0.0, 0.0), (15.0, 0.0), (15.0, 20.0))
    """
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise refused("text that is not UTF-8", "save the table as UTF-8 text") from None
    factor, mark = 1.0, ""
    started = False
    rows = 0
    for number, line in enumerate(text.split("\n"), 1):
        row = line.strip(" \r")
        if len(row) > _LONGEST:
            given = f"row {number}, of {len(row)} characters"
            raise refused(given, _PAIR)
        if not row.strip(",;\t"):
            _end(tracer, started)
            started = False
            continue
        if row.startswith("#"):
            continue
        if not mark:
            mark = ";" if ";" in row else "\t" if "\t" in row else ","
        cells = [cell.strip() for cell in row.split(mark)]
        rows += 1
        if rows == 1 and any(c.isalpha() for c in cells[0]):
            factor = _unit(cells, number)
            continue
        point = _point(cells, mark, number)
        if rows > MOST_LINES:
            raise refused(f"more than {MOST_LINES} points", "give fewer")
        place = (point[0] * factor, point[1] * factor)
        if started:
            tracer.line(place)
        else:
            tracer.move(place)
            started = True
    _end(tracer, started)
    return tracer.runs


def _end(tracer: Tracer, started: bool) -> None:
    if started:
        tracer.close()


def _unit(cells: list[str], number: int) -> float:
    """How many mm the unit is that the headings name; 1 where they name none."""
    found = {match[1] for cell in cells if (match := _HEADING.fullmatch(cell))}
    plain = all(re.fullmatch(r"\"?[A-Za-z_]{1,20}\"?", cell) for cell in cells)
    if len(cells) != 2 or len(found) > 1 or not (found or plain):
        given = f"row {number}: {quoted(' | '.join(cells), 40)}"
        right = f"name two columns, such as 'x (mm)' and 'y (mm)', in one unit, {_PARTED}"
        raise refused(given, right)
    return UNITS["mm"][found.pop()] if found else 1.0


def _point(cells: list[str], mark: str, number: int) -> tuple[float, float]:
    pattern = (
        _NUMBER if mark == "," else re.compile(f"{_NUMBER.pattern}|{_COMMA.pattern}", re.ASCII)
    )
    if len(cells) == 2 and all(pattern.fullmatch(cell) for cell in cells):
        x, y = (float(cell.replace(",", ".")) for cell in cells)
        return x, y
    right = _PAIR
    if mark == "," and len(cells) > 2:
        right += "; where commas are decimal, separate them by a semicolon"
    raise refused(f"row {number}: {quoted(mark.join(cells), 40)}", right)
