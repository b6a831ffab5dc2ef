"""Turns the text of a CSV file into rows of cells."""

from __future__ import annotations

import csv
import re
from collections.abc import Sequence
from typing import Final

from wadforms.errors import BadInput, Fault

SEPARATORS: Final = (";", "\t", ",")

BLANK: Final = "".join(SEPARATORS)
"""A row of these alone is blank, whichever of them separates."""

_SAYS: Final = re.compile(r'"?sep=(.)"?\s*', re.IGNORECASE)


def csv_rows(text: str, where: str) -> list[list[str]]:
    r"""The cells of a CSV file, row by row, without the spaces around them.

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
        Its quotes are astray.

    Examples
    --------
    >>> csv_rows('Name;Foot\n"Bowl; small";5,2 cm\n', "list.csv")
    [['Name', 'Foot'], ['Bowl; small', '5,2 cm']]
    """
    # Line ends are told by the reader itself, so that a cell may hold one.
    lines = re.findall(r"[^\r\n]*(?:\r\n|\r|\n)|[^\r\n]+", text)
    rows: list[list[str]] = []
    said = _SAYS.fullmatch(lines[0]) if lines else None
    separator = said[1] if said else _separator(lines)
    lines = lines[1:] if said else lines  # spreadsheets take that line in, and do not count it
    if separator not in SEPARATORS:
        right = "separate cells by commas, semicolons or tabs"
        raise BadInput(Fault(f"{where}, row 1", repr(separator), right))
    try:
        reader = csv.reader(lines, delimiter=separator, strict=True)
        for row in reader:
            rows.append([cell.strip() for cell in row] or [""])
    except csv.Error as error:
        right = f"save it as CSV with plain quotes ({error})"
        here = f"{where}, row {len(rows) + 1}"
        raise BadInput(Fault(here, "a row that cannot be read", right)) from None
    return rows


def _separator(lines: Sequence[str]) -> str:
    """The separator that the headings have most of, outside of quotes."""
    for line in lines:
        if not line.lstrip(' "').startswith("#") and line.strip(BLANK + ' "\r\n'):
            bare = re.sub('"[^"]*"', "", line)
            return max(SEPARATORS, key=bare.count)
    return SEPARATORS[-1]
