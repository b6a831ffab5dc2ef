"""The path language of SVG 2, §9.3: every command, strictly by its grammar.

A path that breaks the grammar is refused where it breaks; browsers draw it up to there, which
would be another outline than the one that was meant.
"""

from __future__ import annotations

import re
from typing import Final

from wadforms.catalogue.outlines.refusal import refused
from wadforms.catalogue.outlines.tracing import Tracer
from wadforms.errors import quoted
from wadforms.geometry.contour import Point

NUMBER: Final = r"[-+]?(?:\d+(?:\.\d+)?|\.\d+)(?:[eE][-+]?\d+)?"
"""A number as SVG writes it."""

# Possessive, so that long spaces are not walked over again and again.
_SPACE: Final = re.compile(r"[ \t\r\n\f]*+")
_BETWEEN: Final = re.compile(r"[ \t\r\n\f]*+(?:,[ \t\r\n\f]*+)?+")
_NUMBER: Final = re.compile(NUMBER, re.ASCII)
_FLAG: Final = re.compile("[01]")
_TAKES: Final = {"M": 2, "L": 2, "H": 1, "V": 1, "C": 6, "S": 4, "Q": 4, "T": 2, "A": 7, "Z": 0}
_FLAGS: Final = (3, 4)  # which numbers of an arc are flags; they may stand without a space


def draw_path(d: str, tracer: Tracer) -> None:
    """Draw the data of a path.

    Raises
    ------
    Refused
        Where it breaks the grammar.

    Examples
    --------
    >>> tracer = Tracer()
    >>> draw_path("m1 1h4v3l-4-3z", tracer)
    >>> tracer.runs[0].points
    ((1.0, 1.0), (5.0, 1.0), (5.0, 4.0))
    """
    if not d.strip(" \t\r\n\f"):
        raise refused("an empty path", "draw the outline")
    pen = _Commands(tracer)
    position = _after(_SPACE, d, 0)
    first = True
    while position < len(d):
        letter = d[position]
        if letter.upper() not in _TAKES or (first and letter not in "Mm"):
            right = "begin it with M" if first else "give commands and numbers such as 0.5"
            raise refused(f"{_cut(d, position)} in the path", right)
        first = False
        position = _after(_SPACE, d, position + 1)
        takes = _TAKES[letter.upper()]
        if not takes:
            tracer.close()
            pen.forget()
            continue
        more = True
        while more:
            numbers, position = _numbers(d, position, takes, arc=takes == 7)
            pen.draw(letter, numbers)
            # Further pairs after a move are lines.
            letter = {"M": "L", "m": "l"}.get(letter, letter)
            onward = _after(_BETWEEN, d, position)
            more = _NUMBER.match(d, onward) is not None
            position = onward if more else _after(_SPACE, d, position)
    tracer.end()


def _after(pattern: re.Pattern[str], d: str, position: int) -> int:
    match = pattern.match(d, position)
    return match.end() if match else position


def _numbers(d: str, position: int, count: int, *, arc: bool) -> tuple[list[float], int]:
    found: list[float] = []
    for k in range(count):
        if k:
            position = _after(_BETWEEN, d, position)
        match = (_FLAG if arc and k in _FLAGS else _NUMBER).match(d, position)
        if match is None:
            where = _cut(d, position) if position < len(d) else "an end amid numbers"
            raise refused(f"{where} in the path", "give commands and numbers such as 0.5")
        found.append(float(match[0]))
        position = match.end()
    return found, position


def _cut(d: str, position: int) -> str:
    return quoted(d[position : position + 20])


class _Commands:
    """Draws one command after the other; knows what a smooth curve goes on from."""

    def __init__(self, tracer: Tracer) -> None:
        self._tracer = tracer
        self._cubic: Point | None = None
        self._quadratic: Point | None = None

    def forget(self) -> None:
        """Let no smooth curve go on from what was drawn before."""
        self._cubic = self._quadratic = None

    def draw(self, letter: str, n: list[float]) -> None:
        """Draw one command with its numbers."""
        x, y = self._tracer.here
        if letter.islower():
            n = _absolute(letter, n, x, y)
        cubic, quadratic = self._cubic, self._quadratic
        self.forget()
        tracer = self._tracer
        kind = letter.upper()
        if kind == "M":
            tracer.move((n[0], n[1]))
            return
        tracer.go_on()
        match kind:
            case "L":
                tracer.line((n[0], n[1]))
            case "H":
                tracer.line((n[0], y))
            case "V":
                tracer.line((x, n[0]))
            case "C":
                tracer.cubic((n[0], n[1]), (n[2], n[3]), (n[4], n[5]))
                self._cubic = (n[2], n[3])
            case "S":
                tracer.cubic(_mirrored(cubic, x, y), (n[0], n[1]), (n[2], n[3]))
                self._cubic = (n[0], n[1])
            case "Q":
                tracer.quadratic((n[0], n[1]), (n[2], n[3]))
                self._quadratic = (n[0], n[1])
            case "T":
                self._quadratic = _mirrored(quadratic, x, y)
                tracer.quadratic(self._quadratic, (n[0], n[1]))
            case _:
                tracer.arc(n[0], n[1], n[2], bool(n[3]), bool(n[4]), (n[5], n[6]))


def _absolute(letter: str, n: list[float], x: float, y: float) -> list[float]:
    if letter == "h":
        return [n[0] + x]
    if letter == "v":
        return [n[0] + y]
    first = 5 if letter == "a" else 0
    return n[:first] + [v + (y if k % 2 else x) for k, v in enumerate(n[first:])]


def _mirrored(control: Point | None, x: float, y: float) -> Point:
    return (2 * x - control[0], 2 * y - control[1]) if control else (x, y)
