"""The slab layout: as many pieces as a rolled slab or a sheet yields, and what is left over.

One shape lies in rows, disks in staggered ones; several lie in bands, one a shape, or as a
search finds them.  Yield and waste are computed from the exact outlines.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import Final, NamedTuple

from wadforms.errors import BadInput, Fault, NotMakeable
from wadforms.geometry.outline import Outline
from wadforms.nesting import mixed, nest
from wadforms.nesting.spots import Spot
from wadforms.templates.words import measure, plan_size

LARGEST: Final = 3000.0
"""Longest side of a slab [mm]; no kiln-room table holds more."""

MOST: Final = 20_000
"""Pieces on one slab; more are no wads."""


class SlabItem(NamedTuple):
    """A shape that is cut from the slab.

    Parameters
    ----------
    name : str
        What it is called.
    outline : Outline
        As it is cut [mm].
    wanted : int or None
        How many are wanted, or how many make a set; None for as many as there is room for.
    """

    name: str
    outline: Outline
    wanted: int | None = None


class Cut(NamedTuple):
    """One piece on the slab, from the slab's lower left corner.

    Parameters
    ----------
    item : int
        Which of the items.
    spot : Spot
        Where its outline lies [mm].
    """

    item: int
    spot: Spot


class SlabLayout(NamedTuple):
    """What a slab yields.

    Parameters
    ----------
    items : tuple of SlabItem
        What was asked for.
    slab : (float, float)
        Width and depth [mm].
    cuts : tuple of Cut
        Every piece.
    sets : int or None
        How many whole sets; None where counts or a single shape were asked for.
    how : str
        How they lie, in plain words.
    gap, edge : float
        Kept between two pieces, and free along the edges [mm].
    """

    items: tuple[SlabItem, ...]
    slab: tuple[float, float]
    cuts: tuple[Cut, ...]
    sets: int | None
    how: str
    gap: float
    edge: float

    @property
    def counts(self) -> tuple[int, ...]:
        """How many there are of each item."""
        found = [0] * len(self.items)
        for cut in self.cuts:
            found[cut.item] += 1
        return tuple(found)

    @property
    def slab_area(self) -> float:
        """Of the slab [mm²]."""
        return self.slab[0] * self.slab[1]

    @property
    def area(self) -> float:
        """Of all pieces together, their holes left out [mm²]."""
        pairs = zip(self.items, self.counts, strict=True)
        return math.fsum(item.outline.area * count for item, count in pairs)

    @property
    def yield_share(self) -> float:
        """Part of the slab that becomes pieces."""
        return self.area / self.slab_area

    @property
    def waste_share(self) -> float:
        """Part of the slab that is left over."""
        return 1.0 - self.yield_share

    def placed(self) -> Iterator[tuple[int, Outline]]:
        """Yield every piece's outline where it lies on the slab, with the item it is of."""
        for k, spot in self.cuts:
            yield k, spot.place(self.items[k].outline)


def slab_layout(
    items: Sequence[SlabItem],
    *,
    slab: tuple[float, float],
    gap: float = 2.0,
    edge: float = 0.0,
    in_sets: bool = False,
    seconds: float = 0.0,
    seed: int = 0,
) -> SlabLayout:
    """Lay pieces on a slab.

    A single shape without a count fills the slab.  Several without counts make sets of one
    each, and as many whole sets are laid as the slab takes; with counts, just these are laid,
    or as many sets of them with `in_sets`.

    Parameters
    ----------
    items : sequence of SlabItem
        The shapes, all with a count or none.
    slab : (float, float)
        Width and depth [mm].
    gap : float
        The least distance between two pieces [mm].
    edge : float
        Kept free along the slab's edges [mm].
    in_sets : bool
        Whether the counts make a set, to be laid as often as there is room.
    seconds : float
        How long to search for more than rows and bands give [s]; 0 for those alone, which are
        the same in every run.
    seed : int
        Of that search, which stops by the clock: the same seed makes a like result likely, but
        not certain.

    Raises
    ------
    BadInput
        A size, a count or the time is out of bounds.
    NotMakeable
        The slab takes no piece, or not so many as are wanted.

    Examples
    --------
    >>> found = slab_layout([SlabItem("disk", Outline.circle(20))], slab=(210, 297), gap=0)
    >>> len(found.cuts), found.how, round(found.waste_share, 3)
    (39, 'staggered rows', 0.214)
    """
    _check(items, slab, gap, edge, in_sets=in_sets)
    inner = (slab[0] - 2 * edge, slab[1] - 2 * edge)
    _refuse_crowd(items, inner)
    if len(items) == 1 and not in_sets:
        outline, count = items[0].outline, items[0].wanted
        found = nest(
            outline,
            gap=gap,
            width=inner[0],
            height=inner[1],
            count=count,
            seconds=seconds,
            seed=seed,
        )
        cuts = tuple(Cut(0, s._replace(x=s.x + edge, y=s.y + edge)) for s in found.spots)
        _refuse(items, cuts, slab, len(cuts) < (count or 1), seconds)
        return SlabLayout(tuple(items), slab, cuts, None, found.how, gap, edge)
    exact = not in_sets and items[0].wanted is not None
    several = mixed(
        [item.outline for item in items],
        [item.wanted or 1 for item in items],
        gap=gap,
        width=inner[0],
        height=inner[1],
        sets=1 if exact else None,
        seconds=seconds,
        seed=seed,
    )
    cuts = tuple(Cut(k, s._replace(x=s.x + edge, y=s.y + edge)) for k, s in several.placed)
    _refuse(items, cuts, slab, several.sets < 1, seconds)
    sets = None if exact else several.sets
    return SlabLayout(tuple(items), slab, cuts, sets, several.how, gap, edge)


