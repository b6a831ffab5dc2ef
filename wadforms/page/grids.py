"""A table to fill in, on the page, and the sheet behind it."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from typing import Any, Final

from nicegui import ui

from wadforms.firing.tables import Column
from wadforms.firing.tables.columns import headings
from wadforms.page.sheets import LONGEST, MOST, Blamed, Sheet

TABLES_LOOK: Final = Path(__file__).with_name("tables.css")
"""How tables look that are filled in here."""

_WIDEST: Final = 200  # columns


class Grid(ui.element, component="parts/grid.js"):
    """A table to fill in, with rows to add, copy, delete and put back.

    Parameters
    ----------
    uid, label : str
        Its name in the page, and what it is called.
    columns : sequence of Column
        What it may have.
    changed : callable
        Told that the sheet is another.
    often : sequence of str
        Columns that are shown though they are empty.
    known : mapping
        Words that are offered, by column.
    kinds : mapping
        For each kind of row the columns that it has a use for.
    """

    def __init__(
        self,
        uid: str,
        label: str,
        columns: Sequence[Column],
        changed: Callable[[], Any],
        *,
        often: Sequence[str] = (),
        known: Mapping[str, Sequence[str]] | None = None,
        kinds: Mapping[str, Sequence[str]] | None = None,
    ) -> None:
        super().__init__()
        self.sheet = Sheet([])
        self.columns = columns
        self._often, self._known = set(often), known or {}
        self._changed = changed
        self._told: Blamed | None = None
        named = {kind: list(used) for kind, used in (kinds or {}).items()}
        self._props.update(uid=f"g-{uid}", label=label, kinds=named, stamp=0)
        self.on("cell", self._cell)
        self.on("heading", self._heading)
        self.on("inserted", self._inserted)
        self.on("removed", self._removed)
        self.on("pasted", self._pasted)

    def put(self, sheet: Sheet) -> None:
        """Show another sheet."""
        self.sheet = sheet
        self._told = None
        names = headings(sheet.headings, self.columns, "").names
        known = {column.name: column for column in self.columns}
        heads = []
        for text, name in zip(sheet.headings, names, strict=True):
            column = known.get(name or "")
            heads.append(
                {
                    "text": text,
                    "name": name or "",
                    "help": column.help if column else "",
                    "words": column is None or column.unit == "text",
                    "often": name is None or name in self._often,
                    "known": list(self._known.get(name or "", ())),
                }
            )
        kind = names.index("kind") if "kind" in names and self._props["kinds"] else -1
        self._props.update(headings=heads, rows=sheet.rows, first=sheet.first, kind=kind)
        self._props["stamp"] += 1
        self.update()

    def blame(self, told: Blamed) -> None:
        """Say what is wrong with which cells; nothing is said where that is known already."""
        if told != self._told:
            self._told = told
            self.run_method("blame", told.cells, told.heads)

    def _cell(self, event: Any) -> None:
        r, c, text = event.args
        if self._there(r, c):
            self.sheet.rows[r][c] = _plain(text)
            self._changed()

    def _heading(self, event: Any) -> None:
        c, text = event.args
        if isinstance(c, int) and 0 <= c < len(self.sheet.headings):
            self.sheet.headings[c] = _plain(text)
            self._changed()

    def _inserted(self, event: Any) -> None:
        r, cells = event.args
        fits = isinstance(r, int) and 0 <= r <= len(self.sheet.rows) < MOST
        if fits and len(cells) == len(self.sheet.headings):
            self.sheet.rows.insert(r, [_plain(cell) for cell in cells])
            self._after()

    def _removed(self, event: Any) -> None:
        r = event.args
        if self._there(r, 0):
            del self.sheet.rows[r]
            self._after()

    def _pasted(self, event: Any) -> None:
        r, c, block = event.args
        width = len(self.sheet.headings)
        if not self._there(r, c) or r + len(block) > MOST or len(block[0]) > _WIDEST:
            return
        for down, cells in enumerate(block, r):
            if down == len(self.sheet.rows):
                self.sheet.rows.append([""] * width)
            for right, cell in enumerate(cells[: width - c], c):
                self.sheet.rows[down][right] = _plain(cell)
        self._after()

    def _after(self) -> None:
        self._told = None  # the page forgot what was wrong, since rows have other numbers now
        self._changed()

    def _there(self, r: Any, c: Any) -> bool:
        return (
            isinstance(r, int)
            and isinstance(c, int)
            and 0 <= r < len(self.sheet.rows)
            and 0 <= c < len(self.sheet.headings)
        )


def _plain(text: Any) -> str:
    """A cell as a CSV keeps it: without line breaks and spaces around it."""
    return " ".join(str(text)[:LONGEST].split())


class Within(ui.element, component="parts/within.js"):
    """A page that was made, shown in a frame of its own.

    Parameters
    ----------
    source, label : str
        Its address, and what it is called.
    """

    def __init__(self, source: str, label: str) -> None:
        super().__init__()
        self._props.update(source=source, label=label)
