"""Reads quantities with their units, and writes them.

Inside wadforms every length is in mm, every mass in g, every pressure in kPa, every angle in
degrees, as plain floats.  This is the edge where text becomes such a float and back.

The factors are exact by definition: 1 in = 25.4 mm and 1 lb = 453.59237 g (international yard
and pound agreement, 1959); 1 lbf/in² = 6.894757293168361 kPa follows from them with standard
gravity, 9.80665 m/s².
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable
from typing import Final

from wadforms.errors import BadInput, Fault, quoted

GRAVITY: Final = 9.80665
"""Standard gravity, m/s² (3rd General Conference on Weights and Measures, 1901)."""

UNITS: Final[dict[str, dict[str, float]]] = {
    "mm": {
        **{"mm": 1.0, "cm": 10.0, "m": 1000.0},
        **dict.fromkeys(("in", "inch", "inches", '"'), 25.4),
        "ft": 304.8,
    },
    "g": {
        **dict.fromkeys(("g", "gram", "grams"), 1.0),
        **dict.fromkeys(("kg", "kgs"), 1000.0),
        **dict.fromkeys(("oz", "ounce", "ounces"), 28.349523125),
        **dict.fromkeys(("lb", "lbs", "pound", "pounds"), 453.59237),
        "t": 1e6,
    },
    "mm3": {"mm3": 1.0, "cm3": 1e3, "ml": 1e3, "l": 1e6, "litre": 1e6, "in3": 16387.064},
    "kPa": {"kPa": 1.0, "Pa": 0.001, "MPa": 1000.0, "bar": 100.0, "psi": 6.894757293168361},
    "deg": {"deg": 1.0, "°": 1.0, "degree": 1.0, "degrees": 1.0, "rad": 180.0 / math.pi},
    "share": {"": 1.0, "%": 0.01},
    "parts": {"parts": 1.0, "part": 1.0, "%": 1.0},
    "g/cm3": {"g/cm3": 1.0, "g/ml": 1.0, "kg/l": 1.0, "kg/m3": 0.001},
}
"""For each unit used inside: what may be typed, and how much of the inner unit each is."""

_BARE_MEANS: Final = {
    **{"mm": "mm", "deg": "deg", "share": "", "parts": "parts"},
    **{"kPa": "kPa", "g/cm3": "g/cm3"},
}
"""Units that a bare number is taken to have; a mass or a volume always needs its unit."""

_EXAMPLE: Final = {
    "mm": "a length such as '24 mm', '2.4 cm' or '1 in'",
    "g": "a mass with its unit, such as '2.4 kg', '850 g' or '5 lb 4 oz'",
    "mm3": "a volume with its unit, such as '3 l' or '250 ml'",
    "kPa": "a pressure such as '60 kPa' or '2 MPa'",
    "deg": "an angle such as '5' or '5 deg'",
    "share": "a share such as '0.07' or '7 %'",
    "parts": "parts to 100, such as '70', '70 parts' or '70 %'",
    "g/cm3": "a density such as '1.6 g/cm3' or '1600 kg/m3'",
}

_NUMBER: Final = r"[+-]?(?:\d+\s+\d+/\d+|\d+/\d+|(?:\d+(?:[.,]\d*)*|[.,]\d+)(?:[eE][+-]?\d+)?)"
_TERM: Final = re.compile(rf"\s*({_NUMBER})\s*([A-Za-z°%\"]+)?\s*")  # 5lb3oz are two of them
_CUBIC: Final = re.compile(rf"\s*({_NUMBER})\s*([A-Za-z]+3?(?:/[A-Za-z]+3?)?)?\s*")
_VULGAR: Final = re.compile("([0-9]?)([¼-¾⅐-⅞])")
_GROUPED: Final = re.compile(
    r"[+-]?[1-9]\d{0,2}(?:(?:,\d{3})+\.\d*|(?:\.\d{3})+,\d*|(?:,\d{3}){2,}|(?:\.\d{3}){2,})"
)
_COUNT: Final = re.compile(r"[+-]?[0-9]{1,6}")
_LONGEST: Final = 100  # characters of a quantity; more are no size, and long to read


def parse(text: str, unit: str, where: str, *, bare: str | None = None) -> float:
    """Read a quantity and give it in a unit that is used inside.

    Parameters
    ----------
    text : str
        What the user typed: decimal point or comma, a fraction (``1 1/2 in``), or several
        terms that add up (``5 lb 4 oz``); a sign stands before the first and is for all.
    unit : str
        One of the keys of `UNITS`.
    where : str
        The parameter, column or file that the text stands in, for the message.
    bare : str or None
        Unit that a bare number has, where it is told elsewhere: by a heading.

    Returns
    -------
    float
        The quantity in `unit`.

    Raises
    ------
    BadInput
        The text is no such quantity, has another kind of unit, or could be read in two ways.

    Examples
    --------
    >>> parse("2,4 cm", "mm", "height")
    24.0
    >>> round(parse("1 1/2 in", "mm", "height"), 6)
    38.1
    >>> round(parse("5 lb 4 oz", "g", "weight"), 1)
    2381.4
    >>> parse("2.4", "g", "weight", bare="kg")
    2400.0
    >>> parse("1,234.5 kg", "g", "weight"), parse("1.234,5 kg", "g", "weight")
    (1234500.0, 1234500.0)
    >>> parse("1,234 kg", "g", "weight")
    Traceback (most recent call last):
    ...
    wadforms.errors.BadInput: weight: '1,234 kg' was given; write 1.234 or 1234: it could be either
    """
    known = UNITS[unit]
    plain = _BARE_MEANS.get(unit) if bare is None else bare
    fault = BadInput(Fault(where, quoted(text), f"give {_EXAMPLE[unit]}"))
    if len(text) > _LONGEST:
        raise fault
    given, text = text, _VULGAR.sub(_spelt, text)
    negative = text.lstrip().startswith("-")
    term = _CUBIC if "3" in unit else _TERM
    total, position = 0.0, 0
    while position < len(text) or position == 0:
        match = term.match(text, position)
        if match is None or match.end() == position:
            raise fault
        symbol = match[2] or (plain if position == 0 else None)
        if symbol is None:
            raise fault
        factor = known.get(symbol, known.get(symbol.lower()))
        if factor is None:
            raise fault
        if not match[2] and match.end() < len(text):
            raise fault
        if position and match[1][0] in "+-":
            raise fault
        total += abs(_number(match[1], given, where, fault)) * factor
        position = match.end()
    total = -total if negative else total
    if not math.isfinite(total):
        raise fault
    return total


def show_extent(sizes: Iterable[float]) -> str:
    """Lengths along each way [mm], for people.

    Examples
    --------
    >>> show_extent((25.0, 26.32, 8.4))
    '25 × 26.3 × 8.4 mm'
    """
    return " × ".join(show(size, "mm").removesuffix(" mm") for size in sizes) + " mm"


def extent(text: str, where: str) -> tuple[float, float]:
    """Read two lengths with a cross between them [mm]; a unit after the second is for both.

    Raises
    ------
    BadInput
        They are not two lengths above zero.

    Examples
    --------
    >>> extent("220x180", "--bed"), extent("8 × 10 in", "--bed")
    ((220.0, 180.0), (203.2, 254.0))
    """
    parts = re.split("[x×X*]", text)
    if len(parts) == 2 and len(text) <= _LONGEST:
        unit = re.search(r"([A-Za-z\"]+)\s*$", parts[1])
        if unit and not re.search(r"[A-Za-z\"]\s*$", parts[0]):
            parts[0] += unit[1]
        width, depth = (parse(part, "mm", where) for part in parts)
        if width > 0.0 and depth > 0.0:
            return width, depth
    raise BadInput(Fault(where, quoted(text), "give two lengths such as '220x180' or '8 x 10 in'"))


def count(text: str) -> int | None:
    """Read a whole number of at most six digits; None where the text is none.

    Examples
    --------
    >>> count(" 12 "), count("-3"), count("+-3"), count("9" * 5000)
    (12, -3, None, None)
    """
    text = text.strip()
    return int(text) if _COUNT.fullmatch(text) else None


def _spelt(match: re.Match[str]) -> str:
    """A fraction of one character, after a digit or alone, written with a stroke."""
    import unicodedata

    fraction = unicodedata.normalize("NFKC", match[2]).replace("\N{FRACTION SLASH}", "/")
    return f"{match[1]} {fraction}" if match[1] else fraction


def _number(token: str, text: str, where: str, fault: BadInput) -> float:
    """The value of one number token; an ambiguous comma is asked about, not guessed."""
    if "/" in token:
        from fractions import Fraction

        try:
            return float(sum(Fraction(part) for part in token.split()))
        except (ZeroDivisionError, OverflowError, ValueError):
            raise fault from None
    commas, points = token.count(","), token.count(".")
    if _GROUPED.fullmatch(token):  # what stands last parts the fraction, unless it came before
        last = token[max(token.rfind(","), token.rfind("."))]
        part = last if token.count(last) == 1 else ""
        return float("".join("." if c == part else "" if c in ",." else c for c in token))
    if commas + points > 1:
        raise fault
    if re.fullmatch(r"[+-]?[1-9]\d{0,2},\d{3}", token):
        plain = token.replace(",", "")
        right = f"write {token.replace(',', '.')} or {plain}: it could be either"
        raise BadInput(Fault(where, quoted(text), right))
    return float(token.replace(",", "."))


def show(value: float, unit: str) -> str:
    """Write a quantity, given in `unit`, for people, with as many digits as are worth reading.

    Examples
    --------
    >>> show(35000.0, "g"), show(380.0, "g"), show(24.0, "mm"), show(0.075, "share")
    ('35 kg', '380 g', '24 mm', '7.5 %')
    """
    if unit == "yes":
        return "yes" if value >= 1.0 else "no"
    if unit == "g" and abs(value) >= 1000:
        value, unit = value / 1000, "kg"
    elif unit == "share":
        value, unit = value * 100, "%"
    elif unit == "deg":
        unit = "°"
    elif unit == "mm3" and abs(value) >= 1e6:
        value, unit = value / 1e6, "l"
    elif unit == "mm3" and abs(value) >= 1e3:
        value, unit = value / 1e3, "cm³"
    digits = 0 if abs(value) >= 100 else 1 if abs(value) >= 10 else 2
    number = f"{value:.{digits}f}"
    if "." in number:
        number = number.rstrip("0").rstrip(".")
    number = "0" if number == "-0" else number
    unit = {"mm3": "mm³", "mm2": "mm²", "g/cm3": "g/cm³", "count": ""}.get(unit, unit)
    return f"{number}{'' if unit == '°' or not unit else ' '}{unit}"
