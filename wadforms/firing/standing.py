"""What stands on what in a firing list, by the names that its rows give."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from graphlib import CycleError, TopologicalSorter
from typing import Final, TypeAlias

from wadforms.errors import BadInput, Fault, UnknownName
from wadforms.firing.rows import FLOOR, Cones, FiringList, Posts, Row, Shelf, Ware

MOST_STACKED: Final = 100
"""How many may stand in one stack: more than any kiln is high."""

Below: TypeAlias = Row | str | None
"""What something stands on: a row, `FLOOR`, or what the list does not tell."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Legs:
    """What holds a shelf.

    Parameters
    ----------
    posts : tuple of Posts
        From the shelf down: one row, or several that stand on each other.
    lower : Shelf, str or None
        What the lowest stand on: a shelf, `FLOOR`, or what the list does not tell.
    """

    posts: tuple[Posts, ...]
    lower: Shelf | str | None

    @property
    def height(self) -> float:
        """Of the posts that stand on each other [mm]."""
        return sum(post.height for post in self.posts)

    @property
    def mass(self) -> float:
        """Of the posts that stand on each other in one place [g]."""
        return sum(post.mass for post in self.posts)


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """Who stands on whom.

    Parameters
    ----------
    below : mapping of int to Row, str or None
        For each row, by its number, what it stands on.
    legs : mapping of int to Legs
        For each shelf that stands on posts, by its row, what holds it.
    from_above : tuple of int
        Rows of wares and shelves, each before what it stands on.
    """

    below: Mapping[int, Below]
    legs: Mapping[int, Legs]
    from_above: tuple[int, ...]


def standing(firing: FiringList) -> Standing:
    """Find what each row stands on.

    Raises
    ------
    BadInput
        With every fault: a name that no row has or several have, a thing that cannot carry what
        stands on it, things that stand on each other in a circle.

    Examples
    --------
    >>> from wadforms.setting.feet import FlatFoot
    >>> from wadforms.setting.limits import PLACES
    >>> cup = Ware(
    ...     row=2, name="Cup", count=1, place=PLACES["sheltered"], stands_on="Shelve",
    ...     mass=300.0, foot=FlatFoot(50.0),
    ... )
    >>> standing(FiringList(where="list.csv", wares=(cup,)))
    Traceback (most recent call last):
    ...
    wadforms.errors.BadInput: list.csv, row 2, stands on: 'Shelve' was given; one of Cup, floor
    """
    faults = _stacks(firing)
    below: dict[int, Below] = {}
    named: defaultdict[str, list[Row]] = defaultdict(list)
    for row in firing.rows:
        named[row.name].append(row)
    for row in firing.rows:
        found = _below(row, named, firing.where)
        if isinstance(found, Fault):
            faults.append(found)
        else:
            below[row.row] = found
    if faults:
        raise BadInput(*faults)
    _no_circles(firing, {n: b.row for n, b in below.items() if isinstance(b, Row)})
    levels: defaultdict[int | None, list[Shelf]] = defaultdict(list)
    for shelf in firing.shelves:
        levels[shelf.level].append(shelf)
    legs = {}
    for shelf in firing.shelves:
        upper = below[shelf.row]
        if isinstance(upper, Posts):
            legs[shelf.row] = _legs(shelf, upper, levels, below)
    # Posts that serve several levels stand on as many shelves: a shelf's legs say which.
    carriers = {n: b.row for n, b in below.items() if isinstance(b, Ware | Shelf)}
    carriers |= {n: held.lower.row for n, held in legs.items() if isinstance(held.lower, Shelf)}
    order = _no_circles(firing, carriers)
    loaded = {row.row for row in (*firing.wares, *firing.shelves)}
    return Standing(below=below, legs=legs, from_above=tuple(n for n in order if n in loaded))


def feet(row: Row) -> int:
    """How many of a row stand on what is below; a stack counts as one."""
    return row.count // row.stack if isinstance(row, Ware) else row.count


