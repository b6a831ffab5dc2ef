"""What was made and how it was proven, as HTML: numbers from the command's own answer."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from html import escape
from typing import Any, Final

from wadforms import units
from wadforms.cli.mould_words import proof
from wadforms.page.inputs import paragraphs


def mould_html(told: Mapping[str, Any], shown: Callable[[str], str]) -> str:
    """A mould: its piece, its parts, its proof, and how it is used.

    Parameters
    ----------
    told : mapping
        The answer of `wadforms mould`.
    shown : callable
        Puts quantities into the visitor's units.
    """
    shrinkage = told["shrinkage"]
    rows = [
        ("pieces a filling, all boards together", f"{told['cavities']}"),
        ("piece as set", units.show(told["piece_volume_mm3"], "mm3")),
        ("its bearing face", units.show(told["contact_top_area_mm2"], "mm2")),
        ("wet, as it leaves the mould", _size(told["wet_size_mm"])),
        (
            "wet volume and mass",
            f"{units.show(told['wet_volume_mm3'], 'mm3')}, {units.show(told['wet_mass_g'], 'g')}",
        ),
        ("enlarged for shrinking by", units.show(shrinkage, "share")),
    ]
    for board in told["boards"]:
        for part in board["parts"]:
            wall = part["thinnest_wall_mm"]
            rows += [
                (f"{part['part']}, size", _size(part["size_mm"]) + _times(part["times"])),
                (
                    f"{part['part']}, volume as meant and as read back",
                    f"{units.show(part['material_volume_mm3'], 'mm3')}, "
                    f"{units.show(part['read_back_volume_mm3'], 'mm3')}",
                ),
                (
                    f"{part['part']}, thinnest wall",
                    "none near the least" if wall is None else units.show(wall, "mm"),
                ),
            ]
    words = " ".join(proof(told["kernel_volume_mm3"]))
    return (
        f"<h2>Its proof</h2><p>● {escape(words[:1].upper() + words[1:])}.</p>{_table(rows, shown)}"
        f"<h2>To use it</h2><ul>{paragraphs([shown(line) for line in told['advice']])}</ul>"
    )


_NAMES: Final = {
    "area": "area inside one outline", "size": "size of one", "factor": "drawn × size as set",
    "columns": "columns of sheets", "rows": "rows of sheets", "sheet": "room that it takes",
    "drawn_area": "area inside the drawn line", "paths": "closed paths",
}  # fmt: skip


def drawing_html(told: Mapping[str, Any], shown: Callable[[str], str]) -> str:
    """A template: what is on it, and how it is printed.

    Parameters
    ----------
    told : mapping
        The answer of `wadforms template` or `slab`.
    shown : callable
        Puts quantities into the visitor's units.
    """
    rows = []
    for key, value in told.items():
        name, _, unit = key.rpartition("_")
        if key in ("files", "kind") or value is None or isinstance(value, dict):
            continue
        if unit in ("mm", "mm2") and isinstance(value, int | float):
            rows.append((_words(name), units.show(value, unit)))
        elif unit == "mm" and isinstance(value, list) and value and _numbers(value):
            rows.append((_words(name), _size(value)))
        elif isinstance(value, str | int | float) and not isinstance(value, bool):
            rows.append((_words(key), f"{value:.4g}" if isinstance(value, float) else str(value)))
    print_ = "Print at 100 %, no scaling; the square must measure 100 mm before you cut."
    how = "" if "kerf_mm" in told else f"<p>{escape(print_)}</p>"
    return f"<h2>What is on it</h2>{how}{_table(rows, shown)}"


def _table(rows: list[tuple[str, str]], shown: Callable[[str], str]) -> str:
    lines = "".join(
        f"<tr><th scope='row'>{escape(name)}</th>"
        f"<td class='number'>{escape(shown(value))}</td></tr>"
        for name, value in rows
    )
    return f"<table class='stack'><tbody>{lines}</tbody></table>"


def _size(sides: list[float]) -> str:
    return units.show_extent(sides)


def _times(times: int) -> str:
    return f", print it {times} times" if times > 1 else ""


def _words(key: str) -> str:
    return _NAMES.get(key, key.replace("_", " "))


def _numbers(values: list[Any]) -> bool:
    return all(isinstance(value, int | float) for value in values)
