"""What the laws of the statics are tried on: wads, feet, weights and settings.

Sizes of wads come from the bounds that the families declare; sizes of pots from the smallest cup
to the largest jar that a person sets alone.
"""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any, Final

from hypothesis import assume
from hypothesis import strategies as st

from wadforms.families.base import Family
from wadforms.families.disk import Disk
from wadforms.families.pad import Pad
from wadforms.geometry.contour import Contour, Point
from wadforms.geometry.outline import Outline
from wadforms.setting.arrangement import Arrangement, Spot, circle
from wadforms.setting.feet import FlatFoot, OutlineFoot, PlaneFoot, RingFoot
from wadforms.setting.limits import PLACES, SHEAR
from wadforms.setting.mixes import mix
from wadforms.setting.pot import Pot, Setting

SMALLEST_RADIUS: Final = 15.0
LARGEST_RADIUS: Final = 150.0
masses = st.floats(50.0, 60_000.0)
angles = st.floats(-180.0, 180.0)
factors = st.floats(1.01, 4.0)


def within(family: type[Family], name: str, high: float = math.inf) -> st.SearchStrategy[float]:
    """Values of a parameter over its declared range, or up to `high` if that is less."""
    (parameter,) = [p for p in family.parameters() if p.name == name]
    assume(high >= parameter.low)
    return st.floats(parameter.low, min(parameter.high, high))


@st.composite
def disks(draw: st.DrawFn, room: float = math.inf) -> Disk:
    """A disk whose base is at most `room` wide."""
    height = draw(within(Disk, "height"))
    draft = draw(within(Disk, "draft"))
    spread = 2 * height * math.tan(math.radians(draft))
    return Disk(diameter=draw(within(Disk, "diameter", room - spread)), height=height, draft=draft)


@st.composite
def pads(draw: st.DrawFn) -> Pad:
    """A rectangle with sharp corners and upright walls."""
    return Pad(
        length=draw(within(Pad, "length")),
        width=draw(within(Pad, "width").filter(lambda width: width >= 4.0)),  # 0 is a square
        height=draw(within(Pad, "height")),
        draft=0.0,
        corner=0.0,
    )


@st.composite
def feet(draw: st.DrawFn, radius: float) -> PlaneFoot:
    """A foot that wads on a circle of this radius [mm] reach."""
    width = draw(st.floats(2.0, min(25.0, radius)))
    if draw(st.booleans()):
        return RingFoot(2 * radius + width, width)
    return FlatFoot(2 * radius + width)


@st.composite
def settings(draw: st.DrawFn, least: int = 3, off_centre: bool = True) -> Setting:
    """Equal disks on a circle under a pot whose weight they hold."""
    count = draw(st.integers(least, 9))
    radius = draw(st.floats(SMALLEST_RADIUS, LARGEST_RADIUS))
    disk = draw(disks(2 * radius * math.sin(math.pi / count) - 0.01))
    spots = tuple(circle(count, radius, first=draw(angles)))
    share = draw(st.floats(0.0, 0.6)) if off_centre else 0.0
    away, toward = share * radius * math.cos(math.pi / count), math.radians(draw(angles))
    pot = Pot(
        mass=draw(masses),
        foot=draw(feet(radius)),
        centre_height=draw(st.floats(5.0, 600.0)),
        centre=(away * math.cos(toward), away * math.sin(toward)),
    )
    return Setting(
        pot=pot,
        arrangement=Arrangement(disk.piece(), spots),
        body=draw(st.sampled_from(("wet", "dry"))),
        mix=mix(draw(st.sampled_from(("open", "dense")))),
        place=PLACES[draw(st.sampled_from(sorted(PLACES)))],
        shear=SHEAR[draw(st.sampled_from(sorted(SHEAR)))],
    )


@st.composite
def supports(draw: st.DrawFn, least: int = 3) -> list[Point]:
    """Scattered supports, no two of them nearly in one place."""
    place = st.tuples(st.integers(-90, 90), st.integers(-90, 90))
    points = draw(st.lists(place, min_size=least, max_size=9, unique=True))
    return [(float(x), float(y)) for x, y in points]


@st.composite
def balanced(draw: st.DrawFn) -> tuple[list[Point], Point]:
    """Supports that span an area, and a weight between them."""
    points = draw(supports())
    (ax, ay), (bx, by) = points[:2]
    spanned = max(abs((bx - ax) * (y - ay) - (by - ay) * (x - ax)) for x, y in points)
    assume(spanned > 100.0)
    parts = [draw(st.floats(0.05, 1.0)) for _ in points]
    x, y = (sum(w * p[i] for w, p in zip(parts, points, strict=True)) / sum(parts) for i in (0, 1))
    return points, (x, y)


def turned(setting: Setting, degrees: float) -> Setting:
    """The whole setting turned about its middle, foot and weight too."""
    c, s = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))

    def move(x: float, y: float) -> Point:
        return c * x - s * y, s * x + c * y

    old = setting.arrangement
    spots = tuple(Spot(*move(w.x, w.y), w.turn + degrees) for w in old.spots)
    assert isinstance(setting.pot.foot, OutlineFoot)
    foot = OutlineFoot(setting.pot.foot.outline.turned(degrees))
    pot = replace(setting.pot, foot=foot, centre=move(*setting.pot.centre))
    return replace(setting, pot=pot, arrangement=Arrangement(old.piece, spots))


def on_outline(setting: Setting) -> Setting:
    """The same with its foot said as an outline, which can be turned."""
    foot = setting.pot.foot
    assert isinstance(foot, PlaneFoot)
    (outline,) = foot.outlines
    return replace(setting, pot=replace(setting.pot, foot=OutlineFoot(outline)))


def mirrored(setting: Setting) -> Setting:
    """The setting seen in a mirror that stands on the y axis; wads and feet here look the same."""
    old = setting.arrangement
    spots = tuple(Spot(-w.x, w.y, -w.turn) for w in old.spots)
    pot = replace(setting.pot, centre=(-setting.pot.centre[0], setting.pot.centre[1]))
    return replace(setting, pot=pot, arrangement=Arrangement(old.piece, spots))


def enlarged(setting: Setting, k: float) -> Setting:
    """All lengths times `k`, the mass times `k²`: the pressures stay."""
    old, pot = setting.arrangement, setting.pot
    sizes: dict[str, Any] = {"diameter": k * pot.foot.diameter}  # type: ignore[attr-defined]
    if isinstance(pot.foot, RingFoot):
        sizes["width"] = k * pot.foot.width
    larger = replace(
        pot,
        mass=k * k * pot.mass,
        foot=replace(pot.foot, **sizes),
        centre_height=k * (pot.centre_height or 0.0),
        centre=(k * pot.centre[0], k * pot.centre[1]),
    )
    spots = tuple(Spot(k * w.x, k * w.y, w.turn) for w in old.spots)
    return replace(setting, pot=larger, arrangement=Arrangement(old.piece.scaled(k), spots))


def ell(width: float) -> Outline:
    """A right-angled foot, 120 × 90 mm, legs of this width."""
    points = [(0.0, 0.0), (120.0, 0.0), (120.0, width), (width, width), (width, 90.0), (0.0, 90.0)]
    return Outline(Contour.polygon([(x - 30.0, y - 25.0) for x, y in points]))
