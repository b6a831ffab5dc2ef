"""Rows of an invented kiln, in few words, for the tests of what stands on what."""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from typing import Any

from wadforms.firing.rows import Cones, FiringList, Lid, Posts, Row, Shelf, Ware
from wadforms.geometry.contour import Point
from wadforms.setting.feet import FlatFoot, GalleryFoot, RingFoot
from wadforms.setting.limits import PLACES

SHELTERED = PLACES["sheltered"]
THREE: tuple[Point, ...] = ((50.0, 50.0), (550.0, 50.0), (300.0, 400.0))
FOUR: tuple[Point, ...] = ((50.0, 50.0), (550.0, 50.0), (550.0, 400.0), (50.0, 400.0))

_numbers: Iterator[int] = itertools.count(2)


def row(name: str, count: int, on: str | None, more: dict[str, Any]) -> dict[str, Any]:
    """What every row needs; its number grows from row to row."""
    common = {"row": next(_numbers), "name": name, "count": count, "stands_on": on}
    return {"place": SHELTERED} | common | more


def ware(name: str, count: int, on: str | None, mass: float, **more: Any) -> Ware:
    """Ware on a flat foot of 100 mm where no other is given."""
    return Ware(**row(name, count, on, {"mass": mass, "foot": FlatFoot(100.0)} | more))


def lid(mass: float, diameter: float = 117.0) -> Lid:
    """A lid on a ledge of 7 mm."""
    return Lid(mass=mass, gallery=GalleryFoot(diameter, 7.0))


def shelf(name: str, count: int, on: str | None, mass: float, **more: Any) -> Shelf:
    """A shelf of 600 by 450 mm on three posts, loaded in its middle."""
    usual = {"length": 600.0, "width": 450.0, "posts_at": THREE, "load_at": (300.0, 225.0)}
    return Shelf(**row(name, count, on, usual | {"mass": mass} | more))


def posts(name: str, count: int, on: str | None, mass: float, **more: Any) -> Posts:
    """Round posts of 60 mm, 200 mm high where nothing else is given."""
    return Posts(
        **row(name, count, on, {"mass": mass, "height": 200.0, "foot": FlatFoot(60.0)} | more)
    )


def cones(name: str, count: int, on: str | None) -> Cones:
    """Sets of cones."""
    return Cones(**row(name, count, on, {}))


def firing(*rows: Row) -> FiringList:
    """A list of rows."""
    return FiringList(
        where="kiln.csv",
        wares=tuple(r for r in rows if isinstance(r, Ware)),
        shelves=tuple(r for r in rows if isinstance(r, Shelf)),
        posts=tuple(r for r in rows if isinstance(r, Posts)),
        cones=tuple(r for r in rows if isinstance(r, Cones)),
    )


def three_levels() -> FiringList:
    """Two bays of three shelves, one row of long posts for the two upper levels.

    Plates in stacks of five below, lidded jars with a bowl on each lid in the middle, mugs on top.
    """
    return firing(
        shelf("Low shelf", 2, "Short post", 9500.0, level=1, load_at=(200.0, 155.0)),
        shelf("Middle shelf", 2, "Long post", 8000.0, level=2, load_at=(300.0, 190.0)),
        shelf("Top shelf", 2, "Long post", 7000.0, level=3),
        posts("Short post", 6, "floor", 1200.0, height=150.0),
        posts("Long post", 12, None, 2100.0, height=300.0),
        ware("Plate", 20, "Low shelf", 900.0, foot=RingFoot(160.0, 8.0), height=25.0, stack=5),
        ware(
            "Jar",
            4,
            "Middle shelf",
            2400.0,
            foot=FlatFoot(120.0),
            height=210.0,
            lid=lid(600.0),
        ),
        ware("Bowl", 4, "Jar", 700.0, foot=RingFoot(70.0, 6.0), height=80.0, centre_height=42.0),
        ware("Mug", 12, "Top shelf", 450.0, foot=RingFoot(70.0, 6.0), height=95.0),
        cones("Cones", 2, "Top shelf"),
        ware("Draw ring", 6, "floor", 60.0, kind="draw ring", height=15.0),
        ware("Bottle", 1, "floor", 1600.0, height=240.0),
    )
