"""The columns that a table may have, and the headings that name them."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Final, NamedTuple, TypeAlias

from wadforms import units
from wadforms.errors import Fault, UnknownName, quoted


class Unreadable(NamedTuple):
    """A cell that gives no value: what stands in it, and what would be right."""

    given: str
    right: str


Cell: TypeAlias = str | Unreadable

UNFIT: Final = "?"
"""Stands for the unit of a heading that names a wrong one: its cells are not judged."""

_UNIT: Final = re.compile(
    r"(?P<name>.*?)\s*(?:\((?P<round>[^()]*)\)|\[(?P<square>[^][]*)\]"
    r"|(?:,|\bin\b)\s*(?P<bare>[^\s()\[\]]+)|\s(?P<last>[^\s()\[\]]+))",
    re.IGNORECASE,
)


_NEAR: Final = 0.7  # how alike a heading must be to one that it may be meant for, 0 to 1


@dataclass(frozen=True, slots=True)
class Column:
    """A column that a table may have.

    Parameters
    ----------
    name : str
        Its heading, in small letters.
    unit : str
        One of the keys of `units.UNITS`; ``"count"`` for whole numbers, ``"text"`` for words.
    help : str
        What stands in it.
    required : bool
        Whether every row needs it.
    """

    name: str
    unit: str
    help: str
    required: bool = False


@dataclass(slots=True)
class Headings:
    """A row of headings.

    Parameters
    ----------
    names : list of str or None
        The column of each cell; None where its heading is at fault.
    units : dict of str to str
        Units that the headings give, by column.
    faults : list of Fault
        What is wrong with them.
    """

    names: list[str | None] = field(default_factory=list)
    units: dict[str, str] = field(default_factory=dict)
    faults: list[Fault] = field(default_factory=list)


def headings(cells: Sequence[Cell], columns: Sequence[Column], where: str) -> Headings:
    """The columns that a row of headings names; case, underscores and spaces are free.

    A heading may end in the unit of its cells.

    Parameters
    ----------
    cells : sequence of str or Unreadable
        The row.
    columns : sequence of Column
        What it may name.
    where : str
        The file and row, for messages.

    Examples
    --------
    >>> columns = [Column("weight", "g", "of one"), Column("foot width", "mm", "of the ring")]
    >>> found = headings(["Foot_Width in mm", "WEIGHT (kg)"], columns, "list.csv, row 1")
    >>> found.names, found.units
    (['foot width', 'weight'], {'foot width': 'mm', 'weight': 'kg'})
    """
    found = Headings()
    known = {column.name: column for column in columns}
    named: set[str] = set()  # in the headings, whether their unit is right or not
    for position, cell in enumerate(cells, 1):
        here = f"{where}, heading"
        found.names.append(None)
        if isinstance(cell, Unreadable):
            found.faults.append(Fault(f"{where}, column {position}", *cell))
            continue
        if not cell:
            right = "give every column a heading"
            found.faults.append(Fault(f"{where}, column {position}", "no heading", right))
            continue
        name, unit = _split(cell, known)
        if name not in known:
            found.faults.append(_unknown(here, cell, columns))
        elif name in named:
            found.faults.append(Fault(here, f"{name!r} twice", "give it once"))
        elif unit is not None and (wrong := _unfit(unit, known[name])):
            found.faults.append(Fault(here, quoted(cell), wrong))
            named.add(name)
            found.names[-1], found.units[name] = name, UNFIT
        else:
            named.add(name)
            found.names[-1] = name
            if unit is not None:
                found.units[name] = unit
    for column in columns:
        if column.required and column.name not in named:
            right = f"add the column {column.name!r}: {column.help}"
            found.faults.append(Fault(f"{where}, headings", f"no {column.name!r}", right))
    return found


def _unknown(here: str, cell: str, columns: Sequence[Column]) -> Fault:
    """A heading that is none: the near ones where there are any, else all."""
    import difflib  # slow to load, and needed for a mistake only

    names = [column.name for column in columns]
    if difflib.get_close_matches(cell.lower(), names, n=1, cutoff=_NEAR):
        return UnknownName(here, cell, names).faults[0]
    return Fault(here, quoted(cell), f"leave the column out, or give one of {', '.join(names)}")


def _split(cell: str, known: Mapping[str, Column]) -> tuple[str, str | None]:
    """The name of a column, and the unit after it."""
    words = " ".join(cell.replace("_", " ").split())
    if words.lower() in known:
        return words.lower(), None
    match = _UNIT.fullmatch(words)
    if match and match["name"].lower() in known:
        brackets = match["round"] if match["square"] is None else match["square"]
        unit = (match["bare"] or match["last"] or "") if brackets is None else brackets.strip()
        # Without brackets it may be a heading spelt wrong: "foot widht".
        if brackets is not None or any(_has(kind, unit) for kind in units.UNITS.values()):
            return match["name"].lower(), unit
    return words.lower(), None


def _unfit(unit: str, column: Column) -> str | None:
    """What would be right in place of a heading's unit; None where it is right."""
    kind = units.UNITS.get(column.unit)
    if kind is None:
        return f"write {column.name!r}: it has no unit"
    if _has(kind, unit):
        return None
    named = [name for name in kind if name]
    return f"write '{column.name} ({named[0]})'; the units are {', '.join(named)}"


def _has(kind: Mapping[str, float], unit: str) -> bool:
    return bool(unit) and (unit in kind or unit.lower() in kind)


def is_remark(cells: Sequence[Cell]) -> bool:
    """Whether a row is there for people alone.

    Examples
    --------
    >>> is_remark(["# our autumn firing"]), is_remark(["name", "count"])
    (True, False)
    """
    return bool(cells) and isinstance(cells[0], str) and cells[0].startswith("#")
