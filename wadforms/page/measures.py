"""Shows quantities of an answer in inches and pounds; what is stored stays as it is."""

from __future__ import annotations

import re
from typing import Final

from wadforms.units import UNITS

METRIC: Final = "metric"
IMPERIAL: Final = "imperial"

_INCH: Final = UNITS["mm"]["in"]
_FOOT: Final = UNITS["mm"]["ft"]
_OUNCE: Final = UNITS["g"]["oz"]
_OUNCES: Final = 16.0
_TO: Final = {
    "mm": (1.0 / _INCH, "in"),
    "mm²": (1.0 / _INCH**2, "in²"),
    "m²": (1e6 / _FOOT**2, "ft²"),
    "mm³": (1.0 / _INCH**3, "in³"),
    "cm³": (1000.0 / _INCH**3, "in³"),
    "l": (1e6 / _INCH**3, "in³"),
    "kPa": (1.0 / UNITS["kPa"]["psi"], "psi"),
    "g": (1.0 / _OUNCE, "oz"),
    "kg": (1000.0 / _OUNCE, "oz"),
}
_NUMBER: Final = r"[−-]?\d+(?:\.\d+)?"
_QUANTITY: Final = re.compile(
    rf"(?<![\w.'])((?:{_NUMBER} × )*)({_NUMBER}) (mm³|mm²|mm|m²|cm³|kPa|kg|g|l)(?![\w²³/])"
)
_POINT: Final = re.compile(rf"\(({_NUMBER}), ({_NUMBER})\) mm")
_RADII: Final = re.compile(rf"(radius (?:{_NUMBER}, )+{_NUMBER}) mm")
_BETWEEN_TAGS: Final = re.compile(r">([^<]+)<")


def shown(text: str, system: str) -> str:
    """Words with their quantities in the system that is wanted.

    Parameters
    ----------
    text : str
        As the command line says it, in metric units.
    system : str
        `METRIC` or `IMPERIAL`.

    Examples
    --------
    >>> shown("pressure 63.4 kPa on 25.4 × 50.8 mm, 2.4 kg", IMPERIAL)
    'pressure 9.2 psi on 1 × 2 in, 5 lb 4.66 oz'
    >>> shown("on radius 254, 25.4 mm, give '5 mm'", IMPERIAL)
    "on radius 10, 1 in, give '5 mm'"
    >>> shown("25.4 mm", METRIC)
    '25.4 mm'
    """
    if system != IMPERIAL:
        return text
    text = _POINT.sub(lambda m: f"({_inches(m[1])}, {_inches(m[2])}) in", text)
    text = _RADII.sub(lambda m: re.sub(_NUMBER, lambda n: _inches(n[0]), m[1]) + " in", text)
    return _QUANTITY.sub(_turned, text)


def shown_in_picture(svg: str, system: str) -> str:
    """A picture with the quantities in its words as `shown` gives them; no line is moved.

    Parameters
    ----------
    svg : str
        The picture.
    system : str
        `METRIC` or `IMPERIAL`.

    Examples
    --------
    >>> shown_in_picture('<path d="M1 mm"/><text x="3">50.8 mm</text>', IMPERIAL)
    '<path d="M1 mm"/><text x="3">2 in</text>'
    """
    if system != IMPERIAL:
        return svg
    return _BETWEEN_TAGS.sub(lambda m: f">{shown(m[1], system)}<", svg)


def _turned(match: re.Match[str]) -> str:
    factor, unit = _TO[match[3]]
    before = "".join(
        f"{_digits(_value(part) * factor)} × " for part in match[1].split(" × ") if part
    )
    value = _value(match[2]) * factor
    if unit == "oz" and abs(value) >= _OUNCES:
        pounds = int(abs(value) // _OUNCES)
        rest = _digits(abs(value) - pounds * _OUNCES)
        sign = "−" if value < 0 else ""
        return f"{before}{sign}{pounds} lb" + ("" if rest == "0" else f" {rest} oz")
    return f"{before}{_digits(value)} {unit}"


def _inches(text: str) -> str:
    return _digits(_value(text) / _INCH)


def _value(text: str) -> float:
    return float(text.replace("−", "-"))


def _digits(value: float) -> str:
    """A number with three digits, or as many before the point as it has."""
    if abs(value) >= 100:
        return f"{value:.0f}"
    text = f"{value:.1f}" if abs(value) >= 10 else f"{value:.2f}" if abs(value) >= 1 else ""
    text = text or f"{value:.3f}"
    return text.rstrip("0").rstrip(".") or "0"
