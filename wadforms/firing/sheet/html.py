"""Writes a crew sheet as one page of the web that needs nothing else: no script, no other file."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Final

from wadforms.errors import BadInput, Fault
from wadforms.firing.sheet.parts import CrewSheet
from wadforms.templates.drawing import Drawing

if TYPE_CHECKING:
    from markupsafe import Markup

_CONTROL: Final = re.compile("[\\x00-\\x09\\x0b-\\x1f\\ud800-\\udfff]")
"""What no page may hold; lines end in a single character of ours."""


def sheet_html(sheet: CrewSheet) -> bytes:
    """The sheet as a page in HTML, pictures included.

    Parameters
    ----------
    sheet : CrewSheet
        What to write.

    Raises
    ------
    BadInput
        A text holds a control character, which HTML cannot.

    Examples
    --------
    >>> page = sheet_html(CrewSheet(title="Fire & ash", date="", tally=(), parts=()))
    >>> b"<h1>Fire &amp; ash</h1>" in page
    True
    """
    from importlib.resources import files

    from jinja2 import Environment, StrictUndefined

    text = files(__package__).joinpath("sheet.html").read_text(encoding="utf-8")
    # Everything that comes from the list is escaped; only our own drawings are not.
    surroundings = Environment(autoescape=True, undefined=StrictUndefined)
    page = surroundings.from_string(text).render(sheet=sheet, drawn=_Drawn()) + "\n"
    if bad := _CONTROL.search(page):
        around = page[max(0, bad.start() - 20) : bad.end() + 20]
        right = f"leave out the control character {bad[0]!r}"
        raise BadInput(Fault("text", repr(around), right))
    return page.encode()


class _Drawn:
    """Drawings as elements of the page."""

    def __init__(self) -> None:
        self.marks: dict[str, Markup] = {}

    def picture(self, drawing: Drawing) -> Markup:
        """A drawing with its title and description, for those who cannot see it."""
        from markupsafe import Markup

        from wadforms.templates.svg import svg

        text = svg(drawing).decode().split("?>", 1)[1].strip()
        return Markup(text.replace("<svg ", '<svg role="img" ', 1))  # noqa: S704 - svg escapes

    def mark(self, verdict: str) -> Markup:
        """The mark of a verdict, whose word stands beside it."""
        from wadforms.templates.card_picture import mark

        if verdict not in self.marks:
            self.marks[verdict] = self.picture(mark(verdict))
        return self.marks[verdict]
