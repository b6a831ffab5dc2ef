"""Reads a firing list: everything that goes into the kiln, one row for each kind."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import replace
from importlib import resources
from pathlib import Path
from typing import Final, NamedTuple

from wadforms.errors import BadInput, Fault, UnknownName, quoted
from wadforms.files import read_at_most, shortened
from wadforms.firing.list_columns import COLUMNS
from wadforms.firing.list_feet import Drawings
from wadforms.firing.list_rows import Reading, read_row
from wadforms.firing.rows import (
    CONES,
    DRAW_RING,
    FLOOR,
    KINDS,
    POT,
    SHELF,
    Cones,
    FiringList,
    Posts,
    Row,
    Shelf,
    Ware,
)
from wadforms.firing.tables import LARGEST, Line, read_table

_MOST_NAMES: Final = 200  # beyond these, and as often, near names are not looked for


class _Told(NamedTuple):
    """A row, whether or not all of it could be read."""

    line: Line
    kind: str | None
    level: int | None
    row: Row | None


def example() -> bytes:
    """An invented list to fill in."""
    return (resources.files(__package__) / "example.csv").read_bytes()


def read_list(
    path: Path,
    shapes_in: Sequence[Path] = (),
    *,
    encoding: str | None = None,
    sheet: str | None = None,
) -> FiringList:
    """Read a firing list from a CSV or XLSX file.

    Parameters
    ----------
    path : Path
        The file; drawings of feet are looked for beside it, and nowhere else.
    shapes_in : sequence of Path
        Folders of the user's own shapes, for the columns ``shape`` and ``mark``.
    encoding : str or None
        Of a CSV file that is not UTF-8.
    sheet : str or None
        Of a workbook; the first where None.

    Raises
    ------
    BadInput
        With every fault of the file, each with row, column, what is there and what would be right.
    """
    data = read_at_most(path, LARGEST, "a table")
    return parse_list(
        data,
        shortened(path),
        shapes_in,
        encoding=encoding,
        sheet=sheet,
        folder=path.parent,
    )


def parse_list(
    data: bytes,
    where: str,
    shapes_in: Sequence[Path] = (),
    *,
    encoding: str | None = None,
    sheet: str | None = None,
    folder: Path | None = None,
) -> FiringList:
    r"""Read a firing list from the bytes of a CSV or XLSX file; see `read_list`.

    Parameters
    ----------
    data : bytes
        All of the file.
    where : str
        Its name, for messages.
    shapes_in : sequence of Path
        Folders of the user's own shapes.
    encoding, sheet : str or None
        As for `read_list`.
    folder : Path or None
        Where drawings of feet are; None where there are none.

    Raises
    ------
    BadInput
        With every fault.

    Examples
    --------
    >>> listed = parse_list(b"name,count,weight (lb),foot\nMug,12,1,80\n", "list.csv")
    >>> mug = listed.wares[0]
    >>> mug.name, mug.count, mug.mass, mug.foot.diameter
    ('Mug', 12, 453.59237, 80.0)
    """
    table = read_table(data, COLUMNS, where, encoding=encoding, sheet=sheet)
    faults = list(table.faults)
    if not (table.lines or faults):
        faults.append(Fault(where, "a list without rows", "give a row for each kind of ware"))
    drawings = Drawings(folder)
    reading = Reading(drawings, shapes_in)
    told = [_told(line, reading) for line in table.lines]
    names = _Names(told)
    rows = [replace(one.row, stands_on=names.below(one)) for one in told if one.row is not None]
    for one in told:
        if one.row is None:
            names.below(one)  # what is wrong there is told in the same answer
    faults += _absent(table.lines, where)
    faults += [fault for line in table.lines for fault in line.faults]
    if faults:
        raise BadInput(*faults)
    return FiringList(
        where=where,
        wares=tuple(row for row in rows if isinstance(row, Ware)),
        shelves=tuple(row for row in rows if isinstance(row, Shelf)),
        posts=tuple(row for row in rows if isinstance(row, Posts)),
        cones=tuple(row for row in rows if isinstance(row, Cones)),
        notes=(*table.notes, *drawings.notes),
    )


def _absent(lines: Sequence[Line], where: str) -> list[Fault]:
    """Columns that are not there and that rows need: each is told once, not in every row."""
    needed: dict[str, list[int]] = defaultdict(list)
    for line in lines:
        for column in line.absent:
            needed[column].append(line.row)
    helps = {column.name: column.help for column in COLUMNS}
    return [
        Fault(
            f"{where}, headings",
            f"no {column!r}",
            f"add the column {column!r}: {helps[column]} (row {rows[0]} needs it)",
        )
        for column, rows in needed.items()
    ]


def _told(line: Line, reading: Reading) -> _Told:
    kind, level = line.one_of("kind", KINDS), line.count("level")
    if kind is None and not line.filled("kind"):
        kind = POT
    return _Told(line, kind, level, read_row(line, kind, level, reading))


class _Names:
    """Finds what rows stand on, by the names and the levels that they give."""

    def __init__(self, told: Sequence[_Told]) -> None:
        self._named: dict[str, list[tuple[str, int]]] = defaultdict(list)
        self._levels: dict[int, list[tuple[str, int]]] = defaultdict(list)
        self._level_of: dict[str, int | None] = {}
        self._unknown = 0
        for one in told:
            name = one.line.cells.get("name")
            if isinstance(name, str):
                self._named[name.casefold()].append((name, one.line.row))
                if one.kind == SHELF:
                    self._level_of[name] = one.level
                    if one.level is not None:
                        self._levels[one.level].append((name, one.line.row))

    def below(self, one: _Told) -> str | None:
        """The name of what a row stands on; None where it does not tell, or is at fault."""
        given = one.line.cells.get("stands on")
        if isinstance(given, str):
            return self._floor(one) if given.lower() == FLOOR else self._by_name(one, given)
        if given is None and one.level is not None and one.kind in (POT, DRAW_RING, CONES):
            return self._by_level(one, one.level)
        return None

    def _floor(self, one: _Told) -> str:
        """The kiln's floor, which has no level that a pot could be on; a shelf on it may be."""
        if one.level is not None and one.kind in (POT, DRAW_RING, CONES):
            one.line.fault("level", f"it stands on the {FLOOR}; leave one of the two empty")
        return FLOOR

    def _by_name(self, one: _Told, given: str) -> str | None:
        found = self._named.get(given.casefold(), [])
        found = [entry for entry in found if entry[0] == given] or found
        if not found:
            self._unknown += 1
            one.line.faults.append(self._refusal(one.line, given))
            return None
        if len(found) > 1:
            rows = _and(row for _, row in found)
            one.line.fault("stands on", f"rows {rows} have that name; give each its own")
            return None
        name = found[0][0]
        level = self._level_of.get(name)
        on_shelf = one.kind in (POT, DRAW_RING, CONES) and None not in (level, one.level)
        if on_shelf and level != one.level:
            right = f"{name!r} is on level {level}; leave one of the two empty"
            one.line.fault("level", right)
        return name

    def _refusal(self, line: Line, given: str) -> Fault:
        where = f"{line.where}, stands on"
        if len(self._named) <= _MOST_NAMES and self._unknown <= _MOST_NAMES:
            names = [entries[0][0] for entries in self._named.values()]
            return UnknownName(where, given, [*names, FLOOR]).faults[0]
        return Fault(where, quoted(given), f"give the name of another row, or {FLOOR}")

    def _by_level(self, one: _Told, level: int) -> str | None:
        found = self._levels.get(level, [])
        if len(found) == 1:
            return found[0][0]
        if found:
            rows = _and(row for _, row in found)
            right = f"say in 'stands on' which: the shelves of rows {rows} have that level"
        elif self._levels:
            right = f"give a level that a shelf has: {_and(sorted(self._levels), 'or')}"
        else:
            right = "add a row of kind 'shelf' with that level, or say what it stands on"
        one.line.fault("level", right)
        return None


def _and(numbers: Iterable[int], word: str = "and") -> str:
    """Some numbers in words, of many the first."""
    named = [str(number) for number in numbers]
    if len(named) > 6:
        named = [*named[:5], "others"]
    return f" {word} ".join(filter(None, [", ".join(named[:-1]), named[-1]]))
