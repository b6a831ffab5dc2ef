"""Tables that were made to do harm, or are broken: refused in words, never by a traceback."""

from __future__ import annotations

import contextlib
import datetime
import io
import re
import zipfile
from collections.abc import Callable
from typing import Any

import openpyxl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from openpyxl.worksheet.worksheet import Worksheet

from wadforms.errors import BadInput
from wadforms.firing.list_columns import COLUMNS
from wadforms.firing.list_file import parse_list
from wadforms.firing.tables import read_table

HEADS = ["name", "count", "weight (kg)", "foot"]
SHEET = "xl/worksheets/sheet1.xml"
TYPES = "[Content_Types].xml"
SAVE = "save the sheet as a plain XLSX, or as CSV"


def workbook(*rows: list[Any], change: Callable[[Worksheet], object] | None = None) -> bytes:
    book = openpyxl.Workbook()
    sheet = book.active
    assert isinstance(sheet, Worksheet)
    for row in [HEADS, *(rows or (["A", 1, 1.5, 80],))]:
        sheet.append(row)
    if change is not None:
        change(sheet)
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def parts(data: bytes) -> dict[str, bytes]:
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        return {name: archive.read(name) for name in archive.namelist()}


def packed(contents: dict[str, bytes]) -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, data in contents.items():
            archive.writestr(name, data)
    return out.getvalue()


def with_part(name: str, data: bytes) -> bytes:
    return packed({**parts(workbook()), name: data})


def in_sheet(old: bytes, new: bytes, *rows: list[Any]) -> bytes:
    contents = parts(workbook(*rows))
    assert old in contents[SHEET]
    return packed({**contents, SHEET: contents[SHEET].replace(old, new)})


def entities(encoding: str = "utf-8") -> bytes:
    """A sheet that would unfold to a thousand million letters."""
    lines = "".join(f'<!ENTITY l{n} "{f"&l{n - 1};" * 10}">' for n in range(1, 10))
    text = (
        f'<?xml version="1.0" encoding="{encoding}"?><!DOCTYPE worksheet [<!ENTITY l0 "ha">'
        f"{lines}]><worksheet><sheetData><row><c><v>&l9;</v></c></row></sheetData></worksheet>"
    )
    return with_part(SHEET, text.encode(encoding))


def two_of_one_name() -> bytes:
    contents = parts(workbook())
    return packed({**contents, SHEET.upper(): contents[SHEET]})


def locked() -> bytes:
    data = bytearray(workbook())
    at = data.find(b"PK\x01\x02")
    while at >= 0:
        data[at + 8] |= 1
        at = data.find(b"PK\x01\x02", at + 4)
    return bytes(data)


def hidden(sheet: Worksheet) -> None:
    sheet.sheet_state = "hidden"


@pytest.mark.parametrize(
    ("data", "said"),
    [
        (with_part("xl/vbaProject.bin", b"x"), f"a workbook with macros was given; {SAVE}"),
        (with_part("xl/macrosheets/sheet1.xml", b"<a/>"), "a workbook with macros"),
        (
            packed({**parts(workbook()), TYPES: parts(workbook())[TYPES].replace(
                b"spreadsheetml.sheet.main", b"ms-excel.sheet.macroEnabled.main")}),
            "a workbook with macros",
        ),
        (with_part("xl/externalLinks/externalLink1.xml", b"<a/>"),
         "a workbook with links to other files"),
        (entities(), "a workbook with entities in its XML"),
        (entities("utf-16"), "a workbook with entities in its XML"),
        (with_part("xl/media/a.bin", bytes(64_000_001)),
         "a workbook that unpacks to far more than a list"),
        (packed({**parts(workbook()), **{f"a{n}": b"" for n in range(1001)}}),
         "a workbook that unpacks to far more than a list"),
        (two_of_one_name(), "a workbook with two parts of one name"),
        (locked(), "a locked workbook"),
        (packed({"a.txt": b"x"}), "a file that is no XLSX workbook"),
        (packed({"mimetype": b"application/vnd.oasis.opendocument.spreadsheet"}),
         "a file that is no XLSX workbook"),
        (packed({TYPES: b"<Types/>"}), "a workbook that cannot be read"),
        (with_part(SHEET, b"<worksheet><sheetData><row>"), "a workbook that cannot be read"),
        (workbook()[:-30], "a workbook that cannot be read"),
        (workbook()[:400], "a workbook that cannot be read"),
        (b"PK\x03\x04" + b"x" * 100, "a workbook that cannot be read"),
        (in_sheet(b'r="D2"', b'r="XFD2"'), "l.xlsx, sheet 'Sheet': a cell far out"),
        (in_sheet(b'r="2"', b'r="99999999999"'), "l.xlsx, sheet 'Sheet': a cell far out"),
        (in_sheet(b'r="2"', b'r="2000000"'), "a workbook that cannot be read"),
        (workbook(change=lambda s: s.merge_cells("A2:A3")),
         "l.xlsx, row 2: the merged cells A2:A3 was given; take them apart, and fill in each"),
        (workbook(["A", 1, 1.5, datetime.datetime(2026, 2, 1)]),
         "l.xlsx, row 2, foot: a date or time, 2026-02-01 00:00:00, was given; format the cell as "
         "text, and fill it in again"),
        (workbook(["A", 1, "=1+1", 80]),
         "l.xlsx, row 2, weight: a formula without a value was given; write its value there"),
        (workbook(["A", 1, "#DIV/0!", 80]),
         "l.xlsx, row 2, weight: the spreadsheet's error #DIV/0! was given; mend the formula"),
        (workbook(["#REF!", 1, 1, 80]),
         "l.xlsx, row 2, name: the spreadsheet's error #REF! was given; mend the formula"),
        (workbook(["A", True, 1, 80]), "l.xlsx, row 2, count: 'yes' was given"),
        (workbook(["A", 1.5, 1, 80]), "l.xlsx, row 2, count: '1.5' was given"),
        (workbook(["A", 1, 1, 1e300]), "l.xlsx, row 2, foot: '1e+300' was given; give at most"),
        (workbook(["A", 1, 1, 80, "more"]), "l.xlsx, row 2: a row of 5 cells was given"),
    ],
)  # fmt: skip
def test_each_fault_of_a_workbook(data: bytes, said: str) -> None:
    with pytest.raises(BadInput) as caught:
        parse_list(data, "l.xlsx")
    message = str(caught.value)
    assert message.startswith(said if said.startswith("l.xlsx") else f"l.xlsx: {said}")
    assert "\n" not in message


