"""Readings of the user's tests: typed one by one, or in a table."""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Final, TypeVar

from wadforms import units
from wadforms.cli.reading import Reader
from wadforms.errors import BadInput, Fault, quoted
from wadforms.files import read_at_most, shortened
from wadforms.firing.tables import LARGEST, Column, read_table
from wadforms.setting import measured, measuring
from wadforms.setting.measured import Result, Trial

if TYPE_CHECKING:
    from wadforms.cli.measure import BearingOptions, CupOptions, ReadingOptions
    from wadforms.setting.mixes import Mix

_BARS: Final = (
    Column("plastic", "mm", "length as made", required=True),
    Column("dry", "mm", "length bone dry", required=True),
    Column("fired", "mm", "length fired; empty of a bar that is not"),
)
_AT_HEAT: Final = (
    Column("load", "g", "what stood on the wads", required=True),
    Column("unloaded", "mm", "height after the firing of a wad that bore nothing", required=True),
    Column("loaded", "mm", "height after the firing of the loaded wad", required=True),
)
_BROKEN: Final = (Column("load", "g", "under which the wads broke", required=True),)
_FILLED: Final = (Column("filled", "g", "what the cup weighs filled", required=True),)
_SAGGED: Final = (
    Column("span", "mm", "between the supports", required=True),
    Column("thickness", "mm", "of the bar", required=True),
    Column("sag", "mm", "how far its middle came down", required=True),
)
COLUMNS: Final = {
    "shrinkage": _BARS,
    "bearing at-heat": _AT_HEAT,
    "bearing cold": _BROKEN,
    "bearing point": _BROKEN,
    "loose-density": _FILLED,
    "clay-sag": _SAGGED,
}
"""What is read in each kind of test."""

_MOST_TOGETHER: Final = 1000  # wads or tips under one load; more is a slip

_ENDS = re.compile(r"[A-Za-z\"]+\s*$")

_T = TypeVar("_T")


@dataclass(frozen=True, slots=True)
class Row:
    """One reading.

    Parameters
    ----------
    where : str
        Where it was given, for messages.
    values : mapping of str to float
        What was given, each in its column's unit, by the column's name.
    """

    where: str
    values: Mapping[str, float]


def shrinkage(typed: Sequence[str], table: Path | None, day: date, note: str) -> tuple[Result, ...]:
    """Shrinkages from bars.

    Raises
    ------
    BadInput
        With all faults.
    """
    reader = Reader()

    def bar(row: Row) -> measuring.Bar:
        found = measuring.Bar(row.values["plastic"], row.values["dry"], row.values.get("fired"))
        measuring.drying_shrinkage(found)
        measuring.firing_shrinkage(found)
        return found

    bars = each(rows_of(typed, table, _BARS, "--bar", reader), bar, reader)
    reader.done()
    return measured.shrinkages(bars, Trial(day, "lengths of bars, ASTM C326", note))


def bearing(
    reading: ReadingOptions, options: BearingOptions, mix: Mix, day: date, note: str
) -> Result:
    """What wads of a mix bear, from loads.

    Raises
    ------
    BadInput
        With all faults.
    """
    reader = Reader()
    at_heat = options.limit == "at-heat"
    columns = _AT_HEAT if at_heat else _BROKEN
    rows = rows_of(reading.wad, reading.readings, columns, "--wad", reader)
    diameter = _needed(options.diameter, "mm", "--diameter", "30mm", reader)
    height = 1.0  # of a tip nobody asks
    if options.limit == "cold":
        height = _needed(options.height, "mm", "--height", "20mm", reader)
    if not 1 <= options.together <= _MOST_TOGETHER:
        right = f"give 1 to {_MOST_TOGETHER}"
        reader.faults.append(Fault("--together", str(options.together), right))
    reader.done()
    area = math.pi * (diameter / 2.0) ** 2 * options.together

    def borne(row: Row) -> measuring.Borne:
        tested = measuring.pressure(row.values["load"], area)
        if at_heat:
            return measuring.borne_at_heat(tested, row.values["unloaded"], row.values["loaded"])
        return measuring.Borne(tested, 1.0, proof=False)

    found = each(rows, borne, reader)
    reader.done()
    if at_heat:
        height = min(row.values["unloaded"] for row in rows)
        may = units.show(measuring.GIVES.value, "share")
        how = f"round wads under load at top heat, which may lose {may} of their height (assumed)"
    elif options.limit == "cold":
        how = "load that broke round wads"
    else:
        how = "load that crushed the flats of tips"
    trial = Trial(day, how, note)
    before = {"at-heat": mix.at_heat, "cold": mix.cold}.get(options.limit, mix.tip)
    return measured.bearing(
        options.limit, found, trial, diameter=diameter, height=height, before=before
    )


