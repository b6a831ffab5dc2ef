"""What a picture of a setting shows, gathered from the answer of a check."""

from __future__ import annotations

import math
from dataclasses import dataclass

from wadforms import units
from wadforms.families.base import Piece
from wadforms.geometry.body import Trough
from wadforms.geometry.contour import Point
from wadforms.geometry.outline import Outline
from wadforms.setting.arrangement import Spot
from wadforms.setting.assessment import Assessment
from wadforms.setting.feet import PlaneFoot, RoundFoot, SideFoot
from wadforms.setting.pot import Setting
from wadforms.setting.sides import axis_of
from wadforms.templates.shading import outlines_of


@dataclass(frozen=True, slots=True)
class Row:
    """One value beside its limit, as words, and the part of the limit that is used."""

    name: str
    value: str
    limit: str  # "at most 60 kPa"
    used: float
    verdict: str


@dataclass(frozen=True, slots=True)
class Lean:
    """How the pot would tip.

    Parameters
    ----------
    angle : float
        The tipping angle [deg].
    start, end : (float, float)
        The edge it would tip over, in plan [mm].
    centre : (float, float, float)
        Centre of gravity, the height above the shelf [mm].
    pivot_level : float
        Height of that edge above the shelf [mm].
    """

    angle: float
    start: Point
    end: Point
    centre: tuple[float, float, float]
    pivot_level: float

    @property
    def direction(self) -> Point:
        """Unit vector in plan, square to the edge, the way it would tip."""
        dx, dy = self.end[0] - self.start[0], self.end[1] - self.start[1]
        reach = math.hypot(dx, dy)
        return dy / reach, -dx / reach

    @property
    def reach(self) -> float:
        """From the centre of gravity to the edge, in plan [mm]; negative where it is beyond."""
        ux, uy = self.direction
        return (self.start[0] - self.centre[0]) * ux + (self.start[1] - self.centre[1]) * uy


@dataclass(frozen=True, slots=True, kw_only=True)
class SettingView:
    """One checked setting, ready to be drawn; plan coordinates from the pot's middle [mm].

    Parameters
    ----------
    title, subtitle : str
        What it is.
    shape, body, kind : str
        Name of the wads' shape, how they are set, and what kind of foot stands on them.
    foot : tuple of Outline
        Where a plane foot can bear; empty for a curved pot.
    ball_radius : float or None
        Radius of a round bottom [mm].
    belly_radius : float or None
        Radius of a pot that lies on its side [mm].
    pot_bottom : float
        Height of the pot's lowest point above the shelf [mm].
    pot_height : float or None
        Of the pot itself [mm].
    piece : Piece
        The wad.
    spots : tuple of Spot
        Where the wads are.
    patches : tuple of Outline
        Where wads and foot meet.
    touches : tuple of (float, float)
        Where a curved pot is held.
    support : tuple of (float, float)
        The support polygon.
    centre : (float, float)
        Of gravity, in plan.
    lean : Lean or None
        None where the height is not known.
    across : (float, float)
        Unit vector in plan that points right in the side view.
    spacing : float or None
        Widest distance between neighbours along their circle [mm].
    facts : tuple of (str, str)
        Numbers that have no limit, each with its name.
    rows : tuple of Row
        Numbers beside their limits.
    verdict, reason : str
        In words.
    remarks : tuple of str
        What the user should know.
    """

    title: str
    subtitle: str
    shape: str
    body: str
    kind: str
    foot: tuple[Outline, ...]
    ball_radius: float | None
    belly_radius: float | None
    pot_bottom: float
    pot_height: float | None
    piece: Piece
    spots: tuple[Spot, ...]
    patches: tuple[Outline, ...]
    touches: tuple[Point, ...]
    support: tuple[Point, ...]
    centre: Point
    lean: Lean | None
    across: Point
    spacing: float | None
    facts: tuple[tuple[str, str], ...]
    rows: tuple[Row, ...]
    verdict: str
    reason: str
    remarks: tuple[str, ...]

    @property
    def reach(self) -> float:
        """From the middle to the farthest thing in plan [mm]."""
        shown = [*self.foot]
        shown += [spot.place(self.piece.body.base) for spot in self.spots]
        corners = [abs(v) for outline in shown for v in outline.bounds]
        return max(*corners, self.ball_radius or 0.0, self.belly_radius or 0.0)


