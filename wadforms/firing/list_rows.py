"""Reads one row of a firing list: a pot, a shelf, posts, cones or draw rings."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any, Final

from wadforms.catalogue import find
from wadforms.errors import BadInput, Fault, NotMakeable, UnknownName
from wadforms.families.base import BODIES
from wadforms.firing.candidates import candidate, cone_seat
from wadforms.firing.list_columns import BARE, COLUMNS, LID, MARKS, NEEDED, USED
from wadforms.firing.list_feet import Drawings, read_foot
from wadforms.firing.rows import (
    CONES,
    FLOOR,
    POST,
    SHELF,
    Cones,
    Lid,
    Posts,
    Row,
    Shelf,
    Ware,
)
from wadforms.firing.tables import Line
from wadforms.geometry.contour import Point
from wadforms.setting.feet import FlatFoot, Foot, GalleryFoot, PlaneFoot, SideFoot
from wadforms.setting.limits import PLACES
from wadforms.setting.pot import Pot
from wadforms.setting.sizing import Candidate

INSET: Final = 40.0
"""How far from the edges posts stand where the list does not tell [mm] (common practice that
they stand near the edges, no source for how near)."""

MOST_POSTS: Final = 12
"""As many may hold one shelf."""

LONGEST_NAME: Final = 120
"""As many letters may a name have: more find no place on a card of the crew sheet."""

WIDEST_GALLERY: Final = 3.0
"""Width of a gallery over that of its pot's foot: more is a slip of the pen (assumed)."""

_COLUMN_OF: Final = {
    "weight": "weight",
    "height": "height",
    "centre of gravity": "centre height",
    "foot diameter": "foot",
    "foot width": "foot width",
}
_COLUMN_OF_LID: Final = {
    "weight": "lid weight",
    "foot diameter": "gallery diameter",
    "foot width": "gallery width",
}


@dataclass(slots=True)
class Reading:
    """What the reading of all rows shares.

    Parameters
    ----------
    drawings : Drawings
        What is beside the list.
    shapes_in : sequence of Path
        Folders of the user's own shapes.
    """

    drawings: Drawings
    shapes_in: Sequence[Path] = ()
    _shapes: dict[str, Candidate | BadInput | NotMakeable] = field(default_factory=dict)

    def shape(self, name: str) -> Candidate:
        """The shape of a name, read once.

        Raises
        ------
        BadInput, NotMakeable
            There is none, or it cannot be used.
        """
        if name not in self._shapes:
            try:
                self._shapes[name] = candidate(find(name, self.shapes_in))
            except (BadInput, NotMakeable) as error:
                self._shapes[name] = error
        found = self._shapes[name]
        if isinstance(found, Candidate):
            return found
        raise found


def read_row(line: Line, kind: str | None, level: int | None, reading: Reading) -> Row | None:
    """What a row is about; None where something is wrong with it, which the row then tells.

    Parameters
    ----------
    line : Line
        The row.
    kind : str or None
        One of `KINDS`; None where the row tells it wrongly.
    level : int or None
        Of a shelf.
    reading : Reading
        What all rows share.
    """
    told = _common(line, kind, reading)
    if kind is None:
        return None  # what it should fill in is not known
    for column in COLUMNS:
        if line.filled(column.name) and column.name not in USED[kind]:
            line.fault(column.name, f"leave it empty: a row of kind {kind!r} has no use for it")
    for name in NEEDED[kind]:
        line.need(name)
    if kind == CONES:
        return None if line.faults else Cones(**told)
    if kind == SHELF:
        return _shelf(line, level, told)
    if kind == POST:
        return _posts(line, told, reading)
    return _ware(line, kind, told, reading)


def _common(line: Line, kind: str | None, reading: Reading) -> dict[str, Any]:
    """What every row tells."""
    name, place = line.text("name"), line.one_of("place", tuple(PLACES))
    if name is not None and name.lower() == FLOOR:
        line.fault("name", f"give another name: {FLOOR!r} is the kiln's floor")
    elif name is not None and len(name) > LONGEST_NAME:
        line.fault("name", f"give at most {LONGEST_NAME} letters")
    body = line.one_of("body", (*BODIES, BARE))
    mark = line.text("mark")
    shape = line.text("shape")
    asked_in = "shape"
    if mark is not None:
        word = mark.lower()
        if body == BARE:
            line.fault("mark", f"leave it empty: body is {BARE!r}, so nothing leaves a mark")
        elif word in MARKS:
            if body not in (None, MARKS[word]):
                right = f"a {word} mark is left by {MARKS[word]} wads; leave one of the two empty"
                line.fault("body", right)
            body = MARKS[word]
        elif shape not in (None, mark):
            line.fault("mark", "leave it empty, or give the same shape as in 'shape'")
        else:
            shape, asked_in = mark, "mark"
    if shape is not None and body == BARE and asked_in == "shape":
        line.fault("shape", f"leave it empty: body is {BARE!r}, so no shape goes under it")
    wads = None if body == BARE else body
    if kind == CONES and shape is None and wads is not None:
        _seat(line, wads)
    return {
        "row": line.row,
        "name": name,
        "count": line.count("count"),
        "place": PLACES[place or "sheltered"],
        "stands_on": line.text("stands on"),
        "body": wads,
        "bare": body == BARE,
        "shape": None if shape is None else _shape(line, asked_in, shape, wads, kind, reading),
    }


