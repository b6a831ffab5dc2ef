"""Quantities as people type them, and what is refused because it could mean something else."""

from __future__ import annotations

import pytest

from wadforms.errors import BadInput
from wadforms.units import count, parse

POUND, OUNCE, INCH = 453.59237, 28.349523125, 25.4
"""In g, g and mm: international yard and pound agreement, 1959."""


@pytest.mark.parametrize(
    ("text", "unit", "value"),
    [
        ("5 lb 4 oz", "g", 5 * POUND + 4 * OUNCE),
        ("5lb4oz", "g", 5 * POUND + 4 * OUNCE),
        ("5lb3oz", "g", 5 * POUND + 3 * OUNCE),
        ("5 pounds 4 ounces", "g", 5 * POUND + 4 * OUNCE),
        ("-5 lb 4 oz", "g", -(5 * POUND + 4 * OUNCE)),
        ("2 kgs 300 grams", "g", 2300.0),
        ("9½in", "mm", 9.5 * INCH),
        ("9 ½ inches", "mm", 9.5 * INCH),
        ("-⅞ in", "mm", -0.875 * INCH),
        ("9 1/2 in", "mm", 9.5 * INCH),
        ("3in3 4ml", "mm3", 3 * INCH**3 + 4000),
        ("1600 kg/m3", "g/cm3", 1.6),
        ("+7 %", "share", 0.07),
    ],
)
def test_what_is_read(text: str, unit: str, value: float) -> None:
    assert parse(text, unit, "here") == pytest.approx(value, rel=1e-14)


@pytest.mark.parametrize(
    ("text", "unit"),
    [
        ("5 lb -4 oz", "g"),
        ("5 lb +4 oz", "g"),
        ("5 lb 4", "g"),
        ("--3", "mm"),
        ("+-3", "mm"),
        ("1½½ in", "mm"),
        ("1.5½ in", "mm"),
        ("1/0 in", "mm"),
        ("9" * 90 + "/0", "mm"),
        ("9" * 400 + "/1 mm", "mm"),
        ("9" * 5000, "mm"),
        ("9" * 5000 + " 1/2 in", "mm"),
        ("1e999 mm", "mm"),
        ("nan", "mm"),
        ("1,234 mm", "mm"),
    ],
)
def test_what_is_refused(text: str, unit: str) -> None:
    with pytest.raises(BadInput) as caught:
        parse(text, unit, "here")
    assert len(str(caught.value)) < 200


@pytest.mark.parametrize(
    ("text", "value"),
    [("3", 3), (" +3 ", 3), ("-3", -3), ("+-3", None), ("3.0", None), ("", None), ("9" * 7, None)],
)
def test_counts(text: str, value: int | None) -> None:
    assert count(text) == value


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("1,234.5 kg", 1_234_500.0),
        ("1.234,5 kg", 1_234_500.0),
        ("-1,234.5 g", -1234.5),
        ("1,234,567 g", 1_234_567.0),
        ("1.234.567 g", 1_234_567.0),
        ("1,234,567.25 g", 1_234_567.25),
        ("1.234.567,25 g", 1_234_567.25),
        ("12 lb 1,000.5 g", 12 * 453.59237 + 1000.5),
    ],
)
def test_thousands_in_groups_where_they_can_be_nothing_else(text: str, value: float) -> None:
    assert parse(text, "g", "here") == pytest.approx(value, rel=1e-15)


@pytest.mark.parametrize(
    "text", ["1,23.5 g", "1.23,5 g", "1,234.5.6 g", "0,123.5 g", "1,234.567,8 g", "1234,567.8 g"]
)
def test_groups_of_other_lengths_are_refused(text: str) -> None:
    with pytest.raises(BadInput):
        parse(text, "g", "here")
