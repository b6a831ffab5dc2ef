"""One list, however a spreadsheet saved it, and the same table read by other readers."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import Any

import openpyxl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from wadforms.errors import BadInput
from wadforms.firing.list_columns import COLUMNS
from wadforms.firing.list_file import example, parse_list
from wadforms.firing.rows import FiringList
from wadforms.firing.tables import Column, Table, read_table
from wadforms.firing.tables.encodings import ENCODINGS, decode
from wadforms.setting.feet import FlatFoot

D = Decimal
HEADS = ["name", "count", "kind", "weight (kg)", "foot [cm]", "foot width in mm", "Height (mm)"]
HEADS += ["lid weight (g)", "gallery_diameter", "gallery width", "stands on", "length", "width"]
HEADS += ["posts at", "place"]
ROWS: list[list[Any]] = [
    ["Schüssel; groß", 40, "", D("0.38"), D("5.2"), D("5.5"), 84, *[""] * 3, "Brett 1", *[""] * 4],
    ['Krug, 1/2 "', 8, "", D("2.4"), 12, "", D("210.5"), 600, 117, 7, "floor", *[""] * 3,
     "firebox"],
    ["Brett 1", 2, "shelf", 11, *[""] * 7, 600, D("450.5"), "40 40; 560 40; 300 410", ""],
    ["Ring Nr 7", 1, "draw ring", D("0.05"), D("5.1"), *[""] * 10],
]  # fmt: skip
NUMBERS = {"weight (kg)", "foot [cm]", "foot width in mm", "Height (mm)", "lid weight (g)"}
NUMBERS |= {"count", "gallery_diameter", "gallery width", "length", "width"}


def comma(value: Any) -> str:
    return str(value).replace(".", ",") if isinstance(value, Decimal) else str(value)


def delimited(
    separator: str = ",",
    *,
    end: str = "\n",
    every_quoted: bool = False,
    blank: int = 0,
    decimal_comma: bool = False,
) -> str:
    """The list as the csv module of the standard library writes it."""
    out = io.StringIO()
    writer = csv.writer(
        out,
        delimiter=separator,
        lineterminator=end,
        quoting=csv.QUOTE_ALL if every_quoted else csv.QUOTE_MINIMAL,
    )
    for row in [HEADS, *ROWS]:
        writer.writerow([comma(v) if decimal_comma else str(v) for v in row])
        for _ in range(blank):
            writer.writerow([""] * len(row))
    return out.getvalue()


def workbook() -> bytes:
    """The list with its numbers as numbers."""
    book = openpyxl.Workbook()
    sheet = book.active
    assert sheet is not None
    for row in [HEADS, *ROWS]:
        sheet.append([float(v) if isinstance(v, Decimal) else None if v == "" else v for v in row])
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


@dataclass(frozen=True)
class Variant:
    """One way to save the list, and how another reader has to be told to read it."""

    data: bytes
    encoding: str = "utf-8"
    separator: str = ","
    decimal_comma: bool = False


VARIANTS: dict[str, Callable[[], Variant]] = {
    "plain": lambda: Variant(delimited().encode()),
    "semicolons and decimal commas": lambda: Variant(
        delimited(";", decimal_comma=True).encode(), separator=";", decimal_comma=True
    ),
    "tabs": lambda: Variant(delimited("\t").encode(), separator="\t"),
    "UTF-8 with its mark": lambda: Variant(delimited().encode("utf-8-sig"), "utf-8-sig"),
    "UTF-16": lambda: Variant(delimited("\t").encode("utf-16"), "utf-16", "\t"),
    "Windows-1252": lambda: Variant(
        delimited(";", decimal_comma=True).encode("cp1252"), "cp1252", ";", decimal_comma=True
    ),
    "quotes": lambda: Variant(delimited(every_quoted=True).encode()),
    "CRLF and blank rows": lambda: Variant(delimited(end="\r\n", blank=2).encode()),
    "workbook": lambda: Variant(workbook()),
}


def bare(listed: FiringList) -> FiringList:
    """A list without where it stood."""
    return replace(
        listed,
        where="",
        notes=(),
        wares=tuple(replace(row, row=0) for row in listed.wares),
        shelves=tuple(replace(row, row=0) for row in listed.shelves),
    )


@pytest.mark.parametrize("name", VARIANTS)
def test_the_same_list_from_every_variant(name: str) -> None:
    plain = parse_list(VARIANTS["plain"]().data, "plain.csv")
    found = parse_list(VARIANTS[name]().data, name)
    assert bare(found) == bare(plain)
    bowl, jug, ring = found.wares
    assert (bowl.name, bowl.count, bowl.mass, bowl.height) == ("Schüssel; groß", 40, 380.0, 84.0)
    assert (jug.name, jug.lid and jug.lid.mass, jug.height) == ('Krug, 1/2 "', 600.0, 210.5)
    assert ring.foot == FlatFoot(51.0)
    assert found.shelves[0].width == 450.5
    said = [note for note in found.notes if "Windows-1252" in note]
    assert len(said) == (name == "Windows-1252")
    assert all("'Schüssel'" in note for note in said)


def test_units_in_cells_and_imperial_ones() -> None:
    metric = b"name,count,weight (kg),foot (cm),height\nA,2,4.5359237,30.48,254\n"
    imperial = b"name,count,weight (kg),foot,height (in)\nA,2,10 lb,1 ft,10\n"
    mixed = b'name,count,weight (lb),"foot in """,height\nA,2,9 lb 16 oz,12,"10 in"\n'
    (a,), (b,), (c,) = (parse_list(data, "l").wares for data in (metric, imperial, mixed))
    assert a.mass == pytest.approx(b.mass, rel=1e-12)
    assert (a.foot, a.height) == (FlatFoot(304.8), 254.0)
    assert (b.foot, b.height) == (FlatFoot(304.8), 254.0)
    assert c.mass == pytest.approx(a.mass, rel=1e-12)
    assert c.height == 254.0