def _shape(
    line: Line, column: str, name: str, body: str | None, kind: str | None, reading: Reading
) -> Candidate | None:
    """The shape that a row asks for."""
    try:
        shape = reading.shape(name)
    except (BadInput, NotMakeable) as error:
        _unusable(line, column, error)
        return None
    if kind == CONES and shape.piece.faces:
        line.fault(column, "choose a cone seat: it holds pyrometric cones")
    elif kind != CONES and not shape.piece.faces:
        line.fault(column, "choose a shape that bears a pot; a cone seat holds pyrometric cones")
    elif body is not None and body not in shape.bodies:
        cell = "body" if line.filled("body") else "mark"
        line.fault(cell, f"{name} can be set {' or '.join(shape.bodies)}")
    return shape


def _seat(line: Line, body: str) -> None:
    """Tell a body that the usual seat of cones cannot have."""
    seat = cone_seat()
    if body not in seat.bodies:
        cell = "body" if line.filled("body") else "mark"
        line.fault(cell, f"{seat.name}, which holds them, can be set {' or '.join(seat.bodies)}")


def _unusable(line: Line, column: str, error: BadInput | NotMakeable) -> None:
    """Tell a shape's fault in the row that asks for it."""
    where = f"{line.where}, {column}"
    if not isinstance(error, BadInput):
        line.fault(column, str(error))
        return
    line.faults += [
        Fault(
            where if f.where == "shape" else f"{where}, {f.where}",
            f.given,
            _or_a_mark(line, f.right) if column == "mark" and f.where == "shape" else f.right,
        )
        for f in error.faults
    ]


def _or_a_mark(line: Line, shape: str) -> str:
    """What would be right where neither a mark nor a shape has the name."""
    near = UnknownName("", str(line.cells["mark"]), MARKS).faults[0].right
    return near if near.endswith("?") else f"give pale, coloured, or the name of a shape; {shape}"


def _ware(line: Line, kind: str, told: Mapping[str, Any], reading: Reading) -> Ware | None:
    mass, height = line.quantity("weight"), line.quantity("height")
    centre, off = line.quantity("centre height"), line.quantity("centre off", zero=True)
    foot, lid = _long(line, read_foot(line, reading.drawings)), _lid(line)
    stack, count = line.count("stack"), told["count"]
    if stack is not None and count is not None and count % stack:
        line.fault("stack", f"give a number that divides the count of {count}")
    _check(
        line,
        _COLUMN_OF,
        mass=mass and mass + (0.0 if lid is None else lid.mass),
        foot=foot,
        height=height,
        centre_height=centre,
    )
    if lid is not None and foot is not None and foot.kind == "side":
        line.fault("lid weight", "leave the lid out: a pot on its side drops it")
    if lid is not None and isinstance(foot, PlaneFoot):
        widest = WIDEST_GALLERY * 2.0 * foot.reach
        if lid.gallery.diameter > widest:
            right = (
                f"check it and the foot: no pot that stands has a mouth more than "
                f"{WIDEST_GALLERY:g} times as wide as its foot, here {widest:g} mm"
            )
            line.fault("gallery diameter", right)
    if line.faults or mass is None or foot is None:
        return None
    return Ware(
        **told,
        kind=kind,
        mass=mass,
        foot=foot,
        height=height,
        centre_height=centre,
        centre=(off or 0.0, 0.0),
        lid=lid,
        stack=stack or 1,
    )


def _long(line: Line, foot: Foot | None) -> Foot | None:
    """A foot with how far it bears, which only a pot on its side has."""
    length = line.quantity("length")
    if isinstance(foot, SideFoot):
        return replace(foot, length=length)
    if foot is not None and line.filled("length"):
        line.fault("length", "leave it empty: it is for shelves and for pots on their side")
    return foot


