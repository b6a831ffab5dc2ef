"""Writes tables for spreadsheets as CSV: the only place where ours are written."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterable, Sequence
from typing import Final

_STARTS: Final = ("=", "+", "-", "@", "\t", "\r", "\n")
"""What a spreadsheet takes for the start of a formula (common practice, no source)."""

_NUMBER: Final = re.compile(r"[+-]?\d+(\.\d+)?")


def csv_bytes(heads: Sequence[str], rows: Iterable[Sequence[object]]) -> bytes:
    r"""A table as CSV, in which no text is a formula.

    Text that a spreadsheet would run gets an apostrophe before it, as one types there to say
    that a cell is text.  Numbers stay as they are.

    Parameters
    ----------
    heads : sequence of str
        The headings.
    rows : iterable of sequence
        Text, numbers, or None for an empty cell.

    Examples
    --------
    >>> csv_bytes(["name", "off"], [["=2+3", "-1.5"], ["mug", -2]])
    b"name,off\n'=2+3,-1.5\nmug,-2\n"
    """
    text = io.StringIO()
    out = csv.writer(text, lineterminator="\n")
    out.writerow(heads)
    out.writerows([_plain(cell) for cell in row] for row in rows)
    return text.getvalue().encode()


def _plain(cell: object) -> object:
    if isinstance(cell, str) and cell.startswith(_STARTS) and not _NUMBER.fullmatch(cell):
        return f"'{cell}"
    return cell
