"""Turns the text of a CSV file into rows of cells."""

from __future__ import annotations

import csv
import re
from collections.abc import Sequence
from typing import Final

from wadforms.errors import BadInput, Fault

SEPARATORS: Final = (";", "\t", ",")

_BLANK: Final = "".join(SEPARATORS) + " \r\n"  # a row of these alone is blank, whichever separates
_MOST_LINES: Final = 200_000  # blank ones and all

_SAYS: Final = re.compile(r'"?sep=(.)"?\s*', re.IGNORECASE)


def csv_rows(text: str, where: str) -> list[tuple[int, list[str]]]:
    r"""The rows of a CSV file with their numbers, blank ones left out, without spaces at cells.

    The separator is told from the headings: comma, semicolon or tab.

    Parameters
    ----------
    text : str
        All of the file.
    where : str
        Its name, for messages.

    Raises
    ------
    BadInput
        Its quotes are astray, or it has far too many lines.

    Examples
    --------
    >>> csv_rows('Name;Foot\n"Bowl; small";5,2 cm\n', "list.csv")
    [(1, ['Name', 'Foot']), (2, ['Bowl; small', '5,2 cm'])]
    """
    # Line ends are told by the reader itself, so that a cell may hold one.
    lines = re.findall(r"[^\r\n]*(?:\r\n|\r|\n)|[^\r\n]+", text)
    if len(lines) > _MOST_LINES:
        right = f"take the blank rows out; give at most {_MOST_LINES} lines"
        raise BadInput(Fault(where, f"a table of {len(lines)} lines", right))
    rows: list[tuple[int, list[str]]] = []
    number = 0
    said = _SAYS.fullmatch(lines[0]) if lines else None
    separator = said[1] if said else _separator(lines)
    lines = lines[1:] if said else lines  # spreadsheets take that line in, and do not count it
    if separator not in SEPARATORS:
        right = "separate cells by commas, semicolons or tabs"
        raise BadInput(Fault(f"{where}, row 1", repr(separator), right))
    try:
        reader = csv.reader(lines, delimiter=separator, strict=True)
        for number, row in enumerate(reader, 1):
            cells = [cell.strip() for cell in row]
            if any(cell.strip(_BLANK) for cell in cells):
                rows.append((number, cells))
    except csv.Error as error:
        right = f"save it as CSV with plain quotes ({error})"
        here = f"{where}, row {number + 1}"
        raise BadInput(Fault(here, "a row that cannot be read", right)) from None
    return rows


def _separator(lines: Sequence[str]) -> str:
    """The separator that the headings have most of, outside of quotes."""
    for line in lines:
        if not line.lstrip(' "').startswith("#") and line.strip(_BLANK + '"'):
            bare = re.sub('"[^"]*"', "", line)
            return max(SEPARATORS, key=bare.count)
    return SEPARATORS[-1]
