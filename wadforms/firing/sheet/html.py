"""Writes a crew sheet as one page of the web that needs nothing else: no script, no other file."""

from __future__ import annotations

from typing import TYPE_CHECKING

from wadforms.errors import BadInput, Fault
from wadforms.firing.sheet.parts import CrewSheet
from wadforms.templates.drawing import Drawing

if TYPE_CHECKING:
    from markupsafe import Markup


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
    bad = next((c for c in page if (ord(c) < 32 and c != "\n") or 0xD800 <= ord(c) < 0xE000), None)
    if bad is not None:
        right = f"leave out the control character {bad!r}"
        raise BadInput(Fault("text", _around(page, bad), right))
    return page.encode()


def _around(page: str, bad: str) -> str:
    at = page.index(bad)
    return repr(page[max(0, at - 20) : at + 20])


class _Drawn:
    """Drawings as elements of the page."""

    def picture(self, drawing: Drawing) -> Markup:
        """A drawing with its title and description, for those who cannot see it."""
        from markupsafe import Markup

        from wadforms.templates.svg import svg

        text = svg(drawing).decode().split("?>", 1)[1].strip()
        return Markup(text.replace("<svg ", '<svg role="img" ', 1))  # noqa: S704 - svg escapes

    def mark(self, verdict: str) -> Markup:
        """The mark of a verdict, whose word stands beside it."""
        from wadforms.templates.card_picture import mark

        return self.picture(mark(verdict))
