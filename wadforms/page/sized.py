"""A shape at the sizes that its fields say: the same calls that `wadforms shapes` makes."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Final, NamedTuple

from wadforms import units
from wadforms.cli.options import ShapeOptions
from wadforms.errors import Fault, NotMakeable, WadformsError
from wadforms.page.pots import faults_of

if TYPE_CHECKING:
    from wadforms.catalogue import Shape
    from wadforms.families.base import Family, Parameter
    from wadforms.page.pieces import Box

OUTLINE: Final = "outline"
_STEPS: Final = {"mm": 0.5, "deg": 0.5, "share": 0.01, "parts": 1.0, "count": 1.0}
_FINE: Final = 10.0  # a range shorter than this is stepped through finely [mm, deg]


class Shown(NamedTuple):
    """What can be shown of a shape.

    Parameters
    ----------
    picture : str
        The piece with its measures, or the outline with its faults, as SVG.
    facts : tuple of (str, str)
        What it is, in words.
    places : tuple of str
        The faults that are marked on the picture, in their order.
    faults : tuple of Fault
        What is wrong with what was typed, or why it cannot be made.
    stl : bytes
        The piece in three dimensions; empty where there is none.
    box : tuple or None
        Where it lies [mm].
    values : mapping
        Number of each parameter, in its unit [mm, deg, or a bare count].
    """

    picture: str = ""
    facts: tuple[tuple[str, str], ...] = ()
    places: tuple[str, ...] = ()
    faults: tuple[Fault, ...] = ()
    stl: bytes = b""
    box: Box | None = None
    values: Mapping[str, float] = {}


def shown(
    name: str, changes: Mapping[str, str], folders: Sequence[Path] = (), title: str = ""
) -> Shown:
    """Show a shape with changes to its sizes.

    Parameters
    ----------
    name : str
        A shape or a family.
    changes : mapping
        Parameter to text.
    folders : sequence of Path
        The visitor's own shapes.
    title : str
        What to call it, where not by its name.

    Examples
    --------
    >>> shown("disk-20", {"height": "12 mm"}).facts[0]
    ('size', '20 × 20 mm, 12 mm high')
    >>> shown("disk-20", {"height": "12 miles"}).faults[0].where
    'height'
    """
    from wadforms.cli.reading import read_shape
    from wadforms.cli.shapes import facts
    from wadforms.page.pieces import bounds, inline, triangles
    from wadforms.templates.piece_picture import piece_picture

    given = [f"{key}={value.strip()}" for key, value in changes.items() if value.strip()]
    try:
        found, values = read_shape(name, ShapeOptions(given, list(folders)))
        size = found.sized(values)
    except WadformsError as error:
        return Shown(faults=faults_of(error))
    now = values_of(size)
    try:
        piece = size.piece()
    except NotMakeable as error:
        picture, places = _with_faults(size)
        return Shown(picture, places=places, faults=faults_of(error), values=now)
    stl = triangles(piece)
    told = tuple(facts(found, size, piece))
    if size.weak_places():
        picture, places = _with_faults(size)
    else:
        picture, places = inline(piece_picture(title or found.name, piece)), ()
    return Shown(picture, told, places, (), stl, bounds(stl), now)


def values_of(size: Family) -> dict[str, float]:
    """The numbers that a shape is sized by, each in its parameter's unit.

    Examples
    --------
    >>> from wadforms.catalogue import find
    >>> values_of(find("disk-20").sized())["diameter"]
    20.0
    """
    values = {p.name: getattr(size, p.name) for p in size.parameters()}
    return {k: float(v) for k, v in values.items() if isinstance(v, int | float)}


def slider(parameter: Parameter) -> tuple[float, float, float] | None:
    """Smallest and largest value and the step of a parameter's slider, in its unit.

    Examples
    --------
    >>> from wadforms.families.disk import Disk
    >>> [slider(p) for p in Disk.parameters() if p.name == "height"]
    [(3.0, 60.0, 0.5)]
    """
    if parameter.unit not in _STEPS:
        return None
    step = _STEPS[parameter.unit]
    if parameter.high - parameter.low < _FINE and step == 0.5:
        step = 0.1
    return parameter.low, parameter.high, step


def typed_unit(parameter: Parameter) -> str:
    """The unit as it is typed behind a number.

    Examples
    --------
    >>> from wadforms.families.disk import Disk
    >>> [typed_unit(p) for p in Disk.parameters() if p.name in ("height", "draft")]
    ['mm', 'deg']
    """
    return parameter.unit if parameter.unit in ("mm", "deg") else ""


def as_typed(shape: Shape, parameter: Parameter, value: object) -> str:
    """A value as it would be typed.

    Examples
    --------
    >>> from wadforms.catalogue import find
    >>> disk = find("disk-20")
    >>> [as_typed(disk, p, 8.0) for p in disk.sized().parameters() if p.name == "height"]
    ['8 mm']
    """
    if isinstance(value, int | float):
        return f"{value:g} {typed_unit(parameter)}".strip()
    return str(value)


def _with_faults(size: Family) -> tuple[str, tuple[str, ...]]:
    """The outline with everything that is wrong with it marked and told in words."""
    from dataclasses import replace

    from wadforms.families.custom import Custom
    from wadforms.page.pieces import inline, marked

    if not isinstance(size, Custom):
        return "", ()
    tight = replace(size, ease="yes").easing()
    places = [(p.at, str(p)) for p in size.weak_places()]
    for place in tight.places if tight and size.ease == "no" else ():
        x, y = place.at
        what = "a bend of radius" if place.kind == "bend" else "a gap only"
        wide = "" if place.kind == "bend" else " wide"
        words = f"{what} {units.show(place.width, 'mm')}{wide}, too tight for the walls"
        places.append((place.at, f"{words}, at ({x:.1f}, {y:.1f}) mm"))
    drawing = marked(size.drawn, [at for at, _ in places])
    return inline(drawing), tuple(words for _, words in places)
