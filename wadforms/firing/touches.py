"""Every pair of things that would stick together, with the load that the touch carries."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Final

from wadforms.errors import BadInput
from wadforms.firing import stacking
from wadforms.firing.loads import Loads
from wadforms.firing.rows import FLOOR, FiringList, Posts, Row, Shelf, Ware
from wadforms.firing.standing import feet, listed, said, standing
from wadforms.firing.towers import as_pot
from wadforms.geometry.contour import Contour, Point
from wadforms.geometry.outline import Outline
from wadforms.setting.feet import FlatFoot, Foot, OutlineFoot, PlaneFoot
from wadforms.setting.pot import HOLLOWWARE, Pot

FOOT: Final = "foot"
LID: Final = "lid"
STACKED: Final = "stacked"
ON_POST: Final = "shelf"
UNDER_POST: Final = "post"
SEAT: Final = "cones"


@dataclass(frozen=True, slots=True, kw_only=True)
class Touch:
    """One kind of touch in the firing.

    Parameters
    ----------
    row : Row
        The row of the list that it comes from: what stands on top.
    kind : str
        One of `FOOT`, `LID`, `STACKED`, `ON_POST`, `UNDER_POST`, `SEAT`.
    upper, lower : str
        What touches what, in words.
    count : int
        How many such touches there are.
    pot : Pot or None
        What bears, with all that stands above it; None for cones, whose seats carry no load.
    aligned_with : int or None
        Number, in the audit, of the touch whose arrangement it must share.
    keeps_level : int or None
        Row of the shelf that would lie askew where its posts have wads of other heights.
    notes : tuple of str
        What was assumed about its load, in words.
    room : Foot or None
        What the wads stand on, where that ends near them: the end of a post, a lid.
    """

    row: Row
    kind: str
    upper: str
    lower: str
    count: int
    pot: Pot | None
    aligned_with: int | None = None
    keeps_level: int | None = None
    notes: tuple[str, ...] = ()
    room: Foot | None = None

    @property
    def name(self) -> str:
        """What touches what, in words."""
        return f"{self.upper} on {self.lower}"

    @property
    def bare(self) -> bool:
        """Whether it is meant to have no wads; a row says so for its foot, not for its lid."""
        return self.row.bare and self.kind != LID


@dataclass(frozen=True, slots=True, kw_only=True)
class Audit:
    """All touches of a firing, and what is wrong with how it is stacked.

    Parameters
    ----------
    touches : tuple of Touch
        From the list's first row to its last.
    problems : tuple of str
        What would fall, tip or stick whatever the wads, each with its row.
    notes : tuple of str
        What was assumed, in words.
    """

    touches: tuple[Touch, ...]
    problems: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()


def audit(firing: FiringList) -> Audit:
    """Find every touch of a firing with the load that it carries, all above it included.

    Parameters
    ----------
    firing : FiringList
        Everything that goes into the kiln.

    Raises
    ------
    BadInput
        With every fault: names that no row has, things that stand on each other in a circle,
        loads beyond any kiln.

    Examples
    --------
    >>> from wadforms.setting.feet import RingFoot
    >>> from wadforms.setting.limits import PLACES
    >>> plates = Ware(
    ...     row=2, name="Plate", count=6, stack=3, place=PLACES["sheltered"], stands_on=FLOOR,
    ...     mass=900.0, foot=RingFoot(150.0, 8.0), height=25.0,
    ... )
    >>> for touch in audit(FiringList(where="list.csv", wares=(plates,))).touches:
    ...     print(f"{touch.count} × {touch.name}: {touch.pot.mass:g} g")
    2 × Plate on floor: 2700 g
    2 × Plate, number 2 of 3 from below on number 1: 1800 g
    2 × Plate, number 3 of 3 from below on number 2: 900 g
    """
    loads = Loads(firing, standing(firing))
    drafts, faults, notes = [], [], []
    for row in firing.rows:
        try:
            drafts += list(_touches(row, loads))
        except BadInput as error:
            where = f"{firing.where}, row {row.row}, with all that it carries"
            faults += [f._replace(where=f"{where}, {f.where}") for f in error.faults]
        if row.bare:
            notes.append(said(row, f"stands bare on {_lower(row, loads)}, as the list says"))
    if faults:
        raise BadInput(*faults)
    return Audit(
        touches=tuple(_in_line(drafts, loads)),
        problems=tuple(stacking.problems(loads)),
        notes=(*notes, *stacking.notes(loads)),
    )


_LEAST: Final = 1.0  # g: what a touch without a load counts as, since wads are chosen for it too


def _in_line(touches: list[Touch], loads: Loads) -> Iterator[Touch]:
    """The touches, each told with which other its wads must stand in line, or be as high."""
    first: dict[int, int] = {}
    level: dict[tuple[int, str, int], int] = {}
    for n, touch in enumerate(touches):
        first.setdefault(touch.row.row, n)
    for n, touch in enumerate(touches):
        root = n
        if touch.keeps_level is not None:
            root = level.setdefault((touch.row.row, touch.kind, touch.keeps_level), n)
        if isinstance(touch.row, Ware) and touch.kind in (FOOT, STACKED):
            root = first[_lowest(touch.row, loads).row]
        yield touch if root == n else replace(touch, aligned_with=root)


def _lowest(ware: Ware, loads: Loads) -> Ware:
    """The ware at the bottom of a stack of alike feet: most often the same."""
    lower = loads.standing.below[ware.row]
    while isinstance(lower, Ware) and stacking.stands_straight(ware, lower):
        ware, lower = lower, loads.standing.below[lower.row]
    return ware


def _touches(row: Row, loads: Loads) -> Iterator[Touch]:
    """All touches of a row, its foot first."""
    if isinstance(row, Ware):
        yield from _of_ware(row, loads)
        if row.lid is not None:
            yield from _of_lids(row, loads)
    elif isinstance(row, Shelf):
        yield from _of_shelf(row, loads)
    elif isinstance(row, Posts):
        yield from _of_posts(row, loads)
    else:
        yield Touch(
            row=row,
            kind=SEAT,
            upper=row.name,
            lower=_lower(row, loads),
            count=row.count,
            pot=None,
        )


def _lower(row: Row, loads: Loads) -> str:
    """What a row stands on, in words."""
    lower = loads.standing.below[row.row]
    if isinstance(lower, Ware) and lower.lid is not None:
        return f"lid of {lower.name}"
    return lower.name if isinstance(lower, Row) else lower or "shelf"


def _of_ware(ware: Ware, loads: Loads) -> Iterator[Touch]:
    """Its foot, and each level of its stack."""
    towers, below = loads.towers[ware.row], loads.standing.below[ware.row]
    under = below.lid if isinstance(below, Ware) else None
    for k, tower in enumerate(towers):
        lid = ware.lid if k else under
        number = f"the lid of number {k}" if ware.lid else f"number {k}"
        yield Touch(
            row=ware,
            kind=STACKED if k else FOOT,
            upper=_numbered(ware, k) if k else ware.name,
            lower=number if k else _lower(ware, loads),
            room=None if lid is None else FlatFoot(lid.gallery.diameter),
            count=feet(ware),
            pot=as_pot(tower, ware),
            notes=_tower_notes(ware, ware.stack - k, loads),
        )


def _of_lids(ware: Ware, loads: Loads) -> Iterator[Touch]:
    """The lid on each pot of a stack, with what stands on it."""
    assert ware.lid is not None  # noqa: S101 - the caller looked
    for k in range(ware.stack):
        is_top = k + 1 == ware.stack
        above = loads.on_top(ware) if is_top else loads.towers[ware.row][k + 1]
        if above is None:
            pot = Pot(mass=ware.lid.mass, foot=ware.lid.gallery, ware=HOLLOWWARE, held=True)
            notes: tuple[str, ...] = ("a lid lies low within the wall of its gallery",)
        else:
            pot = Pot(
                mass=ware.lid.mass + above.mass,
                foot=ware.lid.gallery,
                centre_height=above.centre_height,
                centre=above.centre,
                ware=HOLLOWWARE,
            )
            notes = (
                f"carries {_carried(ware, ware.stack - k - 1, loads)}",
                "the lid counts at the height of what stands on it (assumed)",
            )
        yield Touch(
            row=ware,
            kind=LID,
            upper="lid",
            lower=_numbered(ware, k) if ware.stack > 1 else ware.name,
            count=feet(ware),
            pot=pot,
            notes=notes,
        )


def _of_shelf(shelf: Shelf, loads: Loads) -> Iterator[Touch]:
    """A shelf on its posts, those that carry alike together; or on the floor."""
    held, legs = loads.held[shelf.row], loads.standing.legs.get(shelf.row)
    standing_on = [f"{n} × {ware.name}" for ware, n in loads.wares_on(shelf)]
    standing_on += [f"{n} × {upper.name} on posts" for upper, n in loads.shelves_over(shelf)]
    notes = shelf.assumed
    if standing_on:
        notes = (f"carries {listed(standing_on)}", *notes)
    if legs is None:
        if loads.standing.below[shelf.row] == FLOOR:
            half = (shelf.length / 2, shelf.width / 2)
            centre = (held.centre[0] - half[0], held.centre[1] - half[1])
            yield Touch(
                row=shelf,
                kind=FOOT,
                upper=shelf.name,
                lower=FLOOR,
                count=shelf.count,
                pot=_steady(held.mass, _rectangle(*half), centre),
                notes=(*notes, "lies flat; set wads under the posts that stand on it too"),
            )
        return
    if len(shelf.posts_at) > 3:
        notes += ("a stiff shelf: any three of its posts may carry everything",)
    for bearing in held.bearings(shelf):
        idle = () if bearing.load >= _LEAST else (f"carries nothing; counted as {_LEAST:g} g",)
        yield Touch(
            row=shelf,
            kind=ON_POST,
            upper=shelf.name,
            lower=f"{legs.posts[0].name} {bearing.words}",
            room=legs.posts[0].foot,
            count=shelf.count * len(bearing.places),
            keeps_level=shelf.row,
            pot=_steady(max(bearing.load, _LEAST), legs.posts[0].foot),
            notes=(*notes, *idle),
        )


def _of_posts(posts: Posts, loads: Loads) -> Iterator[Touch]:
    """Posts on what is below them, under each shelf that they serve."""
    for shelf in loads.shelves_on(posts):
        legs = loads.standing.legs[shelf.row]
        place = legs.posts.index(posts)
        mass = sum(post.mass for post in legs.posts[: place + 1])
        foot, room = posts.foot, None
        if place + 1 < len(legs.posts):
            lower, room = legs.posts[place + 1].name, legs.posts[place + 1].foot
            foot = min(foot, room, key=reach)
        else:
            lower = legs.lower.name if isinstance(legs.lower, Shelf) else legs.lower or "shelf"
        for bearing in loads.held[shelf.row].bearings(shelf):
            yield Touch(
                row=posts,
                kind=UNDER_POST,
                upper=f"{posts.name} under {shelf.name} {bearing.words}",
                lower=lower,
                room=room,
                count=shelf.count * len(bearing.places),
                keeps_level=shelf.row,
                pot=_steady(mass + bearing.load, foot),
                notes=(f"carries its place of {shelf.name} and all above",),
            )
    if not loads.shelves_on(posts):
        yield Touch(
            row=posts,
            kind=UNDER_POST,
            upper=posts.name,
            lower=_lower(posts, loads),
            count=posts.count,
            pot=Pot(mass=posts.mass, foot=posts.foot, height=posts.height, ware=HOLLOWWARE),
        )


def _steady(mass: float, foot: Foot, centre: Point = (0.0, 0.0)) -> Pot:
    """What the rest of its shelf keeps from tipping."""
    return Pot(mass=mass, foot=foot, centre=centre, ware=HOLLOWWARE, held=True)


def _numbered(ware: Ware, index: int) -> str:
    return f"{ware.name}, number {index + 1} of {ware.stack} from below"


def _carried(ware: Ware, pieces: int, loads: Loads) -> str:
    """So many of a stack and what stands on it, in words; empty for nothing."""
    parts = [f"{pieces} × {ware.name}"] if pieces else []
    return listed(parts + [f"{n} × {upper.name}" for upper, n in loads.wares_on(ware)])


def _tower_notes(ware: Ware, pieces: int, loads: Loads) -> tuple[str, ...]:
    """What was assumed about a touch that carries so many of a stack, and what stands on it."""
    notes = []
    if carried := _carried(ware, pieces - 1, loads):
        notes.append(f"carries {carried} on top")
        if ware.height is not None:
            notes.append("height: the sum of the heights, the safe side (assumed)")
    if ware.lid is not None:
        where = "the pot's height" if ware.height is not None else "the pot's centre of gravity"
        notes.append(f"the lid counts at {where} (assumed)")
    return tuple(notes)


def reach(foot: Foot) -> float:
    """From the middle of a foot to its farthest point [mm]; 0 for one that is not plane."""
    return foot.reach if isinstance(foot, PlaneFoot) else 0.0


def _rectangle(x: float, y: float) -> OutlineFoot:
    return OutlineFoot(Outline(Contour.polygon([(-x, -y), (x, -y), (x, y), (-x, y)])))
