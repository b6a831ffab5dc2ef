"""Lets commands share options: each option is declared once, in a group.

A group is a named tuple whose fields are `Annotated` for typer.  A command that takes a
parameter of that class gets all its options, and receives them as one object.
"""

from __future__ import annotations

import inspect
from collections.abc import Callable
from typing import Any, get_type_hints

import typer


def with_groups(command: Callable[..., int]) -> Callable[..., None]:
    """Expand the option groups among a command's parameters; what it returns is the exit code."""
    hints = get_type_hints(command, include_extras=True)
    parameters: list[inspect.Parameter] = []
    groups: dict[str, tuple[type, list[str]]] = {}
    for name, parameter in inspect.signature(command).parameters.items():
        kind = hints[name]
        if not hasattr(kind, "_field_defaults"):
            parameters.append(parameter.replace(annotation=kind, kind=parameter.KEYWORD_ONLY))
            continue
        inner = get_type_hints(kind, include_extras=True)
        groups[name] = (kind, list(inner))
        for field, option in inner.items():
            default = kind._field_defaults.get(field, parameter.empty)
            parameters.append(
                inspect.Parameter(field, parameter.KEYWORD_ONLY, default=default, annotation=option)
            )

    def called(**given: Any) -> None:
        for name, (kind, inner_names) in groups.items():
            given[name] = kind(**{inner_name: given.pop(inner_name) for inner_name in inner_names})
        if code := command(**given):
            raise typer.Exit(code)

    # Not functools.wraps: typer would look through it and find the groups again.
    shown: Any = called
    shown.__name__, shown.__doc__ = command.__name__, command.__doc__
    shown.__signature__ = inspect.Signature(parameters)
    shown.__annotations__ = {p.name: p.annotation for p in parameters}
    return called
