"""A drawing: what is on a sheet, in mm with y up, without a word about file formats.

Curves stay what they are: the outlines of lines and arcs are placed on the sheet, never
flattened.  A writer needs to know the few primitive items only; a `Dimension` and a `Cross`
tell of which primitives they are made.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final, Literal, TypeAlias

from wadforms.geometry.contour import Point
from wadforms.geometry.outline import Outline

Anchor: TypeAlias = Literal["start", "middle", "end"]

_CAP_HEIGHT: Final = 0.72  # of the size of the type; sans-serif faces lie within 0.70–0.73


@dataclass(frozen=True, slots=True)
class Style:
    """How lines and areas look.

    Parameters
    ----------
    name : str
        What it is for.
    stroke : str or None
        Colour of the line as ``#rrggbb``; None draws none.
    width : float
        Of the line [mm].
    fill : str or None
        Colour of the area; None leaves it open.
    dash : tuple of float
        Lengths of dashes and gaps [mm]; empty for an unbroken line.
    opacity : float
        Of the area, as a share: 1 hides what lies below, less lets it show through.
    """

    name: str
    stroke: str | None = None
    width: float = 0.0
    fill: str | None = None
    dash: tuple[float, ...] = ()
    opacity: float = 1.0


@dataclass(frozen=True, slots=True)
class Lettering:
    """How text looks.

    Parameters
    ----------
    name : str
        What it is for.
    size : float
        Of the type, from baseline to baseline when set solid [mm].
    ink : str
        Colour as ``#rrggbb``.
    bold : bool
        Whether it is heavy.
    """

    name: str
    size: float
    ink: str
    bold: bool = False

    def width(self, text: str) -> float:
        """How wide `text` will be at most [mm], whichever sans-serif face is at hand.

        The face is the reader's, so this is an upper estimate by kinds of letters, made for
        the widest of the common ones; layouts that keep to it do not collide.

        Examples
        --------
        >>> plain = Lettering("plain", 3.0, "#000000")
        >>> plain.width("ill") < plain.width("wad") < plain.width("WADS")
        True
        """
        return self.size * (1.06 if self.bold else 1.0) * sum(map(_advance, text))

    @property
    def rise(self) -> float:
        """Height of a capital above the baseline [mm]."""
        return _CAP_HEIGHT * self.size


def _advance(letter: str) -> float:
    """Upper estimate of how far one letter takes the pen, in units of the type's size."""
    if letter in "ijlI|.,:;'!·":
        return 0.34
    if letter in "ftr()[]-/ ":
        return 0.42
    if letter in "mwMW@%—→":
        return 1.0
    return 0.76 if letter.isupper() else 0.65


@dataclass(frozen=True, slots=True)
class Region:
    """An area with its edge, arcs kept as arcs."""

    outline: Outline
    style: Style


@dataclass(frozen=True, slots=True)
class Lines:
    """Straight lines of one style, each from a point to a point [mm]."""

    spans: tuple[tuple[Point, Point], ...]
    style: Style


@dataclass(frozen=True, slots=True)
class Circle:
    """A circle; `radius` in mm."""

    centre: Point
    radius: float
    style: Style


@dataclass(frozen=True, slots=True)
class Arc:
    """An open arc about `centre`, from the angle `start` on over `sweep` [deg], both from +x."""

    centre: Point
    radius: float
    start: float
    sweep: float
    style: Style


@dataclass(frozen=True, slots=True)
class Text:
    """One line of text whose baseline begins, is centred or ends at `at` [mm]."""

    at: Point
    text: str
    lettering: Lettering
    anchor: Anchor = "start"

    @property
    def box(self) -> tuple[float, float, float, float]:
        """Smallest x, smallest y, largest x, largest y that it may need [mm]."""
        width, size = self.lettering.width(self.text), self.lettering.size
        x0 = self.at[0] - width * {"start": 0.0, "middle": 0.5, "end": 1.0}[self.anchor]
        return x0, self.at[1] - 0.24 * size, x0 + width, self.at[1] + 0.8 * size


