"""The fields of a pot: what they are called, what can be chosen, and which belong together."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from wadforms.cli.options import ClayOptions
from wadforms.cli.reading import WARES
from wadforms.errors import WadformsError
from wadforms.page.size_words import HINT as SIZES_HINT
from wadforms.setting.limits import PLACES, SHEAR

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

LABELS: Final = {
    "weight": "Weight of the pot", "foot_kind": "Kind of foot", "foot": "Diameter of the foot",
    "foot_width": "Width of its ring", "belly": "Diameter of the belly", "height": "Height",
    "place": "Place in the kiln", "body": "How the wads are set", "wad": "Shape of the wads",
    "how_many": "How many", "radius": "On a circle of radius", "turn": "Each turned by",
    "rail_angle": "Rails touch the belly at", "at_most": "At most so many wads",
    "name": "Name of the pot", "lid": "Weight of its lid", "stacked": "Weight stacked on it",
    "centre_height": "Height of its centre of gravity", "off_x": "Centre off to the right",
    "off_y": "Centre off to the back", "share": "Share of the weight", "ware": "Ware",
    "inner_ring": "Diameter of a further ring", "mix": "Mix", "feel": "How the mix feels",
    "measured": "Measured limit", "with_": "Sizes changed", "foot_outline": "Drawing of the foot",
    "circle": "Circles", "at": "Places", "base_thickness": "Thickness of the base",
}  # fmt: skip


def choices() -> dict[str, list[tuple[str, str]]]:
    """What can be chosen, in words; empty keeps what the command line takes unasked."""
    return {
        "foot_kind": [
            ("", "flat, or a ring if it has a width"),
            ("ring", "ring"),
            ("flat", "flat"),
            ("gallery", "gallery: a lid in its pot"),
            ("round", "round bottom"),
            ("side", "the pot lies on its side"),
        ],
        "place": [
            ("" if name == ClayOptions._field_defaults["place"] else name, f"{name}: {one.summary}")
            for name, one in PLACES.items()
        ],
        "body": [
            ("", "as the shape allows"),
            ("wet", "wet: soft when set"),
            ("dry", "dry: shaped and dried first"),
            ("solid", "solid: dense clay, biscuit-fired"),
        ],
        "feel": [
            ("" if name == ClayOptions._field_defaults["feel"] else name, name) for name in SHEAR
        ],
        "ware": [("", "told from height and foot"), *((name, name) for name in WARES)],
    }


HINTS: Final = {
    "weight": "35 kg, 850 g, 5 lb 4 oz", "foot": "240 mm, 2,4 cm, 4 in", "foot_width": "5 mm",
    "height": "needed to judge tipping", "belly": "130 mm", "radius": "where the foot bears best",
    "how_many": "3 if left empty", "turn": "degrees", "at_most": "as many as it takes",
    "rail_angle": "40 degrees", "share": "100 %", "centre_height": "half the height",
    "with_": SIZES_HINT,
    "measured": "at-heat=80kPa, cold=, point=, shear=",
}  # fmt: skip

ALWAYS: Final = ("weight", "foot_kind", "foot", "foot_width", "belly", "height", "place", "body")
MORE: Final = (
    "name", "lid", "stacked", "centre_height", "off_x", "off_y", "share", "inner_ring", "ware",
    "mix", "feel", "measured",
)  # fmt: skip
WADS: Final = ("wad", "how_many", "radius", "turn", "rail_angle", "with_")
ONLY_FOR: Final = {
    "foot": ("", "ring", "flat", "gallery"), "foot_width": ("", "ring", "gallery"),
    "belly": ("round", "side"), "rail_angle": ("side",), "inner_ring": ("", "ring"),
}  # fmt: skip
WORDS: Final = ("name", "wad", "mix", "with_", "measured")


def shape_options(folders: Sequence[Path]) -> list[tuple[str, str]]:
    """The shapes that can stand under a pot, with what each is."""
    from wadforms.catalogue import shapes
    from wadforms.families import families

    try:
        known = shapes(folders)
    except WadformsError:
        known = shapes()
    named = [(shape.name, shape.summary) for shape in known.values()]
    return named + [(f.name, f.summary) for f in families().values() if f.name != "custom"]


def waiting(missing: Sequence[str], elsewhere: Sequence[str]) -> list[str]:
    """What is said where there is no answer yet.

    Parameters
    ----------
    missing : sequence of str
        Fields that must be filled first.
    elsewhere : sequence of str
        What is wrong.

    Examples
    --------
    >>> waiting(["foot", "wad"], [])
    ['Still needed: Diameter of the foot.']
    """
    if elsewhere:
        return [f"✕ {words}" for words in elsewhere]
    needed = [LABELS[name] for name in missing if name != "wad"]
    if needed:
        return [f"Still needed: {', '.join(needed)}."]
    return ["Now the wads: press “Choose for me”, or say which."]


def narrowed(body: str) -> tuple[str, ...]:
    """What is told of a choice among the wads of one body only.

    Examples
    --------
    >>> narrowed("wet")
    ('only wads set wet were tried, as “How the wads are set” says',)
    >>> narrowed("")
    ()
    """
    return (f"only wads set {body} were tried, as “{LABELS['body']}” says",) if body else ()
