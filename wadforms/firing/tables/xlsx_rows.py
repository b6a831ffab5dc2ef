"""Turns a sheet of an XLSX workbook into rows of cells, and refuses what is not safe to open.

A workbook is a zip file of XML (ISO/IEC 29500).  Its sizes are looked at before anything is
unpacked; macros, links to other files and entities in the XML are refused, not left out.
"""

from __future__ import annotations

import io
import re
import warnings
import zipfile
from collections.abc import Callable, Iterator, Sequence
from typing import TYPE_CHECKING, Any, Final, TypeVar

from wadforms.errors import BadInput, Fault, UnknownName
from wadforms.firing.tables.columns import Cell, Unreadable, is_remark

if TYPE_CHECKING:
    from openpyxl.workbook import Workbook

_LARGEST_WHOLE: Final = 64_000_000  # bytes, unpacked; ten thousand rows take about ten million
_MOST_PARTS: Final = 1000
_LAST_ROW: Final = 1_048_576  # of a sheet, ISO/IEC 29500 leaves it open; programs stop here
_MOST_COLUMNS: Final = 702  # up to ZZ

_SAVE: Final = "save the sheet as a plain XLSX, or as CSV"
_FAR: Final = re.compile(rb'\br\s*=\s*["\'](?:[A-Za-z]{3,}[0-9]+|[A-Za-z]*[0-9]{8,})["\']')
_HIDDEN: Final = re.compile(rb"<(?:\w+:)?row\b[^<>]*\bhidden\s*=\s*[\"'](?:1|true)[\"'][^<>]*>")
_NUMBER: Final = re.compile(rb'\br\s*=\s*["\']([0-9]+)["\']')
_MERGED: Final = re.compile(rb"<(?:\w+:)?mergeCell\b[^<>]*\bref\s*=\s*[\"']([A-Z]+)([0-9]+):"
                            rb"([A-Z]+)([0-9]+)[\"']")  # fmt: skip
_FORMULA: Final = re.compile(rb"<(?:\w+:)?f[\s/>]")
_LITERAL: Final = re.compile(r'"([^"]*)"|\\(.)|\[[^]]*\]|_.|\*.')

_Read = TypeVar("_Read")


def is_zip(data: bytes) -> bool:
    """Whether bytes begin as those of a workbook do.

    Examples
    --------
    >>> is_zip(b"name;count"), is_zip(b"PK" + bytes([3, 4]))
    (False, True)
    """
    return data.startswith((b"PK\x03\x04", b"PK\x05\x06"))


def xlsx_rows(
    data: bytes, where: str, sheet: str | None = None
) -> tuple[Iterator[tuple[int, Sequence[Cell]]], tuple[str, ...]]:
    """The rows of a sheet with their numbers, blank ones left out, and how they were read.

    Numbers become text with the 15 digits that a spreadsheet keeps, and with the unit that
    their format shows.

    Parameters
    ----------
    data : bytes
        The workbook.
    where : str
        Its name, for messages.
    sheet : str or None
        Which sheet; the first that is not hidden where None.

    Raises
    ------
    BadInput
        It is no workbook, is not safe to open, or has no such sheet.
    """
    _refuse(data, where)
    book = _sound(lambda: _open(data, values=True), where)
    seen = [page.title for page in book.worksheets if page.sheet_state == "visible"]
    if not seen:
        raise BadInput(Fault(where, "a workbook without a sheet to see", _SAVE))
    notes = []
    if sheet is None:
        sheet = seen[0]
        if len(seen) > 1:
            notes.append(f"the sheet {sheet!r} was read, the first of {len(seen)}")
    titles = [page.title for page in book.worksheets]
    if sheet not in titles:
        raise UnknownName("sheet", sheet, titles)
    position = titles.index(sheet)
    markup = _sound(lambda: _markup(data, book, position), where)
    if _FAR.search(markup):
        right = f"give one of at most {_MOST_COLUMNS} columns and {_LAST_ROW} rows"
        raise BadInput(Fault(f"{where}, sheet {sheet!r}", "a cell far out", right))
    hidden = [n[1].decode() for row in _HIDDEN.finditer(markup) if (n := _NUMBER.search(row[0]))]
    rows = _sound(lambda: _cells(data, book, position, formulas=bool(_FORMULA.search(markup))),
                  where)  # fmt: skip
    kept = {number for number, row in rows if not is_remark(row)}
    if hidden := [number for number in hidden if int(number) in kept]:
        more = "" if len(hidden) <= 10 else " and more"
        notes.append(f"hidden rows were read too: {', '.join(hidden[:10])}{more}")
    faults = [
        Fault(f"{where}, row {top}", f"the merged cells {left}{top}:{right}{bottom}",
              "take them apart, and fill in each")
        for left, top, right, bottom in (
            tuple(part.decode() for part in match.groups()) for match in _MERGED.finditer(markup)
        )
        if int(bottom) - int(top) < _LAST_ROW
        and any(int(top) <= number <= int(bottom) for number in kept)
    ]  # fmt: skip
    if faults:
        raise BadInput(*faults)
    return iter(rows), tuple(notes)


