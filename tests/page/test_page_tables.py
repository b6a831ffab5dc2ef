"""Tables on the page are plain CSV files, and readings come to what the command line says."""

from __future__ import annotations

import csv
import io
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from page_driver import told

from wadforms.errors import BadInput
from wadforms.firing.list_columns import COLUMNS
from wadforms.firing.list_file import example, parse_list
from wadforms.firing.tables import Column
from wadforms.page import lists, trials
from wadforms.page.sheets import MOST, Sheet, blamed, sheet_of

CELL = st.text(st.characters(codec="utf-8", exclude_categories=("C", "Z")), max_size=12)
FILLED = st.lists(st.tuples(CELL.filter(lambda t: t.strip(",;#")), CELL, CELL), min_size=1)
"""Rows whose first cell makes them neither blank nor a remark."""

DAY = "2026-11-01"
TESTS = {
    "shrinkage": (["100,95,88", "100,94.8,87.7", "100,95.1,"], {}),
    "bearing at-heat": (["4,20,19.9", "6,20,19.4"], {"diameter": "30mm", "together": "2"}),
    "bearing cold": (["40", "44", "39"], {"diameter": "3 cm", "height": "20mm"}),
    "bearing point": (["9", "8"], {"diameter": "3mm", "mix": "fireclay"}),
    "loose-density": (["247", "249"], {"ingredient": "kaolin", "cup": "250ml", "empty": "120g"}),
    "clay-sag": (["100,5,1.8", "100,5,2.1"], {"note": "cone 10"}),
}


@given(
    heads=st.tuples(*[st.sampled_from(["a;b;c;d;e", "f", "g\th\ti\tj", 'k "in"'])] * 3), rows=FILLED
)
def test_a_sheet_reads_back_as_it_was_written(
    heads: tuple[str, ...], rows: list[tuple[str, ...]]
) -> None:
    sheet = Sheet(list(heads), [list(row) for row in rows])
    assert sheet_of(sheet.csv(), "list.csv").sheet == sheet
    plain = csv.reader(io.StringIO(sheet.csv().decode(), newline=""), strict=True)
    assert list(plain) == [list(heads), *sheet.rows]  # as any spreadsheet takes it, RFC 4180


def test_the_invented_list_says_on_the_page_what_it_says_in_its_file() -> None:
    own = parse_list(lists.invented().csv(), lists.FILE)
    original = parse_list(example(), lists.FILE)
    plain = [(w.name, w.count, w.mass, w.foot, w.stands_on) for w in own.wares]
    assert plain == [(w.name, w.count, w.mass, w.foot, w.stands_on) for w in original.wares]
    assert [s.posts_at for s in own.shelves] == [s.posts_at for s in original.shelves]


def test_every_fault_of_a_list_stands_at_its_cell() -> None:
    sheet = lists.invented()
    at = {"weight (kg)": (5, "heavy"), "place": (6, "attic"), "count": (7, "x"), "name": (8, "")}
    for heading, (row, text) in at.items():
        sheet.rows[row][sheet.headings.index(heading)] = text
    read = lists.read(sheet.csv(), Path(), ())
    told_ = blamed(read.faults, lists.FILE, sheet, COLUMNS)
    cells = {f"{row},{sheet.headings.index(heading)}" for heading, (row, _) in at.items()}
    assert set(told_.cells) == cells
    assert told_.elsewhere == []
    for fault in read.faults:
        assert any(fault.right in words for words in told_.cells.values())


def test_a_wrong_heading_is_told_and_can_be_mended() -> None:
    sheet = Sheet(["name", "count", "weigth"], [["Mug", "3", "1 kg"]])
    read = lists.read(sheet.csv(), Path(), ())
    told_ = blamed(read.faults, lists.FILE, sheet, COLUMNS)
    assert told_.heads
    assert any("weight" in words for words in told_.elsewhere)


def test_a_table_too_long_for_the_page_is_refused() -> None:
    sheet = Sheet(["name"], [["Mug"]] * (MOST + 1))
    with pytest.raises(BadInput, match="command line takes more"):
        sheet_of(sheet.csv(), "list.csv")


@pytest.mark.parametrize("kind", TESTS)
def test_readings_come_to_the_file_that_the_command_writes(kind: str, tmp_path: Path) -> None:
    rows, typed = TESTS[kind]
    file, out = tmp_path / "readings.csv", tmp_path / f"clay-{DAY}.toml"
    sheet = Sheet(trials.headings_of(kind), [row.split(",") for row in rows])
    sheet.keep(file)
    answer = trials.answered(kind, {**typed, "on": DAY}, file, out)
    assert answer.found is not None, answer.faults
    what, _, limit = kind.partition(" ")
    options = [f"--{name}={text}" for name, text in typed.items()]
    options += [f"--limit={limit}"] if limit else []
    said = told("measure", what, f"--readings={file}", f"--on={DAY}", f"--out={out}", *options)
    assert answer.data == out.read_bytes()
    html = trials.results_html(answer.found, lambda text: text)
    for result, one in zip(answer.found.results, said["results"], strict=True):
        assert result.rule == one["rule"]
        assert result.readings.words(result.unit) in html
        scale = 1e-9 if result.unit == "/mm" else 1.0
        assert result.readings.n == one["n"]
        assert result.readings.mean == pytest.approx(one["mean"] * scale, rel=1e-4)
        assert result.limit.value == pytest.approx(one["judged_by"] * scale, rel=1e-4)


def test_a_wrong_reading_is_told_at_its_cell(tmp_path: Path) -> None:
    file = tmp_path / "readings.csv"
    columns = [Column("plastic", "mm", ""), Column("dry", "mm", ""), Column("fired", "mm", "")]
    sheet = Sheet(trials.headings_of("shrinkage"), [["100", "95", "88"], ["100", "95", "188"]])
    sheet.keep(file)
    faults = trials.answered("shrinkage", {}, file).faults
    assert list(blamed(faults, str(file), sheet, columns).cells) == ["1,2"]
