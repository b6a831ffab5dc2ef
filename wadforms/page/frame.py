"""What every place of the page stands in: the way to the others, units, and what is read out."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Final

from nicegui import ui

from wadforms.page.inputs import button, tagged
from wadforms.page.measures import IMPERIAL, METRIC
from wadforms.page.visit import Place, Visit

if TYPE_CHECKING:
    from nicegui.element import Element

LOOK: Final = Path(__file__).with_name("look.css")

_CAUTION: Final = (
    "Verdicts rest on assumed limits until you test your own mix. Silica and wood dust harm the "
    "lungs: mix wet, clean up wet. Lift with help. Local codes and licensed practice come first."
)


@contextmanager
def frame(visit: Visit, places: Sequence[Place], here: Place) -> Iterator[None]:
    """Build the frame; what is built within it is the place itself.

    Parameters
    ----------
    visit : Visit
        Whose tab it is.
    places : sequence of Place
        All of them.
    here : Place
        The one that is shown.
    """
    ui.add_css(LOOK.read_text(encoding="utf-8"))
    tagged("a", "Skip to the main part", classes="skip", href="#place")
    with ui.element("header").classes("top"):
        tagged("span", "wadforms", classes="name")
        nav = ui.element("nav")
        nav._props["aria-label"] = "Places"
        with nav:
            for place in places:
                link = tagged("a", place.title, href=place.path)
                if place is here:
                    link._props["aria-current"] = "page"
        _units(visit)
    with tagged("main", id="place"):
        tagged("h1", here.title)
        tagged("p", here.summary)
        yield
    with ui.element("footer"):
        tagged("p", _CAUTION)
        where = f"in {visit.work.folder}" if visit.at_home else "where the page is run"
        tagged("p", f"Your work is kept {where}")
    heard = tagged("div", classes="heard", role="status")
    heard._props["aria-live"] = "polite"
    visit.listen_at(heard)


def _units(visit: Visit) -> None:
    """Put the two buttons for units."""
    group = tagged("div", classes="row", role="group")
    group._props["aria-label"] = "Show quantities in"
    buttons: dict[str, Element] = {}

    def use(system: str) -> None:
        visit.use(system)
        for name, one in buttons.items():
            one._props["aria-pressed"] = "true" if name == system else "false"
            one.classes(add="main") if name == system else one.classes(remove="main")
            one.update()

    with group:
        for system, words in ((METRIC, "mm · kg"), (IMPERIAL, "in · lb")):
            made = button(words, lambda system=system: use(system), main=system == visit.system)  # type: ignore[misc]
            made._props["aria-pressed"] = "true" if system == visit.system else "false"
            made._props["aria-label"] = f"{words}, {system}"
            buttons[system] = made