def setting_view(setting: Setting, answer: Assessment, *, title: str, shape: str) -> SettingView:
    """Gather what a picture of a setting shows.

    Parameters
    ----------
    setting : Setting
        What was asked.
    answer : Assessment
        What the check said.
    title : str
        Name of the pot.
    shape : str
        Name of the wads' shape.
    """
    pot, foot = setting.pot, setting.pot.foot
    wads = setting.arrangement
    ball = foot.diameter / 2 if isinstance(foot, RoundFoot) else None
    belly = foot.diameter / 2 if isinstance(foot, SideFoot) else None
    radii = {round(spot.radius, 2) for spot in wads.spots}
    where = f" on a circle of radius {units.show(max(radii), 'mm')}" if len(radii) == 1 else ""
    if len(wads.spots) == 1:
        where = ""
    bottom = _bottom(setting, answer)
    lean = None if answer.centre_height is None else _lean(setting, answer, bottom)
    facts = [
        ("load", f"{units.show(pot.mass * pot.share, 'g')}, {_newton(answer.load)}"),
        ("contact area as set", units.show(answer.contact_area, "mm2")),
        ("at top heat, after shrinking", units.show(answer.fired_contact_area, "mm2")),
    ]
    return SettingView(
        title=title,
        subtitle=f"{len(wads.spots)} × {shape}{where}, {setting.body}, mix {setting.mix.name!r}",
        shape=shape,
        body=setting.body,
        kind=foot.kind,
        foot=foot.outlines if isinstance(foot, PlaneFoot) else (),
        ball_radius=ball,
        belly_radius=belly,
        pot_bottom=bottom,
        pot_height=pot.height,
        piece=wads.piece,
        spots=wads.spots,
        patches=_patches(setting, answer),
        touches=_touches(setting, answer),
        support=answer.support,
        centre=pot.centre,
        lean=lean,
        across=lean.direction if lean else _across(setting),
        spacing=answer.spacing,
        facts=tuple(facts),
        rows=tuple(
            Row(
                check.name,
                units.show(check.value, check.limit.unit),
                check.bound,
                check.used,
                check.verdict,
            )
            for check in answer.checks
        ),
        verdict=answer.verdict,
        reason=answer.reason,
        remarks=_remarks(answer),
    )


def _newton(force: float) -> str:
    """A force with three digits.

    Examples
    --------
    >>> _newton(3.7265), _newton(1234.5)
    ('3.73 N', '1230 N')
    """
    return f"{float(f'{force:.3g}'):g} N"


def _remarks(answer: Assessment) -> tuple[str, ...]:
    return tuple(dict.fromkeys([*answer.mends, *answer.notes]))


def _patches(setting: Setting, answer: Assessment) -> tuple[Outline, ...]:
    """Where wads and pot meet over an area, a cradle's hollow included."""
    piece = setting.arrangement.piece
    if piece.hollow_radius and isinstance(setting.pot.foot, SideFoot):
        return tuple(s.place(face) for s in setting.arrangement.spots for face in piece.faces)
    return tuple(o for region in answer.patches for o in outlines_of(region))


def _touches(setting: Setting, answer: Assessment) -> tuple[Point, ...]:
    """Where a curved pot is held in points."""
    if isinstance(setting.pot.foot, PlaneFoot) or setting.arrangement.piece.hollow_radius:
        return ()
    return tuple((load.x, load.y) for load in answer.wads)


def _bottom(setting: Setting, answer: Assessment) -> float:
    """How high above the shelf the pot's lowest point hangs [mm]."""
    piece = setting.arrangement.piece
    if "rise_mm" in answer.extra:
        return piece.height - answer.extra["rise_mm"]
    troughs = [p for p in piece.body.pockets if isinstance(p, Trough)]
    foot = setting.pot.foot
    if troughs and isinstance(foot, SideFoot):
        trough = troughs[0]
        if foot.diameter / 2 <= trough.radius:
            return trough.z - trough.depth
        # A belly too wide for the hollow rides on its lips.
        radius, half = foot.diameter / 2, min(trough.half_width, foot.diameter / 2)
        return trough.z - (radius - math.sqrt(radius**2 - half**2))
    return piece.height


def _across(setting: Setting) -> Point:
    """The line across the axis of a pot on its side; +x otherwise."""
    if not isinstance(setting.pot.foot, SideFoot):
        return 1.0, 0.0
    x, y = axis_of(setting.arrangement).across
    cx, cy = setting.pot.centre
    # It rolls to the side on which its weight lies.
    toward = -1.0 if x * cx + y * cy < 0.0 else 1.0
    return toward * x, toward * y


def _lean(setting: Setting, answer: Assessment, bottom: float) -> Lean | None:
    """The edge that the pot would tip over first; of equals the one lowest in the plan."""
    assert answer.centre_height is not None  # noqa: S101 - narrows the type
    assert answer.tipping_angle is not None  # noqa: S101
    foot, (x, y) = setting.pot.foot, setting.pot.centre
    level = 0.0 if isinstance(foot, PlaneFoot) else setting.arrangement.piece.height
    height = answer.centre_height
    if isinstance(foot, SideFoot):
        radius = foot.diameter / 2
        height = bottom + radius
        angle = answer.extra["tipping_across_deg"]
        half = (height - level) * math.tan(math.radians(angle))
        ux, uy = _across(setting)
        middle = (x + half * ux, y + half * uy)
        start, end = (middle[0] + uy, middle[1] - ux), (middle[0] - uy, middle[1] + ux)
        return Lean(angle, start, end, (x, y, height), level)
    support = answer.support
    if len(support) < 3:
        return None
    edges = list(zip(support, (*support[1:], support[0]), strict=True))
    leans = [Lean(answer.tipping_angle, a, b, (x, y, height), level) for a, b in edges]
    return min(leans, key=lambda lean: (round(lean.reach, 3), round(lean.direction[1], 6)))
