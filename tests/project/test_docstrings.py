"""What is public tells what it does, in which units, and by example."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from typing import TypeAlias

import pytest
from source_tree import is_public, modules, tree

Function: TypeAlias = ast.FunctionDef | ast.AsyncFunctionDef

DECLARES = {"length", "angle", "count", "choice", "outline_field"}
"""Calls that declare a field with its unit, so that no docstring has to repeat it."""

UNIT = re.compile(
    r"\[[^\]\s][^\]]*\]"  # [mm], [g/cm³], [N, kPa]
    r"|\bin `\w+`|'s unit\b"  # in `unit`, in the limit's unit: told by another parameter
    r"|\b(?:mm[²³23]?|kPa|degrees?|deg|millimetres?)\b",
    re.IGNORECASE,
)
PURE_NUMBER = re.compile(
    r"\b(?:shares?|parts?|ratio|factor|over|times|shrinkage)\b|[/×]",
    re.IGNORECASE,
)
"""A number without a unit says what it is a part or a multiple of."""

SAY_IT_THEMSELVES = {"degrees", "factor", "scale", "share"}
"""Parameters whose name is their unit."""

ENTRY = re.compile(r"^(?P<names>\w+(?:, \w+)*) : (?P<type>.+)$")


@dataclass(frozen=True, slots=True)
class Public:
    """One public class or function and where it stands."""

    name: str
    node: ast.ClassDef | Function

    @property
    def doc(self) -> str:
        """Its docstring."""
        return ast.get_docstring(self.node) or ""


@cache
def public() -> tuple[Public, ...]:
    """Every public class, function, method and property of the package."""
    return tuple(thing for name in modules() if is_public(name) for thing in within(name))


def within(module: str) -> Iterator[Public]:
    """The public things of a module, in order."""
    for node in tree(modules()[module]).body:
        if isinstance(node, ast.ClassDef | Function) and is_public(node.name):
            yield Public(f"{module}.{node.name}", node)
            if isinstance(node, ast.ClassDef):
                for inner in node.body:
                    if isinstance(inner, Function) and is_public(inner.name):
                        yield Public(f"{module}.{node.name}.{inner.name}", inner)


def sections(doc: str) -> dict[str, str]:
    """The parts of a numpy-style docstring by their titles; the opening under ``""``."""
    found, title = {"": ""}, ""
    lines = doc.splitlines()
    for line, following in zip(lines, [*lines[1:], ""], strict=True):
        if line and set(following.strip()) == {"-"} and len(following.strip()) == len(line):
            title = line
            found[title] = ""
        elif not (title and not found[title] and set(line.strip()) == {"-"}):
            found[title] += line + "\n"
    return found


def entries(section: str) -> Iterator[tuple[list[str], str, str]]:
    """Names, type and description of each entry of a 'Parameters' section."""
    open_entry: tuple[list[str], str] | None = None
    words: list[str] = []
    for line in [*section.splitlines(), "end : of"]:
        if match := ENTRY.match(line):
            if open_entry:
                yield *open_entry, " ".join(words)
            open_entry, words = (match["names"].split(", "), match["type"]), []
        else:
            words.append(line.strip())


def is_number(annotation: ast.expr | None) -> bool:
    """Whether values of this type are measured: a float, or something made of floats.

    A `Point` is in mm wherever it stands.
    """
    kind = "" if annotation is None else ast.unparse(annotation)
    return bool(re.search(r"\bfloat\b", kind)) and "Callable" not in kind


def measured(thing: Public) -> Iterator[str]:
    """Names of the float parameters of a function, or of the float fields of a class."""
    if isinstance(thing.node, ast.ClassDef):
        for node in thing.node.body:
            if isinstance(node, ast.AnnAssign) and isinstance(node.target, ast.Name):
                declared = isinstance(node.value, ast.Call) and bool(
                    re.match(r"(\w+_field|" + "|".join(DECLARES) + r")\(", ast.unparse(node.value))
                )
                constant = "ClassVar" in ast.unparse(node.annotation)
                option = "typer." in ast.unparse(node.annotation) and has_unit(
                    ast.unparse(node.annotation)  # its help stands in the annotation
                )
                if is_number(node.annotation) and not (declared or constant or option):
                    yield node.target.id
        return
    given = thing.node.args
    for argument in (*given.posonlyargs, *given.args, *given.kwonlyargs):
        if is_number(argument.annotation):
            yield argument.arg


def unitless(thing: Public) -> Iterator[str]:
    """Which measured values of a function or class its docstring leaves without a unit."""
    if any(has_unit(told.doc) for told in inherited(thing)):
        return
    parts = sections(thing.doc)
    told = {}
    for names, kind, words in entries(parts.get("Parameters", "")):
        for name in names:
            told[name] = f"{name.replace('_', ' ')} {kind} {words}"
    told_at_once = parts[""]
    for name in measured(thing):
        if name not in SAY_IT_THEMSELVES and not has_unit(told.get(name, told_at_once)):
            yield name


def has_unit(words: str) -> bool:
    """Whether they tell in what something is measured."""
    return bool(UNIT.search(words) or PURE_NUMBER.search(words))


@cache
def classes() -> dict[str, ast.ClassDef]:
    """Every class of the package by its bare name."""
    nodes = (node for path in modules().values() for node in tree(path).body)
    return {node.name: node for node in nodes if isinstance(node, ast.ClassDef)}


def inherited(thing: Public) -> Iterator[Public]:
    """The same method in a base of its class or in a protocol, which tells for all of them."""
    owner, _, method = thing.name.rpartition(".")
    protocols = {name for name, node in classes().items() if "Protocol" in bases(node)}
    waiting = [*bases(classes().get(owner.rpartition(".")[2])), *protocols]
    while waiting:
        node = classes().get(waiting.pop())
        waiting += bases(node)
        for inner in node.body if node else ():
            if isinstance(inner, Function) and inner.name == method:
                yield Public(f"{node and node.name}.{method}", inner)


def bases(node: ast.ClassDef | None) -> list[str]:
    """Bare names of the bases of a class."""
    return [ast.unparse(base).rpartition(".")[2] for base in node.bases] if node else []


@pytest.mark.parametrize("name", modules())
def test_every_public_thing_has_a_docstring(name: str) -> None:
    without = [] if ast.get_docstring(tree(modules()[name])) else [name]
    without += [thing.name for thing in within(name) if not thing.doc]
    assert not without


@pytest.mark.parametrize("name", [name for name in modules() if is_public(name)])
def test_every_measured_parameter_names_its_unit(name: str) -> None:
    missing = [f"{thing.name}({which})" for thing in within(name) for which in unitless(thing)]
    assert not missing, "no unit told for " + ", ".join(missing)


@pytest.mark.parametrize("name", [name for name in modules() if is_public(name)])
def test_every_measured_result_names_its_unit(name: str) -> None:
    missing = [
        thing.name
        for thing in within(name)
        if isinstance(thing.node, Function)
        and thing.node.returns is not None
        and ast.unparse(thing.node.returns) in {"float", "float | None"}
        and not any(has_unit(told.doc) for told in (thing, *inherited(thing)))
    ]
    assert not missing, "no unit told for what these give: " + ", ".join(missing)


def test_half_of_the_public_functions_show_an_example() -> None:
    functions = [
        thing
        for thing in public()
        if isinstance(thing.node, Function)
        and thing.name.rpartition(".")[0] in modules()
        and not thing.name.startswith("wadforms.cli")  # shows its examples in --help
    ]
    shown = [thing for thing in functions if ">>> " in thing.doc]
    plain = sorted(thing.name for thing in functions if thing not in shown)
    share = len(shown) / len(functions)
    assert len(functions) > 40
    assert share >= 0.5, f"{share:.0%} of {len(functions)} show one; not:\n" + "\n".join(plain)


SAMPLE = '''
def load(mass: float, lean: float, share: float = 1.0, name: str = "") -> float:
    """Force on a wad [N].

    Parameters
    ----------
    mass : float
        Of the pot [g].
    lean : float
        Of the pot.
    share : float
        Part of the mass that this wad carries.

    Raises
    ------
    BadInput
        Never [mm].
    """

def span(length: float) -> float:
    """How far it spans."""

def height(level: float) -> float:
    """Height above the shelf [mm]."""
'''


def test_a_missing_unit_is_found() -> None:
    found = [
        list(unitless(Public(node.name, node)))
        for node in ast.parse(SAMPLE).body
        if isinstance(node, Function)
    ]
    assert found == [["lean"], ["length"], []]