def loose_density(
    reading: ReadingOptions, options: CupOptions, mix: Mix, day: date, note: str
) -> Result:
    """Loose density of an ingredient, from a filled cup.

    Raises
    ------
    BadInput
        With all faults.
    """
    reader = Reader()
    rows = rows_of(reading.filled, reading.readings, _FILLED, "--filled", reader)
    volume = _needed(options.cup, "mm3", "--cup", "250ml", reader)
    empty = reader.quantity(options.empty, "g", "--empty")
    if options.ingredient is None:
        known = ", ".join(ingredient.name for ingredient in mix.ingredients)
        reader.faults.append(Fault("--ingredient", "nothing", f"give one of {known}"))
    reader.done()
    found = each(
        rows, lambda row: measuring.loose_density(row.values["filled"], empty, volume), reader
    )
    reader.done()
    trial = Trial(day, "a filled cup, struck off", note)
    return measured.ingredient_density(mix, options.ingredient or "", found, trial)


def clay_sag(typed: Sequence[str], table: Path | None, day: date, note: str) -> Result:
    """Pyroplastic index of a clay, from bars on two supports.

    Raises
    ------
    BadInput
        With all faults.
    """
    reader = Reader()
    rows = rows_of(typed, table, _SAGGED, "--bar", reader)
    found = each(rows, lambda row: measuring.pyroplastic_index(**row.values), reader)
    reader.done()
    return measured.sagging(found, Trial(day, "bars on two supports", note))


def _needed(text: str | None, unit: str, option: str, example: str, reader: Reader) -> float:
    """An option that must be there, in `unit`; NaN after a fault."""
    if text is None:
        reader.faults.append(Fault(option, "nothing", f"give {option} {example}"))
        return math.nan
    return reader.above_zero(text, unit, option)


def rows_of(
    typed: Sequence[str],
    table: Path | None,
    columns: Sequence[Column],
    option: str,
    reader: Reader,
) -> list[Row]:
    """All readings, typed and from a table; what is wrong with them goes to `reader`."""
    read = [_typed(text, columns, option, reader) for text in typed]
    rows = [row for row in read if row is not None]
    if table is not None:
        rows += _in_table(table, columns, reader)
    if not rows and not reader.faults:
        example = f"{option} {'/'.join(c.name.upper() for c in columns)}"
        reader.faults.append(Fault("readings", "nothing", f"give {example}, or --readings FILE"))
    return rows


def each(rows: Sequence[Row], worth: Callable[[Row], _T], reader: Reader) -> list[_T]:
    """What each reading is worth; those that cannot be are told by where they were given."""
    found = []
    for row in rows:
        try:
            found.append(worth(row))
        except BadInput as error:
            reader.faults += [
                fault._replace(where=f"{row.where}, {fault.where}") for fault in error.faults
            ]
    return found


def _typed(text: str, columns: Sequence[Column], option: str, reader: Reader) -> Row | None:
    where = f"{option} {text if text.isprintable() and len(text) < 40 else quoted(text, 40)}"
    # A length may be a fraction, which has a stroke of its own.
    parts = text.split(";" if ";" in text else "/")
    least = sum(column.required for column in columns)
    if not least <= len(parts) <= len(columns):
        example = "/".join(column.name.upper() for column in columns)
        reader.faults.append(Fault(option, quoted(text), f"write it as {example}"))
        return None
    last = _ENDS.search(parts[-1])
    before = len(reader.faults)
    values: dict[str, float] = {}
    for column, part in zip(columns, parts, strict=False):
        shares = last and column.unit == columns[len(parts) - 1].unit and not _ENDS.search(part)
        whole = f"{part}{last[0]}" if shares and last else part
        values[column.name] = reader.above_zero(whole, column.unit, f"{where}, {column.name}")
    return Row(where, values) if len(reader.faults) == before else None


def _in_table(path: Path, columns: Sequence[Column], reader: Reader) -> list[Row]:
    from wadforms.cli.printing import talk

    data = read_at_most(path, LARGEST, "a table of readings")
    table = read_table(data, columns, shortened(path))
    reader.faults += table.faults
    for note in table.notes:
        talk(note)
    rows = []
    for line in table.lines:
        values = {column.name: line.quantity(column.name) for column in columns}
        reader.faults += line.faults
        given = {name: value for name, value in values.items() if value is not None}
        if not line.faults and all(c.name in given for c in columns if c.required):
            rows.append(Row(line.where, given))
    if not table.lines and not table.faults:
        reader.faults.append(Fault(shortened(path), "no readings", "give a row for each"))
    return rows