@dataclass(frozen=True, slots=True)
class Window:
    """A rectangle of the sheet through which its parts are seen; what lies outside is cut off.

    Parameters
    ----------
    box : tuple of float
        Smallest x, smallest y, largest x, largest y [mm].
    parts : tuple of Region, Lines, Circle, Arc or Text
        What is seen through it, in the sheet's own coordinates.
    """

    box: tuple[float, float, float, float]
    parts: tuple[Region | Lines | Circle | Arc | Text, ...]


Primitive: TypeAlias = Region | Lines | Circle | Arc | Text | Window


@dataclass(frozen=True, slots=True)
class Cross:
    """A mark of two lines, `size` [mm] long, that cross at `centre`."""

    centre: Point
    size: float
    style: Style

    def parts(self) -> Iterator[Lines]:
        """Yield the two lines."""
        (x, y), h = self.centre, self.size / 2
        yield Lines((((x - h, y), (x + h, y)), ((x, y - h), (x, y + h))), self.style)


@dataclass(frozen=True, slots=True)
class Dimension:
    """A dimension line beside two points, with the measure written on it.

    Parameters
    ----------
    start, end : (float, float)
        The points measured [mm].
    offset : float
        How far to the left of the way from start to end the line runs [mm]; negative: right.
    text : str
        The measure.
    style : Style
        Of the lines; the ends carry oblique strokes (as in ISO 129-1).
    lettering : Lettering
        Of the measure, which stays upright.
    """

    start: Point
    end: Point
    offset: float
    text: str
    style: Style
    lettering: Lettering

    def parts(self) -> Iterator[Primitive]:
        """Yield the lines and the text."""
        (x0, y0), (x1, y1) = self.start, self.end
        reach = math.dist(self.start, self.end)
        ux, uy = (x1 - x0) / reach, (y1 - y0) / reach
        nx, ny = -uy * self.offset, ux * self.offset
        a, b = (x0 + nx, y0 + ny), (x1 + nx, y1 + ny)
        spans = [(a, b)]
        if self.offset:
            beyond = 1.0 + 1.0 / abs(self.offset)  # the extension lines overshoot by 1 mm
            gap = min(1.0 / abs(self.offset), 0.5)
            spans += [
                ((p[0] + gap * nx, p[1] + gap * ny), (p[0] + beyond * nx, p[1] + beyond * ny))
                for p in (self.start, self.end)
            ]
        tick = 1.0
        ox, oy = tick * (ux - uy) / math.sqrt(2), tick * (uy + ux) / math.sqrt(2)
        spans += [((p[0] - ox, p[1] - oy), (p[0] + ox, p[1] + oy)) for p in (a, b)]
        yield Lines(tuple(spans), self.style)
        mx, my = (a[0] + b[0]) / 2, (a[1] + b[1]) / 2
        if abs(uy) < abs(ux):
            yield Text((mx, my + 1.0), self.text, self.lettering, "middle")
        else:
            right = nx >= 0.0
            at = (mx + (1.5 if right else -1.5), my - self.lettering.rise / 2)
            yield Text(at, self.text, self.lettering, "start" if right else "end")


Item: TypeAlias = Primitive | Cross | Dimension


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawing:
    """A sheet and what is on it; later items lie over earlier ones.

    Parameters
    ----------
    title : str
        One line that says what it is.
    description : str
        What it shows, for those who cannot see it.
    width, height : float
        Of the sheet [mm]; its lower left corner is (0, 0).
    items : tuple of Item
        What is drawn.
    background : str or None
        Colour of the sheet; None leaves it open.

    Examples
    --------
    >>> line = Style("line", "#000000", 0.25)
    >>> sheet = Drawing(title="A mark", description="A cross.", width=20, height=20,
    ...                 items=(Cross((10, 10), 6, line),))
    >>> [len(item.spans) for item in sheet.primitives()]
    [2]
    """

    title: str
    description: str
    width: float
    height: float
    items: tuple[Item, ...]
    background: str | None = "#ffffff"

    def primitives(self) -> Iterator[Primitive]:
        """Yield all items, those that are made of others taken apart."""
        for item in self.items:
            if isinstance(item, Cross | Dimension):
                yield from item.parts()
            else:
                yield item
