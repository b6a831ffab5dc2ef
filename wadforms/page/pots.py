"""What a pot's fields come to: the same calls that `wadforms contact` and `size` make."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final, NamedTuple

from wadforms import units
from wadforms.cli.options import Among, ClayOptions, PotOptions, ShapeOptions, WadOptions
from wadforms.errors import BadInput, Fault, NotMakeable, WadformsError
from wadforms.page.told import SEVERAL, Typed, filled, flags

if TYPE_CHECKING:
    from wadforms.cli.contact import Checked
    from wadforms.setting.arrangement import Spot
    from wadforms.setting.sizing import Sizing
    from wadforms.setting.tries import Choice

GROUPS: Final = (PotOptions, WadOptions, ShapeOptions, ClayOptions)

NEEDED: Final = {
    "": ("weight", "foot"),
    "flat": ("weight", "foot"),
    "ring": ("weight", "foot", "foot_width"),
    "gallery": ("weight", "foot", "foot_width"),
    "outline": ("weight", "foot_outline"),
    "round": ("weight", "belly"),
    "side": ("weight", "belly"),
}
"""For each kind of foot: what there must be before anything can be said."""

_ROOM: Final = 100.0  # side of the plan on its sheet [mm]
_EDGE: Final = 6.0  # for measures above and below it [mm]
_SIDE: Final = 80.0  # width of the side view
_TALL: Final = 110.0
_SAME: Final = 1e-6  # spots nearer than this are one [mm]


class Outcome(NamedTuple):
    """What can be said of a pot.

    Parameters
    ----------
    missing : tuple of str
        Fields that must be filled first.
    faults : tuple of Fault
        What is wrong with what was typed.
    found : Checked or None
        The check, where there is one.
    """

    missing: tuple[str, ...] = ()
    faults: tuple[Fault, ...] = ()
    found: Checked | None = None


def outcome(
    typed: Typed, folders: Sequence[Path] = (), guard: Callable[[Typed], None] | None = None
) -> Outcome:
    """Check a pot on its wads, as far as the fields are filled.

    Parameters
    ----------
    typed : dict
        What stands in the fields.
    folders : sequence of Path
        The visitor's own shapes.
    guard : callable, optional
        Refuses what may not be asked for, with an error of ours.

    Examples
    --------
    >>> outcome({"weight": "380g"}).missing
    ('foot', 'wad')
    >>> bowl = {"weight": "380g", "foot": "50mm", "foot_width": "5mm", "wad": "disk-10"}
    >>> outcome(bowl | {"body": "dry", "centre_height": "45mm"}).found.answer.verdict
    'sound'
    >>> outcome(bowl | {"weight": "heavy"}).faults[0].where
    '--weight'
    """
    needed = NEEDED.get(typed.get("foot_kind", ""), ("weight",))
    missing = tuple(name for name in (*needed, "wad") if not typed.get(name, "").strip())
    if missing:
        return Outcome(missing, _early(typed))
    from wadforms.cli.contact import checked

    try:
        if guard is not None:
            guard(typed)
        count = _count(typed, "how_many", "--count")
        found = checked(
            filled(PotOptions, typed),
            filled(WadOptions, typed, how_many=count),
            filled(ShapeOptions, typed, shapes_in=list(folders)),
            filled(ClayOptions, typed),
        )
    except WadformsError as error:
        return Outcome(faults=faults_of(error))
    return Outcome(found=found)


def answered(
    typed: Typed, folders: Sequence[Path] = (), guard: Callable[[Typed], None] | None = None
) -> tuple[Outcome, Picture | None]:
    """What `outcome` says, and its picture where there is a check to be drawn.

    Parameters
    ----------
    typed, folders, guard
        See `outcome`.

    Examples
    --------
    >>> answered({"weight": "380g"})[1] is None
    True
    """
    told = outcome(typed, folders, guard)
    title = typed.get("name", "").strip() or "Pot"
    return told, drawn(told.found, title) if told.found is not None else None


def chosen(typed: Typed, folders: Sequence[Path] = ()) -> Sizing:
    """The wads that the tool would take, with its reasons.

    Raises
    ------
    WadformsError
        As `wadforms size`.

    Examples
    --------
    >>> found = chosen({"weight": "450g", "foot": "80mm", "height": "95mm"})
    >>> found.best.assessment.verdict
    'sound'
    """
    from wadforms.cli.size import picked

    return picked(
        filled(PotOptions, typed),
        filled(ClayOptions, typed),
        Among(shapes_in=list(folders)),
        _count(typed, "at_most", "--at-most"),
    )


def taken(choice: Choice) -> Typed:
    """What stands in the fields of wads, once a choice is taken.

    Examples
    --------
    >>> found = chosen({"weight": "450g", "foot": "80mm", "height": "95mm"})
    >>> sorted(taken(found.best))
    ['at', 'body', 'circle', 'how_many', 'radius', 'turn', 'wad', 'with_']
    """
    from wadforms.setting.arrangement import circle

    spots = choice.setting.arrangement.spots
    typed = {
        **{"wad": choice.name, "body": choice.setting.body, "with_": ""},
        **{"at": "", "circle": "", "how_many": "", "radius": "", "turn": ""},
    }
    first = spots[0]
    radius = float(f"{first.radius:.6g}")
    turn = round((first.turn - circle(1, radius)[0].turn) % 360.0, 6) % 360.0
    even = circle(len(spots), radius, turn=turn)
    if len(spots) > 1 and _same(even, spots):
        number = str(len(spots))
        return typed | {
            "how_many": number, "radius": f"{radius:g} mm", "turn": f"{turn:g}" if turn else "",
        }  # fmt: skip
    return typed | {"at": by_hand(spots)}


def by_hand(spots: Sequence[Spot]) -> str:
    """Places of wads [mm, deg] as they are typed.

    Examples
    --------
    >>> from wadforms.setting.arrangement import Spot
    >>> by_hand([Spot(10.0, -2.5, 90.0), Spot(0, 7)])
    '10;-2.5;90 | 0;7;0'
    """
    return SEVERAL.join(f"{_short(s.x)};{_short(s.y)};{_short(s.turn)}" for s in spots)


def faults_of(error: WadformsError) -> tuple[Fault, ...]:
    """What an error says, as faults; of a shape that cannot be made, at the field of the shape."""
    if isinstance(error, BadInput):
        return error.faults
    where = "--wad" if isinstance(error, NotMakeable) else ""
    return (Fault(where, str(error), ""),)


class Picture(NamedTuple):
    """A setting from below and from the side.

    Parameters
    ----------
    plan, side : str
        As SVG.
    size : (float, float)
        Of the plan's sheet [mm].
    handles : list of dict
        For each wad: where it is on that sheet, y down, how far it reaches, and its direction.
    middle : (float, float)
        Where the pot's middle is on that sheet [mm], y up.
    scale : float
        Length on the sheet over true length.
    """

    plan: str
    side: str
    size: tuple[float, float]
    handles: list[dict[str, Any]]
    middle: tuple[float, float]
    scale: float

    def spot(self, x: float, y: float) -> tuple[float, float]:
        """The place in plan [mm] of a point on the sheet [mm], y down."""
        left = (self.middle[0] - x) / self.scale  # seen from below, x runs left
        return left, (self.size[1] - y - self.middle[1]) / self.scale

    def with_spots(self, spots: Sequence[Spot]) -> list[dict[str, Any]]:
        """The handles, moved to other places of the wads [mm]; the picture stays."""
        size = self.handles[0] if self.handles else {"reach": 0.0}
        return [
            size
            | {
                "x": self.middle[0] - self.scale * spot.x,
                "y": self.size[1] - self.middle[1] - self.scale * spot.y,
                "along": _along(spot.turn),
                "label": _label(k, spot),
            }
            for k, spot in enumerate(spots, 1)
        ]

    def turn(self, k: int, x: float, y: float) -> float:
        """The turn [deg] of a wad whose knob is at a point on the sheet [mm], y down."""
        handle = self.handles[k]
        return math.degrees(math.atan2(x - handle["x"], handle["y"] - y))


def drawn(found: Checked, title: str) -> Picture:
    """Draw a checked setting.

    Examples
    --------
    >>> bowl = {"weight": "380g", "foot": "50mm", "foot_width": "5mm", "wad": "disk-10"}
    >>> picture = drawn(outcome(bowl).found, "Bowl")
    >>> len(picture.handles)
    3
    >>> x, y = picture.spot(picture.handles[0]["x"], picture.handles[0]["y"])
    >>> round(x, 6), round(y, 6)
    (0.0, 22.5)
    """
    from wadforms.page.pieces import inline
    from wadforms.templates.drawing import Drawing
    from wadforms.templates.setting_plan import from_below, plan_height, plan_scale
    from wadforms.templates.setting_side import from_the_side, side_height, side_scale
    from wadforms.templates.setting_view import setting_view

    view = setting_view(found.setting, found.answer, title=title, shape=found.name)
    scale = plan_scale(view, _ROOM)
    high = plan_height(view, scale) + 2 * _EDGE
    middle = (_ROOM / 2, high / 2)
    plan = Drawing(
        title=f"{title} from below", description=f"{view.subtitle}, from below.",
        width=_ROOM, height=high, items=tuple(from_below(view, middle, scale)),
    )  # fmt: skip
    beside = side_scale(view, _SIDE, _TALL)
    tall = side_height(view, beside)
    side = Drawing(
        title=f"{title} from the side", description=f"{view.subtitle}, from the side.",
        width=_SIDE, height=tall,
        items=tuple(from_the_side(view, (0.0, _SIDE), (tall, 0.0), beside)),
    )  # fmt: skip
    reach = scale * max(view.piece.body.base.size) / 2
    made = Picture(inline(plan), inline(side), (_ROOM, high), [{"reach": reach}], middle, scale)
    return made._replace(handles=made.with_spots(view.spots))


def _along(turn: float) -> list[float]:
    """Which way a wad points on the sheet, y down: outward at the back is up."""
    return [math.sin(math.radians(turn)), -math.cos(math.radians(turn))]


def _label(k: int, spot: Spot) -> str:
    return (
        f"Wad {k}: {units.show(spot.x, 'mm')} to the right, {units.show(spot.y, 'mm')} to the "
        f"back, turned {spot.turn:.0f}°"
    )


def _early(typed: Typed) -> tuple[Fault, ...]:
    """What can be said of single fields while others are empty."""
    measured = {"weight": "g", "lid": "g", "stacked": "g"}
    lengths = ("foot", "foot_width", "belly", "height", "centre_height")
    measured |= dict.fromkeys(lengths, "mm")
    faults: list[Fault] = []
    for name, unit in measured.items():
        text = typed.get(name, "").strip()
        if text:
            try:
                units.parse(text, unit, flags(PotOptions)[name])
            except BadInput as error:
                faults += error.faults
    return tuple(faults)


def _count(typed: Typed, name: str, where: str) -> int | None:
    text = typed.get(name, "").strip()
    if not text:
        return None
    number = units.count(text)
    if number is None:
        raise BadInput(Fault(where, repr(text), "give a whole number"))
    return number


def _same(some: Sequence[Spot], others: Sequence[Spot]) -> bool:
    return all(
        math.dist(a[:2], b[:2]) < _SAME * 1000 and abs((a.turn - b.turn + 180) % 360 - 180) < _SAME
        for a, b in zip(some, others, strict=True)
    )


def _short(value: float) -> str:
    return f"{round(value, 2) + 0.0:g}"
