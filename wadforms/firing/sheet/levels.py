"""Where in the kiln each touch is, in the order in which one packs: from the floor up."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass

from wadforms.firing.plan import Chosen, Plan
from wadforms.firing.rows import FLOOR, Posts, Row, Shelf, Ware
from wadforms.firing.touches import ON_POST, Touch


@dataclass(frozen=True, slots=True, kw_only=True)
class Level:
    """The floor, or a shelf with what holds it and what stands on it.

    Parameters
    ----------
    heading : str
        What the level is called.
    chosen : tuple of Chosen
        Its touches: posts and shelf first, then what stands there, each before what it carries.
    shelf : Shelf or None
        The shelf; None on the floor, and where the list does not tell.
    """

    heading: str
    chosen: tuple[Chosen, ...]
    shelf: Shelf | None = None


def levels(plan: Plan) -> tuple[Level, ...]:
    """Everything that is set, level by level; what the list gives no place comes last.

    Examples
    --------
    >>> from wadforms.setting.feet import FlatFoot
    >>> from wadforms.setting.limits import PLACES
    >>> cup = Ware(
    ...     row=2, name="Cup", count=1, place=PLACES["sheltered"], stands_on=FLOOR, mass=300.0,
    ...     foot=FlatFoot(50.0),
    ... )
    >>> touch = Touch(row=cup, kind="foot", upper="Cup", lower="floor", count=1, pot=None)
    >>> one = Chosen(touch=touch, wads=None)
    >>> plan = Plan(chosen=(one,), from_stock={}, gap=0.0, one_fewer="", one_more="")
    >>> [level.heading for level in levels(plan)]
    ['On the floor']
    """
    kiln = _Kiln([one.touch.row for one in plan.chosen])
    homes: defaultdict[Shelf | str | None, list[Chosen]] = defaultdict(list)
    for one in plan.chosen:
        homes[kiln.home(one.touch)].append(one)
    found = []
    for home in sorted(homes, key=kiln.rank):
        packed = sorted(homes[home], key=lambda one: kiln.turn(one.touch))
        shelf = home if isinstance(home, Shelf) else None
        found.append(Level(heading=_heading(home), chosen=tuple(packed), shelf=shelf))
    return tuple(found)


def _heading(home: Shelf | str | None) -> str:
    if home is None:
        return "Where the list gives no place"
    if isinstance(home, str):
        return "On the floor" if home == FLOOR else f"On {home}"
    return home.name if home.level is None else f"Level {home.level}: {home.name}"


class _Kiln:
    """Finds where things stand, by the names that their rows give."""

    def __init__(self, rows: Sequence[Row]) -> None:
        self.rows = {row.row: row for row in rows}
        self.named = {row.name: row for row in rows}

    def below(self, row: Row) -> Row | str | None:
        """What a row stands on: another row, else the name that it gives."""
        name = row.stands_on
        return name if name is None or name == FLOOR else self.named.get(name, name)

    def home(self, touch: Touch) -> Shelf | str | None:
        """The level that a touch is set with."""
        row = touch.row
        if isinstance(row, Posts):
            held = self.rows.get(touch.keeps_level) if touch.keeps_level is not None else None
            held = held or self.held(row)
            if isinstance(held, Shelf):
                return held
        found: Row | str | None = row
        while isinstance(found, Row) and not isinstance(found, Shelf):
            found = self.below(found)
        return found

    def held(self, posts: Posts) -> Shelf | None:
        """The first shelf that stands on posts, or on posts that stand on these."""
        for row in self.rows.values():
            found: Row | str | None = row
            while isinstance(found, Shelf | Posts) and found.row != posts.row:
                found = self.below(found)
                if isinstance(found, Shelf):
                    break
            if isinstance(row, Shelf) and isinstance(found, Posts):
                return row
        return None

    def rank(self, home: Shelf | str | None) -> tuple[float, float]:
        """From the floor up; what stands on nothing that is known comes last."""
        if isinstance(home, Shelf):
            return min(self.height(home), 1e6), home.row
        return (0.0, 0.0) if home == FLOOR else (2e6, 0.0) if home is not None else (3e6, 0.0)

    def height(self, shelf: Shelf) -> float:
        """How manieth shelf it is from the floor, as far as the list tells."""
        if shelf.level is not None:
            return shelf.level
        found: Row | str | None = self.below(shelf)
        while isinstance(found, Posts):
            found = self.below(found)
        if isinstance(found, Shelf):
            return self.height(found) + 1.0
        return 1.0 if found == FLOOR else math.inf

    def turn(self, touch: Touch) -> tuple[int, tuple[int, ...]]:
        """When a touch is set: posts from the lowest up, their shelf, what it carries."""
        row = touch.row
        path = [row.row]
        lower = self.below(row)
        while isinstance(lower, Ware | Posts):
            path.insert(0, lower.row)
            lower = self.below(lower)
        if isinstance(row, Posts):
            return 0, tuple(path)
        return (1 if touch.kind == ON_POST or isinstance(row, Shelf) else 2), tuple(path)