def other_reader(variant: Variant) -> list[dict[str, str | float]]:
    """The filled cells of every row, by the standard library's csv or by openpyxl."""
    if variant.data.startswith(b"PK"):
        sheet = openpyxl.load_workbook(io.BytesIO(variant.data), data_only=True).worksheets[0]
        table = [list(row) for row in sheet.iter_rows(values_only=True)]
    else:
        text = variant.data.decode(variant.encoding)
        table = [
            list(row) for row in csv.reader(io.StringIO(text, ""), delimiter=variant.separator)
        ]
    heads, *rows = [row for row in table if any(row)]
    found: list[dict[str, str | float]] = []
    for row in rows:
        cells: dict[str, str | float] = {}
        for head, value in zip(heads, row, strict=True):
            if value in ("", None):
                continue
            if str(head) in NUMBERS:
                point = "," if variant.decimal_comma else "."
                cells[str(head)] = float(str(value).replace(point, "."))
            else:
                cells[str(head)] = str(value)
        found.append(cells)
    return found


UNITS = {"weight (kg)": 1000.0, "foot [cm]": 10.0}


def ours(table: Table) -> list[dict[str, str | float]]:
    """The same from the table under test, by the headings of the file."""
    found: list[dict[str, str | float]] = []
    plain = {head.replace("_", " ").partition(" in ")[0].split(" (")[0].split(" [")[0].lower(): head
             for head in HEADS}  # fmt: skip
    for line in table.lines:
        cells: dict[str, str | float] = {}
        for column in line.cells:
            head = plain[column]
            if column == "count":
                cells[head] = float(line.count(column) or 0)
            elif head in NUMBERS:
                cells[head] = (line.quantity(column) or 0.0) / UNITS.get(head, 1.0)
            else:
                cells[head] = line.text(column) or ""
        assert not line.faults
        found.append(cells)
    return found


@pytest.mark.parametrize("name", VARIANTS)
def test_other_readers_find_the_same_table(name: str) -> None:
    variant = VARIANTS[name]()
    table = read_table(variant.data, COLUMNS, name)
    assert not table.faults
    expected = other_reader(variant)
    assert [dict(row) for row in ours(table)] == [pytest.approx(row) for row in expected]
    assert len(expected) == len(ROWS)


