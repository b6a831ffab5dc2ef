"""What each thing of a firing carries, found from the top down."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from wadforms.firing.furniture import Held, hold
from wadforms.firing.rows import FiringList, Posts, Row, Shelf, Ware
from wadforms.firing.standing import Standing, feet
from wadforms.firing.towers import Tower, beside, levels


@dataclass(slots=True)
class Loads:
    """What stands where, and what it weighs.

    Parameters
    ----------
    firing : FiringList
        The list.
    standing : Standing
        What stands on what.
    towers : dict of int to list of Tower
        For each ware, by its row, what each touch of a stack carries, from its foot up.
    held : dict of int to Held
        For each shelf, by its row, what it and its posts carry.
    """

    firing: FiringList
    standing: Standing
    towers: dict[int, list[Tower]] = field(default_factory=dict)
    held: dict[int, Held] = field(default_factory=dict)
    _on: Mapping[int, list[Ware | Shelf]] = field(default_factory=dict)
    _served: Mapping[int, list[Shelf]] = field(default_factory=dict)

    def __post_init__(self) -> None:
        """Work it out, from what carries nothing down to the floor."""
        on: defaultdict[int, list[Ware | Shelf]] = defaultdict(list)
        for ware in self.firing.wares:
            lower = self.standing.below[ware.row]
            if isinstance(lower, Row):
                on[lower.row].append(ware)
        served: defaultdict[int, list[Shelf]] = defaultdict(list)
        for shelf in self.firing.shelves:
            legs = self.standing.legs.get(shelf.row)
            if legs is not None and isinstance(legs.lower, Shelf):
                on[legs.lower.row].append(shelf)
            for posts in legs.posts if legs else ():
                served[posts.row].append(shelf)
        self._on, self._served = on, served
        wares = {ware.row: ware for ware in self.firing.wares}
        shelves = {shelf.row: shelf for shelf in self.firing.shelves}
        for n in self.standing.from_above:
            if n in wares:
                self.towers[n] = levels(wares[n], self.on_top(wares[n]))
            else:
                self.held[n] = self._held(shelves[n])

    def wares_on(self, lower: Ware | Shelf) -> Iterator[tuple[Ware, int]]:
        """Wares on a row, each with how many stacks of it are on the fullest piece."""
        for row in self._on.get(lower.row, ()):
            if isinstance(row, Ware):
                yield row, per_piece(row, lower)

    def shelves_over(self, lower: Shelf) -> Iterator[tuple[Shelf, int]]:
        """Shelves whose posts stand on a shelf, and how many on one."""
        for row in self._on.get(lower.row, ()):
            if isinstance(row, Shelf):
                yield row, per_piece(row, lower)

    def shelves_on(self, posts: Posts) -> list[Shelf]:
        """Shelves that a row of posts holds up."""
        return self._served.get(posts.row, [])

    def on_top(self, ware: Ware) -> Tower | None:
        """What stands on the topmost piece of a stack, the fullest; None where nothing does."""
        upper = [self.towers[row.row][0] for row, n in self.wares_on(ware) for _ in range(n)]
        return beside(upper) if upper else None

    def _held(self, shelf: Shelf) -> Held:
        wares = sum(n * self.towers[ware.row][0].mass for ware, n in self.wares_on(shelf))
        from_above, weights = [], []
        for upper, n in self.shelves_over(shelf):
            posts, held = self.standing.legs[upper.row].mass, self.held[upper.row]
            places = zip(upper.posts_at, held.loads, strict=True)
            from_above += [(place, n * (load + posts)) for place, load in places]
            weights += [(held.centre, n * held.mass)]
            weights += [(place, n * posts) for place in upper.posts_at]
        return hold(shelf, wares, from_above, weights)


def per_piece(upper: Row, lower: Row) -> int:
    """How many of a row, stacks as one, the fullest of another carries."""
    return -(-feet(upper) // feet(lower))
