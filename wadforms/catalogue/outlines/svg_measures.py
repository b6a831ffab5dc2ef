"""Lengths, transforms and viewports of SVG.

Sizes follow CSS Values and Units 3, §5.2 (1 in = 25.4 mm = 96 px = 72 pt); viewports SVG 2, §8
(`viewBox`, `preserveAspectRatio`); transforms CSS Transforms 1, §8.
"""

from __future__ import annotations

import math
import re
from typing import TYPE_CHECKING, Final, NamedTuple

from wadforms.catalogue.outlines.refusal import refused
from wadforms.catalogue.outlines.svg_path import NUMBER
from wadforms.catalogue.outlines.tracing import Affine
from wadforms.errors import quoted

if TYPE_CHECKING:
    from xml.etree.ElementTree import Element

MM: Final = {
    "mm": 1.0,
    "cm": 10.0,
    "in": 25.4,
    "px": 25.4 / 96,
    "": 25.4 / 96,
    "pt": 25.4 / 72,
    "pc": 25.4 / 6,
    "q": 0.25,
}
"""Units of CSS in mm; without one a length is in px."""

_LENGTH: Final = re.compile(rf"({NUMBER})\s{{0,9}}([A-Za-z%]{{0,5}})", re.ASCII)
_CALL: Final = re.compile(r"[\s,]*+([A-Za-z]{1,12})\s*+\(([^()]{0,400})\)", re.ASCII)
_SPLIT: Final = re.compile(r"[\s,]+")
_LONGEST: Final = 100  # transforms in one list


class Viewport(NamedTuple):
    """What lengths in percent are parts of, in user units; None where that is not told.

    Parameters
    ----------
    width, height : float or None
        In user units, [mm] where a user unit is 1 mm.
    """

    width: float | None
    height: float | None

    @property
    def diagonal(self) -> float | None:
        """What percents that go neither along nor across are parts of: √((w² + h²)/2).

        In user units, which are [mm] where a user unit is 1 mm.
        """
        if self.width is None or self.height is None:
            return None
        return math.hypot(self.width, self.height) / math.sqrt(2)


def length(element: Element, name: str, whole: float | None, default: float = 0.0) -> float:
    """A length that an element gives, in user units.

    Parameters
    ----------
    element : Element
        That has the attribute, or not.
    name : str
        Of the attribute.
    whole, default : float
        What percents are parts of, and the length where none is given, in user units, which are
        [mm] where a user unit is 1 mm.

    Raises
    ------
    Refused
        It is no length.
    """
    text = element.get(name)
    if text is None or text.strip() == "auto":
        return default
    match = _LENGTH.fullmatch(text.strip())
    unit = match[2].lower() if match else ""
    value = float(match[1]) if match else math.nan
    if unit == "%" and whole is not None:
        value *= whole / 100
    elif unit in MM:
        value *= MM[unit] / MM["px"]
    else:
        value = math.nan
    if not math.isfinite(value):
        right = "give a length such as 12 or 12mm"
        raise refused(f"{name} {quoted(text, 30)}", right)
    return value


def numbers(text: str) -> list[float] | None:
    """The numbers of a list with spaces or commas between them; None where one is none.

    Examples
    --------
    >>> numbers(" 0 0, 20.5,30"), numbers("1 2x")
    ([0.0, 0.0, 20.5, 30.0], None)
    """
    words = _SPLIT.split(text.strip()) if text.strip() else []
    if not all(re.fullmatch(NUMBER, word, re.ASCII) for word in words):
        return None
    found = [float(word) for word in words]
    return found if all(map(math.isfinite, found)) else None


