"""Takes values out of the tables of a file that tells what a material is."""

from __future__ import annotations

import math
from datetime import date, datetime
from typing import Any

from wadforms import units
from wadforms.errors import Fault, quoted
from wadforms.setting.limits import Limit
from wadforms.setting.readings import MOST, Readings, shown


class TableReader:
    """Takes values out of a file's tables and collects what is wrong with them.

    Parameters
    ----------
    data : dict
        The tables.
    where : str
        The file, for messages.

    Examples
    --------
    >>> reader = TableReader({"water": {"value": "31 %", "source": "weighed"}}, "ours.toml")
    >>> reader.limit("water", "share", 0.01, 0.6).value, reader.text("summary")
    (0.31, '')
    >>> print(reader.faults[0])
    ours.toml: summary: nothing was given; give a text
    """

    def __init__(self, data: dict[str, Any], where: str) -> None:
        self.data, self.where, self.faults = data, where, list[Fault]()

    def get(self, key: str) -> Any:
        """The value at a key, whose parts are joined by full stops; None where there is none."""
        value: Any = self.data
        for part in key.split("."):
            value = value.get(part) if isinstance(value, dict) else None
        return value

    def fault(self, key: str, value: object, right: str) -> None:
        """Note that the value at a key is wrong, and what would be right."""
        given = "nothing" if value is None else quoted(value)
        self.faults.append(Fault(f"{self.where}: {key}", given, right))

    def text(self, key: str) -> str:
        """A text; an empty one after a fault."""
        value = self.get(key)
        if not isinstance(value, str):
            self.fault(key, value, "give a text")
            return ""
        return value

    def number(self, key: str, unit: str, low: float, high: float) -> float:
        """A number from `low` to `high`, both in `unit`; `low` after a fault."""
        given = value = self.get(key)
        right = f"give {shown(low, unit)} to {shown(high, unit)}"
        try:
            if isinstance(value, str) and unit in units.UNITS:
                value = units.parse(value, unit, key)
            if isinstance(value, bool) or not isinstance(value, int | float):
                raise TypeError
            if not (math.isfinite(value) and low <= value <= high):
                raise ValueError
        except (TypeError, ValueError):
            self.fault(key, given, right)
            return low
        return float(value)

    def flag(self, key: str, *, default: bool) -> bool:
        """True or false; `default` where it is left out, and after a fault."""
        value = self.get(key)
        if isinstance(value, bool | None):
            return default if value is None else value
        self.fault(key, value, "give true or false")
        return default

    def limit(self, key: str, unit: str = "kPa", low: float = 1.0, high: float = 1e6) -> Limit:
        """A value from `low` to `high`, both in `unit`, with its source and its readings."""
        value = self.number(f"{key}.value", unit, low, high)
        source = self.text(f"{key}.source")
        assumed = self.flag(f"{key}.assumed", default=True)
        readings = self.readings(f"{key}.readings", unit, low, high)
        if readings is not None and assumed:
            right = "write false: it has readings"
            self.fault(f"{key}.assumed", self.get(f"{key}.assumed"), right)
        return Limit(value, unit, source, assumed, readings)

    def readings(self, key: str, unit: str, low: float, high: float) -> Readings | None:
        """What a value, `low` to `high`, both in `unit`, rests on; None where nothing is told."""
        if self.get(key) is None:
            return None
        if not isinstance(self.get(key), dict):
            self.fault(key, self.get(key), "give a table with n, mean and spread")
            return None
        count = self.get(f"{key}.n")
        if isinstance(count, bool) or not isinstance(count, int) or not 1 <= count <= MOST:
            self.fault(f"{key}.n", count, f"give a whole number, 1 to {MOST}")
            count = 1
        mean = self.number(f"{key}.mean", unit, low, high)
        spread = None
        if self.get(f"{key}.spread") is not None or count > 1:
            spread = self.number(f"{key}.spread", unit, 0.0, high)
        on = self.get(f"{key}.on")
        if on is not None and (not isinstance(on, date) or isinstance(on, datetime)):
            self.fault(f"{key}.on", on, "give a day, as 2026-11-01 without quotes")
            on = None
        squat = 1.0
        if self.get(f"{key}.squat") is not None:
            squat = self.number(f"{key}.squat", "", 1.0, 1000.0)
        return Readings(count, mean, spread, on, squat)