def test_the_example_saved_as_a_workbook_is_the_same() -> None:
    rows = list(csv.reader(io.StringIO(example().decode(), "")))
    book = openpyxl.Workbook()
    sheet = book.active
    assert sheet is not None
    for row in rows:
        sheet.append([float(c) if c.replace(".", "").isdigit() else c or None for c in row])
    out = io.BytesIO()
    book.save(out)
    asked = parse_list(example(), "l")
    assert parse_list(out.getvalue(), "l") == asked  # with its remarks, so the rows are the same


@dataclass(frozen=True)
class Saved:
    """How a spreadsheet saves a table."""

    separator: str
    comma: bool  # decimal
    encoding: str
    end: str
    quoted: bool
    padded: bool  # with blank rows, and empty cells at the right

    def save(self, rows: list[list[str | Decimal]]) -> bytes:
        lines = [self.line(row) for row in rows]
        if self.padded:
            lines = [self.separator * 5, *(line + self.separator * 2 for line in lines), "", ""]
        return self.end.join([*lines, ""]).encode(self.encoding)

    def line(self, row: list[str | Decimal]) -> str:
        cells = [comma(v) if self.comma else str(v) for v in row]
        return self.separator.join(
            '"' + cell.replace('"', '""') + '"'
            if self.quoted or self.separator in cell or '"' in cell
            else cell
            for cell in cells
        )


saved = st.builds(
    Saved,
    separator=st.sampled_from([",", ";", "\t"]),
    comma=st.booleans(),
    encoding=st.sampled_from(["utf-8", "utf-8-sig", "utf-16"]),
    end=st.sampled_from(["\n", "\r\n", "\r"]),
    quoted=st.booleans(),
    padded=st.booleans(),
)
names = st.text("abcäöÜ茶 ',;.&\"<-", min_size=1, max_size=12).map(lambda s: f"A{s}".strip())
tenths = st.integers(101, 9999).map(lambda n: Decimal(n) / 10)
drawn_rows = st.lists(st.tuples(names, st.integers(1, 99), tenths, tenths), min_size=1, max_size=4)


@given(drawn_rows, saved, st.permutations(["name", "count", "weight (oz)", "foot"]))
@settings(max_examples=60)
def test_any_list_however_it_was_saved(
    rows: list[tuple[str, int, Decimal, Decimal]], how: Saved, order: list[str]
) -> None:
    table: list[list[str | Decimal]] = [list(order)]
    for name, count, weight, foot in rows:
        cells: dict[str, str | Decimal] = {
            **{"name": name, "count": str(count), "weight (oz)": weight, "foot": foot}
        }
        table.append([cells[column] for column in order])
    found = parse_list(how.save(table), "l.csv").wares
    assert [(ware.name, ware.count) for ware in found] == [(row[0], row[1]) for row in rows]
    for ware, (_, _, weight, foot) in zip(found, rows, strict=True):
        assert ware.mass == pytest.approx(float(weight) * 28.349523125)
        assert ware.foot == FlatFoot(float(foot))
    assert [ware.row for ware in found] == [k + 2 + how.padded for k in range(len(rows))]


def test_a_number_in_a_workbook_is_the_number_that_a_spreadsheet_shows() -> None:
    # Of 3 * 0.1 a workbook keeps 0.30000000000000004; spreadsheets show 15 digits at most.
    tenths = range(1, 4000, 7)
    book = openpyxl.Workbook()
    sheet = book.active
    assert sheet is not None
    sheet.append(["name", "count", "weight (kg)", "foot"])
    for n in tenths:
        sheet.append(["A", 1, n * 0.1, n / 8])
    out = io.BytesIO()
    book.save(out)
    lines = [f"A,1,{Decimal(n) / 10},{n / 8}" for n in tenths]
    text = "\n".join(["name,count,weight (kg),foot", *lines])
    assert any(float(Decimal(n) / 10) != n * 0.1 for n in tenths)
    assert parse_list(out.getvalue(), "l") == parse_list(text.encode(), "l")


TEXT = "name;count;weight;foot\nSchüssel für Öl;1;1 kg;50\n"


@pytest.mark.parametrize("name", ["mac-roman", "windows-1252", "Latin-1", "CP1250", "iso_8859_15"])
def test_an_encoding_may_be_named(name: str) -> None:
    codec = ENCODINGS[name.lower().replace("_", "-")]
    (ware,) = parse_list(TEXT.encode(codec), "l.csv", encoding=name).wares
    assert ware.name == "Schüssel für Öl"


