"""What lies in a visitor's boxes: a table that is dropped in, used first, and told."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any, Final

from wadforms.errors import BadInput
from wadforms.firing.stock import read_stock
from wadforms.page.inputs import Drop, button, markup, paragraphs
from wadforms.page.told import Typed
from wadforms.page.visit import Visit

_STEM: Final = "boxes"

ONE_TABLE: Final = ".csv,.xlsx"
"""What a browser offers where a table is asked for."""


class Boxes:
    """The field for the table of the boxes.

    Parameters
    ----------
    visit : Visit
        Whose they are.
    typed : dict
        Its ``stock`` names the file.
    changed : callable
        Told that it is another.
    """

    def __init__(self, visit: Visit, typed: Typed, changed: Callable[[], Any]) -> None:
        self.visit, self.typed, self.changed = visit, typed, changed
        if not Path(typed.get("stock") or "none").is_file():
            typed.pop("stock", None)
        Drop(
            "boxes",
            "Shapes in your boxes, used first",
            "CSV or XLSX: shape, body, count",
            ONE_TABLE,
            self._taken,
        )
        self.told = markup()
        self.forget = button("Leave the boxes out", self._forget)
        self._show()

    def _taken(self, name: str) -> None:
        arrived = self.visit.work.drawings / name
        try:
            read_stock(arrived, self.visit.work.shapes_in)
        except BadInput as error:
            arrived.unlink()
            words = [str(fault).removeprefix(f"{arrived}, ") for fault in error.faults]
            self.told.set_content(faults_html(words))
            self.visit.say(" ".join(words))
            return
        file = self.visit.work.folder / f"{_STEM}{Path(name).suffix}"
        arrived.replace(file)
        self.typed["stock"] = str(file)
        self._show()
        self.changed()

    def _forget(self) -> None:
        self.typed.pop("stock", None)
        self._show()
        self.changed()

    def _show(self) -> None:
        file = self.typed.get("stock", "")
        self.forget.set_visibility(bool(file))
        told = ""
        if file:
            try:
                stock = read_stock(Path(file), self.visit.work.shapes_in)
                pieces = [f"{n} × {shape}, {body}" for (shape, body), n in stock.items()]
                told = paragraphs(["In the boxes: " + "; ".join(pieces)], "p")
            except BadInput as error:
                told = faults_html([str(fault) for fault in error.faults])
        self.told.set_content(told)


def faults_html(words: list[str]) -> str:
    """Faults that belong to no field, as HTML.

    Examples
    --------
    >>> faults_html(["no table"])
    '<p class="fault">✕ no table</p>'
    """
    return paragraphs([f"✕ {word}" for word in words], "p").replace("<p>", '<p class="fault">')
