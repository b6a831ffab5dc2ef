"""Shelves and posts: what each post carries by statics, and what is wrong with how they stand."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Final, NamedTuple

from wadforms import units
from wadforms.firing.rows import FiringList, Posts, Shelf, Ware
from wadforms.firing.standing import Legs, Standing, listed, said
from wadforms.geometry.contour import Point
from wadforms.setting.feet import Foot, OutlineFoot, PlaneFoot, RoundFoot, SideFoot
from wadforms.setting.layouts import ROUND_ANGLES
from wadforms.setting.limits import Limit
from wadforms.setting.shelves import misalignment, post_loads, stacked_loads, tipping_load

IN_LINE: Final = Limit(10.0, "mm", "assumed: posts this near to one line press straight down")
"""How far a post may stand beside the line of the one below it."""

THICKEST: Final = Limit(25.0, "mm", "assumed: no layer of wads is thicker")
"""By how much a layer of wads raises a shelf at most."""

CLOSEST: Final = math.pi / math.sqrt(12.0)
"""Part of a plane that equal circles cover at most: 0.9069, in rows like a honeycomb (Thue)."""

_SAME: Final = 1e-9  # loads that differ by less are alike


class Bearing(NamedTuple):
    """Posts of one shelf that carry alike.

    Parameters
    ----------
    load : float
        On each of them, with all that stands above [g].
    places : tuple of (float, float)
        Where they stand, from the corner that all levels share [mm].
    """

    load: float
    places: tuple[Point, ...]

    @property
    def words(self) -> str:
        """The places, in words."""
        return at(self.places)


@dataclass(frozen=True, slots=True, kw_only=True)
class Held:
    """One shelf with all that it carries.

    Parameters
    ----------
    mass : float
        Of the shelf and everything above it [g].
    centre : (float, float)
        Where that acts, from the corner that all levels share [mm].
    loads : tuple of float
        On each of its posts, in their order [g]; even where it would tip.
    tips : bool
        Whether it would tip off its posts.
    """

    mass: float
    centre: Point
    loads: tuple[float, ...]
    tips: bool

    def bearings(self, shelf: Shelf) -> list[Bearing]:
        """Its posts, those that carry alike together."""
        alike: list[tuple[float, list[Point]]] = []
        for load, place in zip(self.loads, shelf.posts_at, strict=True):
            for known, places in alike:
                if abs(known - load) <= _SAME * self.mass:
                    places.append(place)
                    break
            else:
                alike.append((load, [place]))
        return [Bearing(load, tuple(places)) for load, places in alike]


def at(places: Sequence[Point]) -> str:
    """Places in words.

    Examples
    --------
    >>> at([(40.0, 40.0), (560.0, 40.0)])
    'at (40, 40) and (560, 40) mm'
    """
    named = [f"({x:g}, {y:g})" for x, y in places]
    return f"at {listed(named)} mm"


def hold(
    shelf: Shelf,
    standing: float,
    from_above: Sequence[tuple[Point, float]],
    weights: Sequence[tuple[Point, float]] | None = None,
) -> Held:
    """Find what the posts of a shelf carry.

    What stands in line with a post goes straight down; the rest by `post_loads`.

    Parameters
    ----------
    shelf : Shelf
        The shelf.
    standing : float
        Weight of the ware on it [g].
    from_above : sequence of ((float, float), float)
        Posts that stand on it: place [mm] and load [g].
    weights : sequence of ((float, float), float) or None
        What all that stands on it by posts weighs, and where that acts [mm, g]: four posts or
        more are each reckoned to carry more than their share. None where the loads are that.

    Examples
    --------
    >>> from wadforms.setting.limits import PLACES
    >>> shelf = Shelf(
    ...     row=2, name="Shelf", count=1, place=PLACES["sheltered"], mass=6000.0, length=400.0,
    ...     width=300.0, posts_at=((0, 0), (400, 0), (200, 300)), load_at=(200, 100),
    ... )
    >>> hold(shelf, 3000.0, [((200, 300), 500.0)]).loads
    (3000.0, 3000.0, 3500.0)
    """
    posts = shelf.posts_at
    straight = [0.0] * len(posts)
    spread = [(shelf.load_at, shelf.mass + standing)]
    for place, load in from_above:
        away = [math.dist(place, post) for post in posts]
        if away and min(away) <= IN_LINE.value:
            straight[away.index(min(away))] += load
        else:
            spread.append((place, load))
    total, centre = _resultant(spread)
    shares = post_loads(posts, total, centre)
    even = (total / len(posts),) * len(posts) if posts else ()
    above = from_above if weights is None else weights
    mass, middle = _resultant([(shelf.load_at, shelf.mass + standing), *above])
    return Held(
        mass=mass,
        centre=middle,
        loads=stacked_loads([straight, shares or even])[-1],
        tips=shares is None,
    )


def number_of_posts(firing: FiringList, legs: Mapping[int, Legs]) -> Iterator[str]:
    """Posts that are too few or too many for the shelves, in words."""
    needed: defaultdict[int, int] = defaultdict(int)
    for shelf in firing.shelves:
        for post in legs[shelf.row].posts if shelf.row in legs else ():
            needed[post.row] += shelf.count * len(shelf.posts_at)
    for posts in firing.posts:
        wanted = needed.get(posts.row, 0)
        if wanted == 0:
            yield said(posts, "no shelf stands on them, by this list")
        elif wanted != posts.count:
            yield said(posts, f"the shelves need {wanted} posts, the list has {posts.count}")


def shelf_problems(firing: FiringList, standing: Standing) -> Iterator[str]:
    """Shelves that nothing holds, and posts out of place, in words."""
    for shelf in firing.shelves:
        below = standing.below[shelf.row]
        held = standing.legs.get(shelf.row)
        if below is None:
            yield said(
                shelf, "no posts hold it in this list; add a row of posts and name it in stands on"
            )
        elif held is not None:
            yield from _posts_out_of_place(shelf)
            if held.lower is None:
                yield said(
                    shelf,
                    f"the list does not tell what its posts {held.posts[-1].name!r} stand on, so "
                    "nothing below is reckoned to carry it; give those under each shelf a row of "
                    "their own, and say there what they stand on",
                )
            if isinstance(held.lower, Shelf):
                yield from _out_of_line(shelf, held.lower, standing)
                if shelf.count > held.lower.count:
                    yield said(
                        shelf,
                        f"{shelf.count} shelves stand in the same place over {held.lower.count} of "
                        f"{held.lower.name!r}; give those beside each other rows of their own",
                    )
        if not _within(shelf.load_at, shelf):
            yield said(shelf, f"its load acts {at([shelf.load_at])}, beside the shelf")


def _posts_out_of_place(shelf: Shelf) -> Iterator[str]:
    outside = [place for place in shelf.posts_at if not _within(place, shelf)]
    if outside:
        size = f"{shelf.length:g} mm by {shelf.width:g} mm"
        yield said(shelf, f"no post {at(outside)} is under a shelf of {size}")
    if len(shelf.posts_at) < 3:
        yield said(shelf, f"it stands on {len(shelf.posts_at)} posts; give three or more")


def _out_of_line(shelf: Shelf, lower: Shelf, standing: Standing) -> Iterator[str]:
    if lower.row not in standing.legs:
        return  # it lies on the floor, which holds it everywhere
    offsets = misalignment(shelf.posts_at, lower.posts_at)
    for place, offset in zip(shelf.posts_at, offsets, strict=True):
        if offset > IN_LINE.value:
            yield said(
                shelf,
                f"its post {at([place])} stands {units.show(offset, 'mm')} out of line with the "
                f"nearest post under {lower.name!r}; at most {units.show(IN_LINE.value, 'mm')} "
                "(assumed)",
            )


def tipping_problems(shelf: Shelf, held: Held) -> Iterator[str]:
    """A shelf that would tip off its posts, or is about to, in words."""
    if len(shelf.posts_at) < 3:
        return
    if held.tips:
        yield said(
            shelf,
            f"its load, which acts {at([shelf.load_at])}, lies outside its posts "
            f"{at(shelf.posts_at)}: it tips off them",
        )
        return
    empty = [b for b in held.bearings(shelf) if b.load <= _SAME * held.mass]
    for bearing in empty:
        yield said(
            shelf,
            f"its post {bearing.words} carries nothing, since the load acts in line with the "
            "others: the shelf tips at a touch",
        )


def loading_notes(shelf: Shelf, wares: Sequence[tuple[Ware, float]]) -> Iterator[str]:
    """Ware that would tip the empty shelf if it were set at a corner first, in words.

    Parameters
    ----------
    shelf : Shelf
        The shelf.
    wares : sequence of (Ware, float)
        What stands on it, each with the weight of one pot or stack [g].
    """
    middle = (shelf.length / 2, shelf.width / 2)
    for ware, mass in wares:
        edge = ware.foot.reach if isinstance(ware.foot, PlaneFoot) else 0.0
        xs, ys = (edge, shelf.length - edge), (edge, shelf.width - edge)
        holds = min(
            tipping_load(shelf.posts_at, shelf.mass, middle, (x, y)) for x in xs for y in ys
        )
        if 0.0 < holds < mass:
            yield said(
                shelf,
                f"{ware.name} of {units.show(mass, 'g')} set at a corner tips the empty shelf, "
                f"which holds {units.show(holds, 'g')} there: set it between the posts",
            )


def room_problems(
    shelf: Shelf, wares: Sequence[tuple[Ware, int]], posts: Sequence[tuple[Posts, int]]
) -> Iterator[str]:
    """Feet that the shelf has no room for, in words.

    Parameters
    ----------
    shelf : Shelf
        The shelf.
    wares, posts : sequence of (Row, int)
        What stands on one of it, and how many.
    """
    across = min(shelf.length, shelf.width)
    for ware, _ in wares:
        wide = _narrowest(ware)
        if wide > across:
            yield said(
                ware,
                f"its foot is {units.show(wide, 'mm')} wide and {shelf.name!r} "
                f"{units.show(across, 'mm')}",
            )
    standing: list[tuple[Ware | Posts, int]] = [*wares, *posts]
    taken = math.fsum(n * _footprint(row.foot) for row, n in standing) / CLOSEST
    taken += math.fsum(n * _lying(ware) for ware, n in wares)
    part = taken / (shelf.length * shelf.width)
    if part > 1.0:
        names = listed([f"{n} × {row.name}" for row, n in standing])
        yield said(
            shelf,
            f"the feet of {names} take {part:.0%} of its area, as close as equal circles can stand",
        )


def height_problems(wares: Sequence[tuple[Ware, float]], upper: Shelf, legs: Legs) -> Iterator[str]:
    """Pots that reach the shelf above, in words.

    Parameters
    ----------
    wares : sequence of (Ware, float)
        What stands on the shelf below, each with the height of the whole [mm].
    upper : Shelf
        The shelf above.
    legs : Legs
        Its posts, which stand among the wares.
    """
    wads = THICKEST.value * len(legs.posts)  # one layer more than under a pot for each post
    for ware, height in wares:
        if height > legs.height + wads:
            yield said(
                ware,
                f"it is {units.show(height, 'mm')} high, and the posts of {upper.name!r} above it "
                f"{units.show(legs.height, 'mm')}: it would touch the shelf, also where wads on "
                f"the posts raise that by {units.show(wads, 'mm')} (assumed)",
            )


def _within(place: Point, shelf: Shelf) -> bool:
    return 0.0 <= place[0] <= shelf.length and 0.0 <= place[1] <= shelf.width


def _resultant(loads: Sequence[tuple[Point, float]]) -> tuple[float, Point]:
    """One force for several, and where it acts."""
    total = math.fsum(load for _, load in loads)
    x, y = (math.fsum(place[k] * load for place, load in loads) / total for k in (0, 1))
    return total, (x, y)


def _narrowest(ware: Ware) -> float:
    """The least width of shelf that a foot wants [mm]."""
    foot = ware.foot
    if isinstance(foot, PlaneFoot):
        boxes = [outline.bounds for outline in foot.outlines]
        x0, y0 = (min(box[k] for box in boxes) for k in (0, 1))
        x1, y1 = (max(box[k] for box in boxes) for k in (2, 3))
        return min(x1 - x0, y1 - y0)
    return 0.0 if isinstance(foot, SideFoot) else _perch(foot)


def _footprint(foot: Foot) -> float:
    """Area of the circle about a foot, or as much of it as an outline fills [mm²]."""
    if isinstance(foot, SideFoot):
        return 0.0
    if isinstance(foot, OutlineFoot):
        return foot.outline.area * CLOSEST  # long ones stand closer than circles round them could
    reach = foot.reach if isinstance(foot, PlaneFoot) else _perch(foot) / 2
    return math.pi * reach**2


def _perch(foot: Foot) -> float:
    """How wide a round bottom stands at most [mm]."""
    if not isinstance(foot, RoundFoot):
        return 0.0
    return foot.diameter * math.sin(math.radians(max(ROUND_ANGLES)))


def _lying(ware: Ware) -> float:
    """Area that a pot on its side takes, belly by length or height where known [mm²]."""
    if not isinstance(ware.foot, SideFoot):
        return 0.0
    return ware.foot.diameter * (ware.foot.length or ware.height or ware.foot.diameter)