def _check(
    items: Sequence[SlabItem],
    slab: tuple[float, float],
    gap: float,
    edge: float,
    *,
    in_sets: bool,
) -> None:
    """Whether sizes and counts make sense.

    Raises
    ------
    BadInput
        With all that is wrong.
    """
    faults = []
    for side in slab:
        if not 0.0 < side <= LARGEST:
            faults.append(Fault("slab", f"{side:g} mm", f"give a side of up to {LARGEST:g} mm"))
    for where, value in (("gap", gap), ("edge", edge)):
        if not 0.0 <= value <= 100.0:
            faults.append(Fault(where, f"{value:g} mm", "give 0 mm to 100 mm"))
    if not faults and 2 * edge >= min(slab):
        faults.append(Fault("edge", f"{edge:g} mm", f"leave something of {min(slab):g} mm"))
    if not items:
        faults.append(Fault("shapes", "none", "name one or more"))
    counted = [item for item in items if item.wanted is not None]
    if 0 < len(counted) < len(items):
        given = f"a count for {counted[0].name}, but not for all"
        faults.append(Fault("shapes", given, "give each its count, or none"))
    faults += [
        Fault(f"count of {item.name}", str(item.wanted), f"give 1 to {MOST}")
        for item in counted
        if not 1 <= (item.wanted or 0) <= MOST
    ]
    names = [item.name for item in items]
    for name in dict.fromkeys(n for n in names if names.count(n) > 1):
        faults.append(Fault("shapes", f"{name} twice", "name it once, with its count"))
    if in_sets and not counted and items:
        faults.append(Fault("sets", "no counts", "say how many of each make a set"))
    if faults:
        raise BadInput(*faults)


def _refuse_crowd(items: Sequence[SlabItem], inner: tuple[float, float]) -> None:
    """Refuse what would take very long: more pieces than a slab of wads has.

    Raises
    ------
    BadInput
        With the smallest piece.
    """
    smallest = min(item.outline.area for item in items)
    wanted = [item.wanted for item in items if item.wanted is not None]
    if not wanted and inner[0] * inner[1] / smallest > MOST:
        given = f"{inner[0]:g} × {inner[1]:g} mm for pieces of {smallest:.3g} mm²"
        raise BadInput(Fault("slab", given, f"give one that takes at most {MOST} pieces"))


def _refuse(
    items: Sequence[SlabItem],
    cuts: Sequence[Cut],
    slab: tuple[float, float],
    short: bool,
    seconds: float,
) -> None:
    """Refuse a slab that does not hold what is wanted.

    Raises
    ------
    NotMakeable
        With what it does hold.
    """
    if not short:
        return
    size = f"{measure(slab[0])} × {measure(slab[1])} mm"
    if len(items) == 1 and cuts:
        raise NotMakeable(
            f"{items[0].wanted} × {items[0].name} do not fit a slab of {size}; {len(cuts)} do"
        )
    if len(items) == 1:
        outline = items[0].outline
        raise NotMakeable(f"{items[0].name}, {plan_size(outline)} mm, is larger than {size}")
    what = ", ".join(f"{item.wanted or 1} × {item.name}" for item in items)
    area = math.fsum(item.outline.area * (item.wanted or 1) for item in items)
    share = 100.0 * area / (slab[0] * slab[1])
    longer = "" if seconds or share > 100.0 else ", or search for a tighter order with --search 20"
    raise NotMakeable(
        f"no way was found to lay {what} on a slab of {size}; the pieces alone take "
        f"{share:.0f} % of it: take fewer, or a larger slab{longer}"
    )