def _lid(line: Line) -> Lid | None:
    mass = line.quantity("lid weight")
    diameter, width = line.quantity("gallery diameter"), line.quantity("gallery width")
    given = [column for column in LID if line.filled(column)]
    if given and len(given) < len(LID):
        right = f"a lid fired on its pot needs {LID[0]}, {LID[1]} and {LID[2]}; give all or none"
        for column in LID:
            if column not in given:
                line.fault(column, right)
    if diameter is None or width is None:
        return None
    try:
        gallery = GalleryFoot(diameter, width)
    except BadInput as error:
        _tell(line, error, _COLUMN_OF_LID)
        return None
    _check(line, _COLUMN_OF_LID, mass=mass, foot=gallery)
    return None if mass is None else Lid(mass=mass, gallery=gallery)


def _posts(line: Line, told: Mapping[str, Any], reading: Reading) -> Posts | None:
    mass, height = line.quantity("weight"), line.quantity("height")
    foot = read_foot(line, reading.drawings)
    if foot is not None and foot.kind in ("round", "side"):
        line.fault("foot kind", "give flat, ring, square or outline: a post stands on its end")
    _check(line, _COLUMN_OF, mass=mass, foot=foot, height=height)
    if line.faults or mass is None or height is None or foot is None:
        return None
    return Posts(**told, mass=mass, height=height, foot=foot)


def _shelf(line: Line, level: int | None, told: Mapping[str, Any]) -> Shelf | None:
    mass = line.quantity("weight")
    length, width = line.quantity("length"), line.quantity("width")
    _check(line, _COLUMN_OF, mass=mass, foot=FlatFoot(100.0))
    for column, side in (("length", length), ("width", width)):
        if side is not None:
            _check(line, {"foot diameter": column}, mass=1000.0, foot=FlatFoot(side))
    posts, load = line.points("posts at"), line.point("load at")
    if length is None or width is None:
        return None
    assumed = []
    on_floor = (told["stands_on"] or "").lower() == FLOOR
    if on_floor and line.filled("posts at"):
        line.fault("posts at", f"leave it empty: the shelf lies on the {FLOOR}")
    if posts is not None:
        _look_at(line, posts, length, width)
    elif not on_floor and not line.filled("posts at"):
        posts = _usual_posts(line, length, width)
        assumed.append(
            f"it stands on three posts, {INSET:g} mm in from its edges: {_written(posts)}"
        )
    if load is not None:
        _within(line, "load at", [load], length, width)
    elif not line.filled("load at"):
        load = (length / 2, width / 2)
        assumed.append("its load acts in its middle")
    if line.faults or mass is None or load is None:
        return None
    return Shelf(
        **told,
        mass=mass,
        length=length,
        width=width,
        level=level,
        posts_at=posts or (),
        load_at=load,
        assumed=tuple(assumed),
    )


def _usual_posts(line: Line, length: float, width: float) -> tuple[Point, ...]:
    """Two near the corners of one long side, and one in the middle of the other."""
    if min(length, width) <= 2 * INSET:
        right = f"say where posts hold a shelf that is no wider than {2 * INSET:g} mm"
        line.fault("posts at", right)
    if length >= width:
        return (INSET, INSET), (length - INSET, INSET), (length / 2, width - INSET)
    return (INSET, INSET), (INSET, width - INSET), (length - INSET, width / 2)


def _look_at(line: Line, posts: Sequence[Point], length: float, width: float) -> None:
    if not 3 <= len(posts) <= MOST_POSTS:
        line.fault("posts at", f"give 3 to {MOST_POSTS} points: on fewer a shelf tips")
    elif len(set(posts)) < len(posts):
        line.fault("posts at", "give each point once")
    _within(line, "posts at", posts, length, width)


def _within(line: Line, column: str, points: Sequence[Point], length: float, width: float) -> None:
    beside = [(x, y) for x, y in points if not (0 <= x <= length and 0 <= y <= width)]
    if beside:
        right = f"give points on the shelf of {length:g} × {width:g} mm; these are beside it: "
        line.fault(column, right + _written(beside))


def _written(points: Sequence[Point]) -> str:
    """Points as a list has them."""
    return "; ".join(f"{x:g} {y:g}" for x, y in points)


def _check(
    line: Line,
    column_of: Mapping[str, str],
    *,
    mass: float | None,
    foot: Foot | None,
    height: float | None = None,
    centre_height: float | None = None,
) -> None:
    """Tell what no pot can be, even where other cells are at fault already."""
    try:
        Pot(
            mass=mass or 1.0,
            foot=foot or FlatFoot(1.0),
            height=height,
            centre_height=centre_height,
        )
    except BadInput as error:
        _tell(line, error, column_of)


def _tell(line: Line, error: BadInput, column_of: Mapping[str, str]) -> None:
    """Tell a fault of a pot at the cell that it comes from."""
    for fault in error.faults:
        line.fault(column_of[fault.where], fault.right)
