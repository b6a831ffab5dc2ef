"""Writes what was measured into the text of a TOML file, and leaves all else in it as it was."""

from __future__ import annotations

from collections.abc import Mapping, MutableMapping
from typing import Any, Final, TypeAlias

from wadforms.errors import BadInput, Fault
from wadforms.files import parse_toml
from wadforms.setting.limits import Limit
from wadforms.setting.readings import Readings

Changes: TypeAlias = Mapping[tuple[str, ...], float | bool | str | Limit | Readings]
"""What to write, by the names of the tables it stands in and its own."""

_DIGITS: Final = 6  # of a number; no reading of a potter's has as many


def changed(data: bytes, changes: Changes, where: str, what: str) -> bytes:
    r"""The TOML text with these values in it, proven to read as meant; comments stay.

    Parameters
    ----------
    data : bytes
        The file as it is; empty for a new one.
    changes : mapping
        What to write; a `Limit` is written as a table with its source and readings.
    where, what : str
        The file, and what it holds, for messages.

    Raises
    ------
    BadInput
        The file is no TOML, has something else where a table should be, or its tables stand so
        far apart that the text would not read as meant.

    Examples
    --------
    >>> text = changed(b"[shrinkage]\ndrying = 0.05 # assumed\n", {("shrinkage", "drying"): 0.052},
    ...     "ours.toml", "a mix")
    >>> print(text.decode(), end="")
    [shrinkage]
    drying = 0.052 # assumed
    """
    meant = parse_toml(data, where, what)
    flat = _flat(changes)
    for path, value in flat.items():
        _put(meant, path, value, where, [])
    text = _edited(data.decode("utf-8-sig"), flat, where)
    try:
        found = None if text is None else parse_toml(text.encode(), where, what)
    except BadInput:
        found = None
    if text is None or found != meant:
        right = "put each table right after the one that it belongs to, and [limits.…] together"
        raise BadInput(Fault(where, "tables in an order that nothing can be written into", right))
    return text.encode()


def _edited(text: str, flat: Mapping[tuple[str, ...], Any], where: str) -> str | None:
    """The text with these values in it; None where its tables stand too far apart."""
    import tomlkit

    made: list[Any] = []
    try:
        document: Any = tomlkit.parse(text)
        for path, value in flat.items():
            _put(document, path, _item(value), where, made)
        for table in made:
            if isinstance(table, tomlkit.items.Table):
                table.add(tomlkit.nl())  # what follows stands apart from it
        return tomlkit.dumps(document).rstrip() + "\n"
    except tomlkit.exceptions.TOMLKitError:
        return None


def _flat(changes: Changes) -> dict[tuple[str, ...], Any]:
    """Every single value, by where it stands."""
    flat: dict[tuple[str, ...], Any] = {}
    for path, value in changes.items():
        if isinstance(value, Limit):
            flat |= {
                (*path, "value"): _short(value.value),
                (*path, "source"): value.source,
                (*path, "assumed"): value.assumed,
            }
            if value.readings is not None:
                flat[*path, "readings"] = _of_readings(value.readings)
        elif isinstance(value, Readings):
            flat[path] = _of_readings(value)
        else:
            flat[path] = _short(value) if isinstance(value, float) else value
    return flat


def _of_readings(readings: Readings) -> dict[str, Any]:
    found: dict[str, Any] = {} if readings.on is None else {"on": readings.on}
    found |= {"n": readings.n, "mean": _short(readings.mean)}
    if readings.spread is not None:
        found["spread"] = _short(readings.spread)
    if readings.squat != 1.0:
        found["squat"] = _short(readings.squat)
    return found


def _short(value: float) -> float:
    return float(f"{value:.{_DIGITS}g}")


def _item(value: Any) -> Any:
    import tomlkit

    if not isinstance(value, dict):
        return value
    inline = tomlkit.inline_table()
    inline.update(value)
    return inline


def _put(
    tables: MutableMapping[str, Any],
    path: tuple[str, ...],
    value: Any,
    where: str,
    made: list[Any],
) -> None:
    """Set one value, in tables that are made where they are not there, and then told in `made`."""
    for depth, name in enumerate(path[:-1], 1):
        inner = tables.get(name)
        if inner is None:
            tables[name] = {}
            inner = tables[name]
            if depth == len(path) - 1:
                made.append(inner)
        if not isinstance(inner, MutableMapping):
            key = ".".join(path[:depth])
            raise BadInput(Fault(f"{where}: {key}", "something else", f"make it a table, [{key}]"))
        tables = inner
    tables[path[-1]] = value