def transform(text: str) -> Affine:
    """The map that a list of transforms stands for.

    Raises
    ------
    Refused
        It is no such list, or leaves no area.

    Examples
    --------
    >>> transform("translate(5) scale(2, 3)").point((1, 1))
    (7.0, 3.0)
    """
    found = Affine(1.0, 0.0, 0.0, 1.0, 0.0, 0.0)
    position, count = 0, 0
    text = text.strip(" \t\r\n\f,")
    wrong = refused(
        f"transform {quoted(text, 40)}", "give matrix, translate, scale, rotate, skewX or skewY"
    )
    if text == "none":
        return found
    while position < len(text):
        match = _CALL.match(text, position)
        given = numbers(match[2]) if match else None
        one = _one(match[1], given) if match and given is not None else None
        count += 1
        if match is None or one is None or count > _LONGEST:
            raise wrong
        found = found.after(one)
        position = match.end()
    area = found.a * found.d - found.b * found.c
    if not all(map(math.isfinite, (*found, area))) or not area:
        raise refused(f"transform {quoted(text, 40)}", "give one that leaves an area")
    return found


def _one(name: str, n: list[float]) -> Affine | None:
    match name, len(n):
        case "matrix", 6:
            return Affine(*n)
        case "translate", 1 | 2:
            return Affine(1.0, 0.0, 0.0, 1.0, n[0], n[1] if n[1:] else 0.0)
        case "scale", 1 | 2:
            return Affine(n[0], 0.0, 0.0, n[-1], 0.0, 0.0)
        case "rotate", 1 | 3:
            c, s = math.cos(math.radians(n[0])), math.sin(math.radians(n[0]))
            x, y = n[1:] or (0.0, 0.0)
            return Affine(c, s, -s, c, x - c * x + s * y, y - s * x - c * y)
        case "skewX", 1:
            return Affine(1.0, 0.0, math.tan(math.radians(n[0])), 1.0, 0.0, 0.0)
        case "skewY", 1:
            return Affine(1.0, math.tan(math.radians(n[0])), 0.0, 1.0, 0.0, 0.0)
    return None


def view_box(element: Element) -> tuple[float, float, float, float] | None:
    """Left, top, width and height of what a viewport shows, in user units.

    Raises
    ------
    Refused
        They are no four numbers, or it shows nothing.
    """
    text = element.get("viewBox")
    if text is None:
        return None
    found = numbers(text) or []
    if len(found) != 4:
        right = "give four numbers: left, top, width, height"
        raise refused(f"viewBox {quoted(text, 40)}", right)
    left, top, width, height = found
    if width <= 0.0 or height <= 0.0:
        right = "give a drawing wider and higher than nothing"
        raise refused(f"viewBox {quoted(text, 40)}", right)
    return left, top, width, height


def fitted(
    box: tuple[float, float, float, float], width: float, height: float, aspect: str
) -> Affine:
    """The map from a viewBox to its viewport, by `preserveAspectRatio`.

    Parameters
    ----------
    box : tuple of float
        Left, top, width and height, in user units ([mm] where a user unit is 1 mm).
    width, height : float
        Of the viewport, in units outside of it ([mm] of the whole drawing).
    aspect : str
        As SVG 2, §8.6 has it; empty means xMidYMid meet.

    Raises
    ------
    Refused
        It is no such word.

    Examples
    --------
    >>> fitted((0, 0, 10, 10), 20, 40, "").point((0, 0))
    (0.0, 10.0)
    """
    left, top, wide, high = box
    words = aspect.split() or ["xMidYMid"]
    ways = re.fullmatch(r"x(Min|Mid|Max)Y(Min|Mid|Max)", words[0])
    slices = words[1:] == ["slice"]
    if (
        len(words) > 2
        or not (ways or words[0] == "none")
        or words[1:] not in ([], ["meet"], ["slice"])
    ):
        right = "give a word such as xMidYMid, or none"
        raise refused(f"preserveAspectRatio {quoted(aspect, 40)}", right)
    x, y = width / wide, height / high
    if ways is None:
        return Affine(x, 0.0, 0.0, y, -x * left, -y * top)
    scale = max(x, y) if slices else min(x, y)
    shares = {"Min": 0.0, "Mid": 0.5, "Max": 1.0}
    dx = shares[ways[1]] * (width - scale * wide)
    dy = shares[ways[2]] * (height - scale * high)
    return Affine(scale, 0.0, 0.0, scale, dx - scale * left, dy - scale * top)
