"""The columns of a firing list, and which kinds of row have a use for which."""

from __future__ import annotations

from typing import Final

from wadforms.families.base import BODIES
from wadforms.firing.rows import CONES, DRAW_RING, FLOOR, KINDS, POST, POT, SHELF
from wadforms.firing.tables import Column
from wadforms.setting.limits import PLACES

BARE: Final = "none"
"""What stands in `body` where something is meant to stand without wads."""

FOOT_KINDS: Final = ("flat", "ring", "square", "round", "side", "outline")
"""How a foot may be shaped."""

MARKS: Final = {"pale": "wet", "coloured": "dry", "colored": "dry"}
"""Marks that a user may ask for, and how wads that leave them are set."""

COLUMNS: Final = (
    Column("name", "text", "what it is", required=True),
    Column("count", "count", "how many of it", required=True),
    Column("kind", "text", f"what the row is about: {', '.join(KINDS)}; pot where empty"),
    Column("weight", "g", "of one, without its lid, with its unit"),
    Column("foot kind", "text", f"{', '.join(FOOT_KINDS)}; told from the others where empty"),
    Column(
        "foot", "mm", "diameter of the foot, of a round bottom's sphere, of a belly on its side"
    ),
    Column("foot width", "mm", "of a foot ring; empty for a flat foot"),
    Column("foot outline", "text", "a drawing of the foot, in a file beside the list"),
    Column("height", "mm", "of the pot or post"),
    Column("centre height", "mm", "of the centre of gravity; half the height where empty"),
    Column("centre off", "mm", "how far the centre of gravity is from the foot's middle"),
    Column("lid weight", "g", "of a lid that is fired on its pot"),
    Column("gallery diameter", "mm", "of the wall round the ledge that the lid sits on"),
    Column("gallery width", "mm", "of that ledge"),
    Column("stack", "count", "how many stand in one stack, each on the one below; 1 where empty"),
    Column("stands on", "text", f"the name of another row, or {FLOOR!r}"),
    Column("level", "count", "number of the shelf, from the floor up"),
    Column("place", "text", f"where it stands: {', '.join(PLACES)}; sheltered where empty"),
    Column("mark", "text", "the mark that its wads leave: pale, coloured, or a shape's name"),
    Column("body", "text", f"how the wads under it are set: {', '.join(BODIES)}; or {BARE}"),
    Column("shape", "text", "the shape under it, where it must be that one"),
    Column("length", "mm", "of a shelf; of a pot on its side, how far it bears along its axis"),
    Column("width", "mm", "of a shelf"),
    Column("posts at", "mm", "where posts hold a shelf, from one corner: 40 40; 560 40; 300 410"),
    Column("load at", "mm", "where a shelf's load acts, from the same corner; its middle if empty"),
)
"""The columns of a firing list."""

LID: Final = ("lid weight", "gallery diameter", "gallery width")
"""What a lid needs, all or none."""

FOOT: Final = ("foot kind", "foot", "foot width", "foot outline")

_EVERY: Final = ("name", "count", "kind", "stands on", "place", "body", "shape")
_WARE: Final = (
    *(*_EVERY, "weight", *FOOT, "height", "centre height", "centre off", *LID),
    *("stack", "level", "mark", "length"),
)

USED: Final = {
    POT: _WARE,
    DRAW_RING: _WARE,
    SHELF: (*_EVERY, "weight", "length", "width", "posts at", "load at", "level"),
    POST: (*_EVERY, "weight", *FOOT, "height"),
    CONES: (*_EVERY, "level"),
}
"""For each kind of row, the columns that it may fill in."""

NEEDED: Final = {
    POT: ("weight",),
    DRAW_RING: ("weight",),
    SHELF: ("weight", "length", "width"),
    POST: ("weight", "height"),
    CONES: (),
}
"""For each kind, what it must fill in beside name, count and foot."""

FOOT_NEEDS: Final = {
    **dict.fromkeys(("flat", "square", "round", "side"), ("foot",)),
    "ring": ("foot", "foot width"),
    "outline": ("foot outline",),
}
"""For each kind of foot, what tells its size."""
