"""One visitor at one place of the page, and what all visitors share."""

from __future__ import annotations

import asyncio
import secrets
from collections import Counter, OrderedDict
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final, NamedTuple

from wadforms.page.jobs import Job, Jobs
from wadforms.page.measures import IMPERIAL, METRIC, shown, shown_in_picture
from wadforms.page.quiet import Quiet
from wadforms.page.work import Work

if TYPE_CHECKING:
    from nicegui.element import Element

_VIEWS: Final = 60  # parts that can be looked at at once, of all visitors
_LINGER: Final = 5.0  # seconds after the last tab is closed until its work is dropped
_QUIET: Final = 0.7  # seconds without a change before it is read out
_PREFERENCES: Final = "page"
_UNITS: Final = "units="


class Site:
    """What all visitors share.

    Parameters
    ----------
    root : Path
        A folder for what is made; it goes when the page ends.
    kept : Path
        Where visitors' work is kept.
    """

    def __init__(self, root: Path, kept: Path) -> None:
        self.jobs = Jobs(root)
        self.kept = kept
        self._open: Counter[str] = Counter()
        self._views: OrderedDict[tuple[str, str], bytes] = OrderedDict()

    def work(self, visitor: str) -> Work:
        """What a visitor keeps."""
        return Work.of(visitor, self.kept)

    def put_view(self, visitor: str, data: bytes) -> str:
        """Keep triangles for a while, to be looked at by this visitor; gives their address."""
        name = secrets.token_urlsafe(12)
        self._views[visitor, name] = data
        while len(self._views) > _VIEWS:
            self._views.popitem(last=False)
        return f"/view/{name}.stl"

    def view(self, visitor: str, name: str) -> bytes | None:
        """The triangles that this visitor may look at."""
        return self._views.get((visitor, name))

    def came(self, visitor: str) -> None:
        """A tab was opened."""
        self._open[visitor] += 1

    def went(self, visitor: str) -> None:
        """A tab was closed; with the last one a visitor's unfinished work and files go."""
        self._open[visitor] -= 1
        if self._open[visitor] <= 0:
            del self._open[visitor]
            asyncio.get_running_loop().call_later(_LINGER, self._drop, visitor)

    def _drop(self, visitor: str) -> None:
        if visitor not in self._open:
            self.jobs.drop_all(visitor)
            for key in [key for key in self._views if key[0] == visitor]:
                del self._views[key]


class Visit:
    """One tab of a visitor.

    Parameters
    ----------
    site : Site
        Shared by all.
    visitor : str
        The visitor's token.
    asked : dict
        What stands in the address.
    at_home : bool
        Whether they sit at the machine that runs the page, and may know its folders.
    """

    def __init__(
        self, site: Site, visitor: str, asked: dict[str, str], *, at_home: bool = True
    ) -> None:
        self.site = site
        self.visitor = visitor
        self.asked = asked
        self.at_home = at_home
        self.work = site.work(visitor)
        self.system = METRIC
        for line in self.work.kept(_PREFERENCES):
            if line == f"{_UNITS}{IMPERIAL}":
                self.system = IMPERIAL
        self._redraw: list[Callable[[], Any]] = []
        self._heard: Element | None = None
        self._saying = Quiet(_QUIET, self._say)

    def shown(self, text: str) -> str:
        """Words, with quantities in the visitor's units."""
        return shown(text, self.system)

    def at_terminal(self, kept: str) -> str:
        """How to run what is kept at a terminal; empty for a visitor who has none there."""
        return f"The same at a terminal: wadforms @{self.work.file(kept)}" if self.at_home else ""

    def picture(self, svg: str) -> str:
        """A picture, with quantities in the visitor's units."""
        return shown_in_picture(svg, self.system)

    def on_units(self, redraw: Callable[[], Any]) -> None:
        """Have something drawn again when the units change."""
        self._redraw.append(redraw)

    def use(self, system: str) -> None:
        """Show quantities in another system; what is stored stays as it is."""
        self.system = system
        self.work.keep(_PREFERENCES, [f"{_UNITS}{system}"])
        for redraw in self._redraw:
            redraw()

    def listen_at(self, heard: Element) -> None:
        """Where words go that are read out."""
        self._heard = heard

    def say(self, words: str) -> None:
        """Have words read out, once nothing has changed for a moment."""
        self._saying.later(words)

    def _say(self, words: str) -> None:
        if self._heard is not None and self._heard._text != words:
            self._heard._text = words
            self._heard.update()

    def start(self, place: str, arguments: Sequence[str], changed: Callable[[], None]) -> Job:
        """Start slow work of this visitor; see `Jobs.start`."""
        return self.site.jobs.start(self.visitor, place, arguments, changed)


class Place(NamedTuple):
    """A place of the page.

    Parameters
    ----------
    path, title : str
        Its address and what it is called.
    summary : str
        What is done there, in a sentence.
    build : callable
        Puts its parts onto the page, for a visit.
    """

    path: str
    title: str
    summary: str
    build: Callable[[Visit], None]
