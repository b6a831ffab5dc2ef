"""What stands in the rows of a firing list."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Final

from wadforms.geometry.contour import Point
from wadforms.setting.feet import Foot, GalleryFoot
from wadforms.setting.limits import Place
from wadforms.setting.sizing import Candidate

POT: Final = "pot"
DRAW_RING: Final = "draw ring"
SHELF: Final = "shelf"
POST: Final = "post"
CONES: Final = "cones"
KINDS: Final = (POT, SHELF, POST, CONES, DRAW_RING)
"""What a row may be about."""

FLOOR: Final = "floor"
"""What stands on the kiln's floor says so by this word."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """What every row tells.

    Parameters
    ----------
    row : int
        Where it stands in its list.
    name : str
        What it is.
    count : int
        How many.
    place : Place
        Where in the kiln.
    stands_on : str or None
        Name of the row below, or `FLOOR`; None for a shelf that the list does not tell.
    body : str or None
        How the wads under it must be set; None leaves it open.
    bare : bool
        Whether it is meant to stand without wads.
    shape : Candidate or None
        Which shape must be under it; None leaves it open.
    """

    row: int
    name: str
    count: int
    place: Place
    stands_on: str | None = None
    body: str | None = None
    bare: bool = False
    shape: Candidate | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Lid:
    """A lid fired on its pot: its weight [g], and the gallery that it sits on."""

    mass: float
    gallery: GalleryFoot


@dataclass(frozen=True, slots=True, kw_only=True)
class Ware(Row):
    """One kind of ware, or of draw rings.

    Parameters
    ----------
    kind : str
        `POT` or `DRAW_RING`.
    mass : float
        Of one, without its lid [g].
    foot : Foot
        What it bears on.
    height, centre_height : float or None
        Of the pot, and of its centre of gravity above the foot [mm].
    centre : (float, float)
        Of gravity, in plan from the middle of the foot [mm].
    lid : Lid or None
        Fired on it.
    stack : int
        How many stand in one stack, each on the one below.
    """

    kind: str = POT
    mass: float
    foot: Foot
    height: float | None = None
    centre_height: float | None = None
    centre: Point = (0.0, 0.0)
    lid: Lid | None = None
    stack: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Shelf(Row):
    """Kiln shelves that are alike, each on its own posts.

    Parameters
    ----------
    mass : float
        Of one [g].
    length, width : float
        In plan [mm].
    level : int or None
        Counted from the floor.
    posts_at : tuple of (float, float)
        Where posts hold it, from the corner that all levels of a stack share [mm].
    load_at : (float, float)
        Where its load acts, from the same corner [mm].
    assumed : tuple of str
        Which of these were assumed, in words.
    """

    mass: float
    length: float
    width: float
    level: int | None = None
    posts_at: tuple[Point, ...]
    load_at: Point
    assumed: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Posts(Row):
    """Posts that are alike; they stand where the shelf above says.

    Parameters
    ----------
    mass : float
        Of one [g].
    height : float
        Of one [mm].
    foot : Foot
        Its end, the same at the top and at the bottom.
    """

    mass: float
    height: float
    foot: Foot


@dataclass(frozen=True, slots=True, kw_only=True)
class Cones(Row):
    """Sets of pyrometric cones, each in a seat of clay."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FiringList:
    """Everything that goes into the kiln.

    Parameters
    ----------
    where : str
        The file, for messages.
    wares, shelves, posts, cones : tuple
        The rows of each kind, in the order of the list.
    notes : tuple of str
        How the file was read, where that was not plain.
    """

    where: str
    wares: tuple[Ware, ...] = ()
    shelves: tuple[Shelf, ...] = ()
    posts: tuple[Posts, ...] = ()
    cones: tuple[Cones, ...] = ()
    notes: tuple[str, ...] = field(default=())

    @property
    def rows(self) -> tuple[Row, ...]:
        """All rows, in the order of the list."""
        every: list[Row] = [*self.wares, *self.shelves, *self.posts, *self.cones]
        return tuple(sorted(every, key=lambda row: row.row))