def test_what_is_asked_of_the_wrong_kind_of_file() -> None:
    with pytest.raises(BadInput, match=r"^encoding: 'utf-8' was given; leave it out: a workbook"):
        parse_list(workbook(), "l.xlsx", encoding="utf-8")
    with pytest.raises(BadInput, match=r"^sheet: 'Pots' was given; leave it out: l.csv is no"):
        parse_list(b"name,count\n", "l.csv", sheet="Pots")
    with pytest.raises(BadInput, match=r"^sheet: 'Pots' was given; one of Sheet"):
        parse_list(workbook(), "l.xlsx", sheet="Pots")


def test_a_sheet_may_be_named_and_hidden_ones_are_not_the_first() -> None:
    book = openpyxl.load_workbook(io.BytesIO(workbook(change=hidden_twin)))
    out = io.BytesIO()
    book.save(out)
    first = parse_list(out.getvalue(), "l.xlsx")
    assert [ware.name for ware in first.wares] == ["seen"]
    assert first.notes == ("the sheet 'Seen' was read, the first of 2",)
    named = parse_list(out.getvalue(), "l.xlsx", sheet="Sheet")
    assert [ware.name for ware in named.wares] == ["A"]
    assert named.notes == ()


def hidden_twin(sheet: Worksheet) -> None:
    hidden(sheet)
    book = sheet.parent
    assert book is not None
    for title in ("Seen", "Other"):
        twin = book.create_sheet(title)
        twin.append(HEADS)
        twin.append([title.lower(), 1, 1, 80])


def test_hidden_rows_are_read_and_said() -> None:
    def hide(sheet: Worksheet) -> None:
        sheet.row_dimensions[3].hidden = True

    data = workbook(["A", 1, 1, 80], ["B", 1, 1, 80], change=hide)
    found = parse_list(data, "l.xlsx")
    assert [ware.name for ware in found.wares] == ["A", "B"]
    assert found.notes == ("hidden rows were read too: 3",)


@pytest.mark.parametrize(
    ("number_format", "value", "foot"),
    [
        ("General", 12, 12.0),
        ("0.00", 12.5, 12.5),
        ('0.0" cm"', 1.25, 12.5),
        ("0.0\\ \\c\\m", 1.25, 12.5),
        ('[Red]0 "in";[Blue]-0 "in"', 2, 50.8),
        ("_-* #,##0.00_-", 1250.5, 1250.5),
    ],
)
def test_a_unit_that_a_number_shows_is_its_unit(
    number_format: str, value: float, foot: float
) -> None:
    def form(sheet: Worksheet) -> None:
        sheet["D2"].number_format = number_format

    (ware,) = parse_list(workbook(["A", 1, 1, value], change=form), "l.xlsx").wares
    assert getattr(ware.foot, "diameter", None) == foot


@pytest.mark.parametrize(
    ("number_format", "said"),
    [
        ('0.0" kg"', "'80 kg' was given; give a length"),
        ("0%", "'8000 %' was given; give a length"),
        ("#,##0,", "a number shown in thousands, 80, was given; format the cell without scaling"),
    ],
)
def test_a_number_that_shows_as_something_else_is_asked_about(
    number_format: str, said: str
) -> None:
    def form(sheet: Worksheet) -> None:
        sheet["D2"].number_format = number_format

    with pytest.raises(BadInput) as caught:
        parse_list(workbook(change=form), "l.xlsx")
    assert str(caught.value).startswith(f"l.xlsx, row 2, foot: {said}")


