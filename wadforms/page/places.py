"""The places of the page, in the order in which they are shown."""

from __future__ import annotations

from typing import Final

from wadforms.page import firing, make, one_pot, shapes
from wadforms.page.visit import Place

PLACES: Final[tuple[Place, ...]] = (one_pot.PLACE, shapes.PLACE, make.PLACE, firing.PLACE)
"""A new place is a module with a `PLACE`, and its name here."""
