"""Writes what was measured into the text of a TOML file, and leaves all else in it as it was."""

from __future__ import annotations

import copy
from collections.abc import Mapping, MutableMapping
from typing import Any, Final, TypeAlias

from wadforms.errors import BadInput, Fault, ProofFailed
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
        The file is no TOML, or has something else where a table should be.
    ProofFailed
        The text did not read back as meant.

    Examples
    --------
    >>> text = changed(b"[shrinkage]\ndrying = 0.05 # assumed\n", {("shrinkage", "drying"): 0.052},
    ...     "ours.toml", "a mix")
    >>> print(text.decode(), end="")
    [shrinkage]
    drying = 0.052 # assumed
    """
    import tomlkit

    before = parse_toml(data, where, what)
    meant = copy.deepcopy(before)
    document: Any = tomlkit.parse(data.decode("utf-8-sig"))
    made: list[Any] = []
    for path, value in _flat(changes).items():
        _put(meant, path, value, where, [])
        _put(document, path, _item(value), where, made)
    for table in made:
        if isinstance(table, tomlkit.items.Table):
            table.add(tomlkit.nl())  # what follows stands apart from it
    text = tomlkit.dumps(document).rstrip().encode() + b"\n"
    try:
        found = parse_toml(text, where, what)
    except BadInput as error:
        raise ProofFailed(f"{where}: what was to be written cannot be read: {error}") from error
    if found != meant:
        raise ProofFailed(f"{where}: what was to be written reads as something else")
    return text


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