def _refuse(data: bytes, where: str) -> None:
    """Look into the zip file without a workbook's reader, and refuse what is not safe."""
    archive = _sound(lambda: zipfile.ZipFile(io.BytesIO(data)), where)
    parts = archive.infolist()
    names = [part.filename for part in parts]
    lower = [name.lower() for name in names]
    what = None
    if len(parts) > _MOST_PARTS or sum(part.file_size for part in parts) > _LARGEST_WHOLE:
        what = "a workbook that unpacks to far more than a list"
    elif any(part.flag_bits & 1 for part in parts):
        what = "a locked workbook"
    elif len(set(lower)) < len(lower):
        what = "a workbook with two parts of one name"
    elif "mimetype" in lower or "[content_types].xml" not in lower:
        what = "a file that is no XLSX workbook"
    elif any("vbaproject" in name or "macrosheets/" in name for name in lower):
        what = "a workbook with macros"
    elif any("externallinks/" in name for name in lower):
        what = "a workbook with links to other files"
    if what is None:
        what = _sound(lambda: _unsafe_xml(archive), where)
    if what:
        raise BadInput(Fault(where, what, _SAVE))


def _unsafe_xml(archive: zipfile.ZipFile) -> str | None:
    for part in archive.infolist():
        # In UTF-16 too, an entity's declaration shows when the empty bytes are left out.
        text = archive.read(part).replace(b"\0", b"") if part.file_size else b""
        if part.filename.lower().endswith((".xml", ".rels")) and (
            b"<!DOCTYPE" in text or b"<!ENTITY" in text
        ):
            return "a workbook with entities in its XML"
        if part.filename.lower() == "[content_types].xml" and b"macroEnabled" in text:
            return "a workbook with macros"
    return None


def _sound(read: Callable[[], _Read], where: str) -> _Read:
    """What a reader gives, or that the workbook is broken.

    Of a file that was tampered with, openpyxl and the readers below it raise almost any kind of
    exception: KeyError, TypeError, zlib.error, ParseError, AttributeError.  All mean the same.
    """
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # of features that have no bearing on values
            return read()
    except BadInput:
        raise
    except Exception as error:
        right = f"{_SAVE} ({type(error).__name__})"
        raise BadInput(Fault(where, "a workbook that cannot be read", right)) from None


def _open(data: bytes, *, values: bool) -> Workbook:
    from openpyxl import load_workbook

    return load_workbook(io.BytesIO(data), read_only=True, data_only=values, keep_links=False)


def _markup(data: bytes, book: Workbook, position: int) -> bytes:
    """The XML of a sheet, for what openpyxl does not tell when it reads row by row."""
    page: Any = book.worksheets[position]
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        return archive.read(page._worksheet_path)


def _cells(
    data: bytes, book: Workbook, position: int, *, formulas: bool
) -> list[tuple[int, list[Cell]]]:
    page: Any = book.worksheets[position]
    rows = _numbered(page)
    # Where there are formulas, the sheet is read once more to know which cells they are in.
    second: Any = _open(data, values=False).worksheets[position] if formulas else None
    behind = _numbered(second) if formulas else None
    found: list[tuple[int, list[Cell]]] = []
    for number, row in rows:
        under = next(behind)[1] if behind is not None else ()
        cells = [_cell(cell) for cell in row]
        for place, cell in enumerate(under[: len(cells)]):
            if cell.data_type == "f" and not cells[place]:
                cells[place] = Unreadable("a formula without a value", "write its value there")
        while cells and not cells[-1]:
            cells.pop()
        if cells:
            found.append((number, cells))
    return found


def _numbered(page: Any) -> Iterator[tuple[int, tuple[Any, ...]]]:
    page.reset_dimensions()  # what the sheet says of its own size may be anything
    rows: Iterator[tuple[Any, ...]] = page.iter_rows()
    for number, row in enumerate(rows, 1):
        if number > _LAST_ROW:
            raise ValueError("more rows than a sheet has")
        yield number, row


def _cell(cell: Any) -> Cell:
    """The text of a cell: what a person sees in it."""
    value = cell.value
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if cell.data_type == "e":
        return Unreadable(f"the spreadsheet's error {value}", "mend the formula")
    if isinstance(value, int | float):
        return _shown(value, cell.number_format or "General")
    if isinstance(value, str):
        return value.strip()
    # A spreadsheet takes '1/2' for a day in February.
    return Unreadable(f"a date or time, {value},", "format the cell as text, and fill it in again")


def _shown(value: float, number_format: str) -> Cell:
    """A number as text, with the unit or the per cent that its format shows after it."""
    literals = [a or b for a, b in _LITERAL.findall(number_format.split(";")[0])]
    unit = "".join(literals).strip()
    pattern = _LITERAL.sub("", number_format.split(";")[0])
    if "%" in pattern:
        return f"{value * 100:.15g} %"
    if re.search(r"[0#],+(?:[^0#,.]|$)", pattern):
        right = "format the cell without scaling, and fill it in again"
        return Unreadable(f"a number shown in thousands, {value:.15g},", right)
    return f"{value:.15g} {unit}".strip()