@pytest.mark.parametrize("name", ["shift-jis", "euc-jp"])
def test_japanese_names(name: str) -> None:
    data = "name,count,weight,foot\n茶碗,1,1 kg,50\n".encode(ENCODINGS[name])
    assert parse_list(data, "l.csv", encoding=name).wares[0].name == "茶碗"


def test_every_encoding_that_may_be_named_is_known_to_python() -> None:
    for name in ENCODINGS:
        data = "name".encode(ENCODINGS[name])
        assert decode(data, "l.csv", name) == ("name", ())


@pytest.mark.parametrize(
    ("data", "encoding", "said"),
    [
        (TEXT.encode("cp1252"), "utf-8",
         "l.csv: text that is not utf-8 was given; save it as CSV in UTF-8"),
        (TEXT.encode("utf-8-sig"), "mac-roman",
         "encoding: 'mac-roman' was given; leave it out: l.csv says itself that it is UTF-8"),
        (TEXT.encode(), "windows-1525",
         "encoding: 'windows-1525' was given; did you mean 'windows-1252' or 'windows-1251' or "
         "'windows-1250'?"),
        (TEXT.encode("utf-16-le"), None,
         "l.csv: UTF-16 without its mark at the start was given; save it as CSV in UTF-8"),
        (TEXT.encode("utf-16-le"), "utf-16",
         "l.csv: UTF-16 without its mark at the start was given; save it as CSV in UTF-8"),
        (TEXT.encode("utf-32"), None,
         "l.csv: text in UTF-32 was given; save it as CSV in UTF-8"),
        (b"\xff\xfen\x00a", None, "l.csv: text that is not UTF-16 was given"),
        (b"name\x81,count", None, "l.csv: text that is not UTF-8 was given"),
        (b"name\x07,count", None, "l.csv: a file that is no text was given"),
        (b"%PDF-1.7", None, "l.csv: a PDF was given; save it as XLSX or CSV"),
        (b"\x89PNG\r\n", None, "l.csv: a picture was given"),
        (b"\xd0\xcf\x11\xe0\xa1\xb1", None, "l.csv: an old or a locked spreadsheet was given"),
    ],
)  # fmt: skip
def test_text_that_is_not_certain_is_refused(data: bytes, encoding: str | None, said: str) -> None:
    if said.startswith("l.csv: text that is not UTF-16"):
        data = data[:-1] + b"\x00\xd8"  # half of a pair
    with pytest.raises(BadInput) as caught:
        parse_list(data, "l.csv", encoding=encoding)
    assert str(caught.value).startswith(said)


def test_a_line_that_names_the_separator() -> None:
    text = 'sep=;\nname;count;weight;foot\nA, "B";1;1 kg;50,5\n'
    (ware,) = parse_list(text.encode(), "l.csv").wares
    assert (ware.row, ware.name, ware.foot) == (2, 'A, "B"', FlatFoot(50.5))


@pytest.mark.parametrize(("text", "grams"), [("1.234,5", 1234.5), ("1,234.5", 1234.5)])
def test_a_number_with_groups_says_itself_which_of_its_signs_parts_thousands(
    text: str, grams: float
) -> None:
    columns = [Column("weight", "g", "of one")]
    table = read_table(f'weight (g)\n"{text}"\n2.345\n'.encode(), columns, "l.csv")
    first, second = table.lines
    assert first.quantity("weight") == grams
    # Beside a decimal comma a point may part thousands too, else it cannot.
    assert second.quantity("weight") == (None if text.endswith(",5") else 2.345)


@pytest.mark.parametrize("heading", ["glaze", "colour", "qty", "Anzahl"])
def test_a_heading_that_is_like_no_other_is_told_all_that_there_are(heading: str) -> None:
    table = read_table(f"name,count,{heading}\nA,1,2\n".encode(), COLUMNS, "l.csv")
    (fault,) = table.faults
    names = ", ".join(column.name for column in COLUMNS)
    assert fault.right == f"leave the column out, or give one of {names}"


def test_a_heading_that_is_spelt_wrong_is_told_the_near_one() -> None:
    (fault,) = read_table(b"name,count,foot widht\nA,1,2\n", COLUMNS, "l.csv").faults
    assert "did you mean 'foot width'" in fault.right