def said(row: Row, words: str) -> str:
    """A sentence about a row.

    Examples
    --------
    >>> from wadforms.setting.limits import PLACES
    >>> said(Cones(row=4, name="Cones", count=2, place=PLACES["sheltered"]), "they lean")
    'row 4, Cones: they lean'
    """
    return f"row {row.row}, {row.name}: {words}"


def listed(words: Sequence[str]) -> str:
    """Words one after the other.

    Examples
    --------
    >>> listed(["12 × Mug", "4 × Jar", "1 × Bottle"])
    '12 × Mug, 4 × Jar and 1 × Bottle'
    """
    return " and ".join(filter(None, [", ".join(words[:-1]), *words[-1:]]))


def _stacks(firing: FiringList) -> list[Fault]:
    faults = []
    for ware in firing.wares:
        where = f"{firing.where}, row {ware.row}, stack"
        if ware.stack > MOST_STACKED:
            faults.append(Fault(where, str(ware.stack), f"give at most {MOST_STACKED}"))
        elif ware.count % ware.stack:
            right = f"give a number that divides the count of {ware.count}"
            faults.append(Fault(where, str(ware.stack), right))
    return faults


def _below(row: Row, named: Mapping[str, Sequence[Row]], where: str) -> Below | Fault:
    """What one row stands on, or what is wrong with the name that it gives."""
    name = row.stands_on
    if name is None or name == FLOOR:
        return name
    where = f"{where}, row {row.row}, stands on"
    if name not in named:
        return UnknownName(where, name, [*named, FLOOR]).faults[0]
    if len(named[name]) > 1:
        rows = " and ".join(str(other.row) for other in named[name])
        return Fault(where, repr(name), f"rows {rows} have that name; give each its own")
    lower = named[name][0]
    if isinstance(row, Shelf):
        fits, right = isinstance(lower, Posts), "a shelf stands on posts, or on the floor"
    elif isinstance(row, Posts):
        fits = isinstance(lower, Posts | Shelf)
        right = "posts stand on a shelf, on other posts, or on the floor"
    else:
        fits = isinstance(lower, Ware | Shelf)
        right = "it stands on a shelf, on another pot, or on the floor"
    if isinstance(lower, Cones):
        fits = False
    return lower if fits else Fault(where, repr(name), f"{right}; give the name of such a row")


def _legs(
    shelf: Shelf,
    top: Posts,
    levels: Mapping[int | None, list[Shelf]],
    below: Mapping[int, Below],
) -> Legs:
    posts, lower = [top], below[top.row]
    while isinstance(lower, Posts):
        posts.append(lower)
        lower = below[lower.row]
    if lower is None:
        lower = _by_level(shelf, levels)
    return Legs(posts=tuple(posts), lower=lower if isinstance(lower, Shelf | str) else None)


def _by_level(shelf: Shelf, levels: Mapping[int | None, list[Shelf]]) -> Shelf | str | None:
    """What the posts under a shelf stand on where only levels tell: the shelf one level below."""
    if shelf.level is None:
        return None
    lower = levels.get(shelf.level - 1, [])
    if not lower and shelf.level <= 1:
        return FLOOR
    return lower[0] if len(lower) == 1 else None


def _no_circles(firing: FiringList, under: Mapping[int, int]) -> tuple[int, ...]:
    """All rows, each before what it stands on."""
    above: dict[int, list[int]] = {row.row: [] for row in firing.rows}
    for upper, lower in under.items():
        above[lower].append(upper)
    try:
        return tuple(TopologicalSorter(above).static_order())
    except CycleError as error:
        names = {row.row: row.name for row in firing.rows}
        circle = error.args[1]
        given = ", which stands on ".join(repr(names[n]) for n in reversed(circle))
        where = f"{firing.where}, row {min(circle)}, stands on"
        right = "let one of them stand on a shelf or on the floor"
        raise BadInput(Fault(where, given, right)) from None
