"""The places of the page, in the order in which they are shown."""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Final

from wadforms.page.visit import Place

if TYPE_CHECKING:
    from collections.abc import Callable

    from wadforms.page.visit import Visit


def _built_by(module: str) -> Callable[[Visit], None]:
    """What builds a place: `build` of a module that is loaded when somebody first comes there."""

    def build(visit: Visit) -> None:
        import_module(f"wadforms.page.{module}").build(visit)

    return build


PLACES: Final[tuple[Place, ...]] = (
    Place(
        "/",
        "One pot",
        "Say what stands on the wads; the answer follows as you type.",
        _built_by("one_pot"),
    ),
    Place(
        "/shapes",
        "Shapes",
        "Take one, change its sizes, or bring a drawing of your own.",
        _built_by("shapes"),
    ),
    Place(
        "/make",
        "Make",
        "Say which shape and what to make it by; every file is proven.",
        _built_by("make"),
    ),
    Place(
        "/firing",
        "Firing",
        "List what is fired; wads are chosen for all of it, with moulds, batch and crew sheet.",
        _built_by("firing"),
    ),
    Place(
        "/mixes",
        "Mixes",
        "Test your own clay; what you measure replaces what is assumed, with its spread.",
        _built_by("mixes"),
    ),
)
"""A new place is a module with `build(visit)`, and an entry here."""
