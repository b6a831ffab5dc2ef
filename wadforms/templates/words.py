"""The words and numbers that stand beside shapes."""

from __future__ import annotations

import math
from dataclasses import replace

from wadforms.geometry.outline import Outline
from wadforms.templates.drawing import Lettering


def measure(value: float) -> str:
    """A length for a drawing, to a tenth of a millimetre, without its unit.

    Examples
    --------
    >>> measure(20.0), measure(21.276)
    ('20', '21.3')
    """
    return f"{value:.1f}".removesuffix(".0")


def plan_size(outline: Outline) -> str:
    """The size of an outline in plan, without the unit.

    Examples
    --------
    >>> plan_size(Outline.circle(10))
    'Ø 20'
    """
    width, depth = outline.size
    if is_round(outline):
        return f"Ø {measure(width)}"
    return f"{measure(width)} × {measure(depth)}"


def is_round(outline: Outline) -> bool:
    """Whether the outer contour is one full circle."""
    segments = outline.outer.segments
    if not all(s.bulge for s in segments):
        return False
    centre, radius = segments[0].centre, segments[0].radius
    return all(
        math.dist(s.centre, centre) < 1e-6 and abs(s.radius - radius) < 1e-6 for s in segments
    )


def shortened(text: str, lettering: Lettering, width: float) -> str:
    """`text`, cut short with an ellipsis where it would be wider than `width` [mm].

    Examples
    --------
    >>> shortened("a very long name", Lettering("plain", 3.0, "#000000"), 15.0)
    'a very l…'
    """
    if lettering.width(text) <= width:
        return text
    while text and lettering.width(text + "…") > width:
        text = text[:-1]
    return text.rstrip() + "…"


def fitted(text: str, lettering: Lettering, width: float) -> Lettering:
    """The lettering, smaller where `text` would be wider than `width` [mm].

    Examples
    --------
    >>> plain = Lettering("plain", 3.0, "#000000")
    >>> fitted("wad", plain, 20.0).size, fitted("a very long line", plain, 14.0).size < 2.0
    (3.0, True)
    """
    share = width / lettering.width(text)
    return lettering if share >= 1.0 else replace(lettering, size=lettering.size * share)


def folded(text: str, lettering: Lettering, width: float) -> list[str]:
    """`text` broken between words into lines that are at most `width` [mm] wide.

    Examples
    --------
    >>> folded("three wads under the ring", Lettering("plain", 3.0, "#000000"), 30.0)
    ['three wads under', 'the ring']
    """
    lines: list[str] = []
    for word in text.split():
        if lines and lettering.width(f"{lines[-1]} {word}") <= width:
            lines[-1] = f"{lines[-1]} {word}"
        else:
            lines.append(shortened(word, lettering, width))
    return lines
