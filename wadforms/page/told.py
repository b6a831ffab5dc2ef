"""What is typed on the page as options of the command line, and back."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import cache
from typing import Any, Final, get_type_hints

from wadforms.errors import Fault

Typed = dict[str, str]
"""What stands in each field, by the name of the option's field; empty where nothing does."""

SEVERAL: Final = " | "
"""Between the values of an option that may be repeated."""


@cache
def flags(group: type) -> dict[str, str]:
    """The flag of each field of a group of options.

    Examples
    --------
    >>> from wadforms.cli.options import ShapeOptions
    >>> flags(ShapeOptions)["with_"]
    '--with'
    """
    hints = get_type_hints(group, include_extras=True)
    names = group._fields  # type: ignore[attr-defined]  # groups are named tuples
    options = {name: hints[name].__metadata__[0] for name in names}
    # Within an annotation typer holds the first flag for the default.
    return {name: option.default for name, option in options.items()}


def filled(group: type, typed: Mapping[str, str], **more: Any) -> Any:
    """A group of options, filled with what was typed; what is empty keeps its default.

    Parameters
    ----------
    group : type
        Of options.
    typed : mapping
        Text by field; fields that the group does not have are left alone.
    more : Any
        Values that are no text.

    Examples
    --------
    >>> from wadforms.cli.options import PotOptions
    >>> filled(PotOptions, {"weight": "2,4 kg", "foot": "", "wad": "disk-20"}).weight
    '2,4 kg'
    """
    defaults = group._field_defaults  # type: ignore[attr-defined]
    given: dict[str, Any] = {}
    for name in group._fields:  # type: ignore[attr-defined]
        text = typed.get(name, "").strip()
        if isinstance(defaults.get(name), list):
            given[name] = [part for part in text.split(SEVERAL) if part]
        elif text or name not in defaults:
            given[name] = text
    return group(**given | more)


def arguments(groups: Iterable[type], typed: Mapping[str, str]) -> list[str]:
    """What was typed as arguments of the command line.

    Examples
    --------
    >>> from wadforms.cli.options import PotOptions, WadOptions
    >>> arguments([PotOptions, WadOptions], {"weight": "1kg", "at": "10;0 | 0;10"})
    ['--weight=1kg', '--at=10;0', '--at=0;10']
    """
    found = []
    for group in groups:
        for name, flag in flags(group).items():
            text = typed.get(name, "").strip()
            several = isinstance(group._field_defaults.get(name), list)  # type: ignore[attr-defined]
            for part in text.split(SEVERAL) if several else [text]:
                if part:
                    found.append(f"{flag}={part}")
    return found


def typed_from(groups: Iterable[type], given: Iterable[str]) -> Typed:
    """What stood in the fields, from arguments that `arguments` made.

    Examples
    --------
    >>> from wadforms.cli.options import WadOptions
    >>> typed_from([WadOptions], ["--wad=disk-20", "--at=10;0", "--at=0;10", "--unknown=1"])
    {'wad': 'disk-20', 'at': '10;0 | 0;10'}
    """
    names = {flag: name for group in groups for name, flag in flags(group).items()}
    typed: Typed = {}
    for argument in given:
        flag, _, text = argument.partition("=")
        name = names.get(flag)
        if name is not None:
            typed[name] = f"{typed[name]}{SEVERAL}{text}" if name in typed else text
    return typed


def faults_from(lines: Iterable[str]) -> list[Fault]:
    """The faults that a command told on its last lines.

    Examples
    --------
    >>> faults_from(["wadforms: --bed: 'x' was given; give 220x220", "broken"])
    [Fault(where='--bed', given="'x'", right='give 220x220'), Fault(where='', given='broken', \
right='')]
    """
    found = []
    for line in lines:
        text = line.removeprefix("wadforms: ")
        head, sign, right = text.partition(" was given; ")
        where, colon, given = head.partition(": ")
        if sign and colon:
            found.append(Fault(where, given, right))
        elif text.strip():
            found.append(Fault("", text, ""))
    return found


def for_field(fault: Fault, labels: Mapping[str, str]) -> str:
    """A fault as it stands at its field, with names of fields in place of options.

    Parameters
    ----------
    fault : Fault
        What is wrong.
    labels : mapping
        From an option to what its field is called.

    Examples
    --------
    >>> for_field(Fault("--foot", "nothing", "say --foot 50mm"), {"--foot": "Foot"})
    'Nothing was given; say “Foot” 50mm'
    """
    told = f"{fault.given} was given; {fault.right}" if fault.right else fault.given
    told = with_labels(told, labels)
    return told[:1].upper() + told[1:]


def with_labels(text: str, labels: Mapping[str, str]) -> str:
    """Words with names of fields in place of options.

    Parameters
    ----------
    text : str
        As the command line says it.
    labels : mapping
        From an option to what its field is called.

    Examples
    --------
    >>> with_labels("hollowware (say --ware if not)", {"--ware": "Ware"})
    'hollowware (say “Ware” if not)'
    """
    for flag in sorted(labels, key=len, reverse=True):
        text = text.replace(flag, f"“{labels[flag]}”")
    return text