def test_a_formula_has_the_value_that_was_kept() -> None:
    old, new = b'<c r="C2" t="n"><v>1.5</v></c>', b'<c r="C2"><f>1+0.5</f><v>1.5</v></c>'
    (ware,) = parse_list(in_sheet(old, new), "l.xlsx").wares
    assert ware.mass == 1500.0


def test_the_size_that_a_sheet_says_of_itself_is_not_trusted() -> None:
    data = in_sheet(b'ref="A1:D2"', b'ref="A1:XFD1048576"')
    assert len(parse_list(data, "l.xlsx").wares) == 1
    data = in_sheet(b'ref="A1:D2"', b'ref="A1:A1"')
    assert len(parse_list(data, "l.xlsx").wares) == 1


@pytest.mark.parametrize(
    ("data", "said"),
    [
        (b"\n" * 1_000_000, "l.csv: a table of 1000000 lines was given; take the blank rows out"),
        (b"name,count,foot\n" + b"A,x,y\n" * 20_001,
         "l.csv: a table of more than 20000 rows was given; give at most 20000 rows"),
        (b",".join(b"h%d" % n for n in range(300_000)),
         "l.csv, row 1: a row of 300000 headings was given; give at most 200 columns"),
        (b'name,count\n"' + b"x," * 3_000_000, "l.csv, row 2: a row that cannot be read was given"),
    ],
    ids=["lines", "rows", "headings", "quotes"],
)  # fmt: skip
def test_a_table_far_larger_than_a_list_is_refused_in_few_words(data: bytes, said: str) -> None:
    with pytest.raises(BadInput) as caught:
        parse_list(data, "l.csv")
    assert str(caught.value).startswith(said)
    assert len(caught.value.faults) == 1


def refused_or_read(data: bytes) -> None:
    with contextlib.suppress(BadInput):
        table = read_table(data, COLUMNS, "l")
        assert isinstance(table.lines, tuple)
    with contextlib.suppress(BadInput):
        assert parse_list(data, "l").rows


@given(st.binary(max_size=200))
@settings(max_examples=40)
def test_any_bytes_are_read_or_refused(data: bytes) -> None:
    for start in (b"", b"name,count,weight,foot\n", b"PK\x03\x04", b"\xff\xfe", b"\xef\xbb\xbf"):
        refused_or_read(start + data)


WORDS = [*(c.name for c in COLUMNS), "(kg)", "[cm]", "shelf", "post", "pot", "floor", "1", "40 40;"]
WORDS += ["1,234", "1e999", "-0", "½", "#", '"', "\x00", "\ud7ff", "outline", "../a.svg", "none"]


@given(st.lists(st.lists(st.sampled_from(WORDS), max_size=8), max_size=5), st.sampled_from(";,\t"))
@settings(max_examples=60)
def test_any_cells_are_read_or_refused(rows: list[list[str]], separator: str) -> None:
    text = "name,count,kind,weight,foot,length,width,posts at".replace(",", separator)
    lines = [text, *(separator.join(row) for row in rows)]
    refused_or_read("\n".join(lines).encode())
    refused_or_read("\n".join(lines[1:]).encode("utf-16"))


PLAIN = workbook()


@given(
    st.lists(
        st.tuples(st.integers(0, len(PLAIN) - 1), st.integers(0, 255)), min_size=1, max_size=8
    ),
    st.integers(0, 60),
)
@settings(max_examples=40)
def test_a_broken_workbook_is_read_or_refused(hits: list[tuple[int, int]], cut: int) -> None:
    data = bytearray(PLAIN)
    for place, byte in hits:
        data[place] = byte
    refused_or_read(bytes(data[: len(data) - cut]))


PARTS = parts(PLAIN)


@given(st.sampled_from(sorted(PARTS)), st.data())
@settings(max_examples=60)
def test_a_workbook_of_odd_parts_is_read_or_refused(name: str, data: st.DataObject) -> None:
    tags = re.findall(rb"<[^>]+>", PARTS[name])
    chosen = data.draw(st.lists(st.sampled_from([*tags, b"1", b"-1", b"x", b"&amp;"]), max_size=12))
    mangled = data.draw(
        st.sampled_from([
            b"".join(chosen),
            PARTS[name].replace(data.draw(st.sampled_from(tags)), b"".join(chosen[:2])),
            re.sub(rb'"[^"]*"', b'"99999"', PARTS[name], count=len(chosen)),
        ])
    )  # fmt: skip
    refused_or_read(packed({**PARTS, name: mangled}))
