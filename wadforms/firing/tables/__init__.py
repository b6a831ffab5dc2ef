"""Reads a table that a spreadsheet saved, as CSV or XLSX, by headings in plain words.

::

    encodings   bytes to text, and what was taken for granted there
    csv_written rows of cells to CSV: tables that are written
    csv_rows    text to rows of cells: separator, quotes, line ends
    xlsx_rows   the bytes of a workbook to the same rows; the only place that knows openpyxl
    columns     what columns there may be, and a row of headings, with units, to columns
    line        a row's cells to words, counts, quantities and points
    reading     all of it together

Nothing is repaired: what cannot be read, or could be read in two ways, is a fault with its row
and column, and all of them are told at once.
"""

from wadforms.firing.tables.columns import Column
from wadforms.firing.tables.line import Line
from wadforms.firing.tables.reading import LARGEST, Table, read_table

__all__ = ["LARGEST", "Column", "Line", "Table", "read_table"]
