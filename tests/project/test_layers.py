"""Imports run down the list of layers only, wherever in a module they stand."""

from __future__ import annotations

import ast
from collections.abc import Iterator

import pytest
from source_tree import modules, tree

LAYERS = (
    ("errors", "units", "files"),
    ("geometry",),
    ("families",),
    ("nesting",),
    ("catalogue",),
    ("setting",),
    ("moulds",),
    ("templates",),
    ("firing",),
    ("cli", "__main__"),
    ("page",),
)
"""From the ground up: a module may import from its own layer and from those above it here."""

RANK = {part: rank for rank, layer in enumerate(LAYERS) for part in layer}

ONLY_IN: dict[str, tuple[str, ...]] = {
    "cadquery": ("wadforms.moulds.solids",),
    "OCP": ("wadforms.moulds.solids",),
    "stl": ("wadforms.moulds",),
    "spyrrow": ("wadforms.nesting.search",),
    "svgwrite": ("wadforms.templates.svg",),
    "fontTools": ("wadforms.moulds.lettering",),
    "lib3mf": ("wadforms.moulds.three_mf",),
    "vtkmodules": ("wadforms.moulds.picture",),
    "defusedxml": ("wadforms.catalogue.outlines.svg",),
    "ezdxf": ("wadforms.catalogue.outlines", "wadforms.templates.dxf"),
    "openpyxl": ("wadforms.firing.tables.xlsx_rows",),
    "reportlab": ("wadforms.templates.pdf", "wadforms.firing.sheet"),
    "jinja2": ("wadforms.firing.sheet.html",),
    "markupsafe": ("wadforms.firing.sheet.html",),
    "scipy": ("wadforms.firing.programme", "wadforms.setting.readings"),
    "tomlkit": ("wadforms.setting.table_writer",),
    "cv2": ("wadforms.catalogue.photo",),
    "PIL": ("wadforms.catalogue.photo.picture",),
    "nicegui": ("wadforms.page",),
    "fastapi": ("wadforms.page",),
    "typer": ("wadforms.cli",),
    "click": ("wadforms.cli",),
}
"""Who may import what stands behind one door, so that it can be replaced there."""


def imports(name: str, source: ast.Module, *, is_package: bool) -> Iterator[tuple[str, int]]:
    """Every module that a module imports, in functions and for type checks too, with its line."""
    for node in ast.walk(source):
        if isinstance(node, ast.Import):
            for alias in node.names:
                yield alias.name, node.lineno
        elif isinstance(node, ast.ImportFrom):
            start = node.module or ""
            if node.level:
                parts = name.split(".")
                parts = parts[: len(parts) - node.level + is_package]
                start = ".".join([*parts, *filter(None, [node.module])])
            for alias in node.names:
                # `from wadforms import units` imports a module, whatever the syntax says.
                known = f"{start}.{alias.name}" in modules()
                yield (f"{start}.{alias.name}" if known else start), node.lineno


def layer(module: str) -> int | None:
    """Which layer a module of ours stands in; None for the bare package."""
    parts = module.split(".")
    return RANK[parts[1]] if len(parts) > 1 else None


@pytest.mark.parametrize("name", modules())
def test_imports_run_down_the_layers(name: str) -> None:
    path = modules()[name]
    here = layer(name)
    wrong = []
    for target, line in imports(name, tree(path), is_package=path.name == "__init__.py"):
        if target.split(".")[0] != "wadforms":
            continue
        there = layer(target)
        if there is not None and (here is None or there > here):
            wrong.append(f"line {line} imports {target}")
    assert not wrong, f"{name} reaches up: {'; '.join(wrong)}"


@pytest.mark.parametrize("name", modules())
def test_what_stands_behind_one_door_is_imported_there_alone(name: str) -> None:
    path = modules()[name]
    wrong = []
    for target, line in imports(name, tree(path), is_package=path.name == "__init__.py"):
        doors = ONLY_IN.get(target.split(".")[0], (name,))
        if not any(name == door or name.startswith(door + ".") for door in doors):
            wrong.append(f"line {line} imports {target}, which only {' and '.join(doors)} may")
    assert not wrong, f"{name}: {'; '.join(wrong)}"


def test_every_part_of_the_package_has_its_layer() -> None:
    parts = {name.split(".")[1] for name in modules() if "." in name}
    assert parts <= RANK.keys()
    assert {"errors", "geometry", "families", "setting"} <= parts


@pytest.mark.parametrize(
    ("code", "found"),
    [
        ("import wadforms.cli", "wadforms.cli"),
        ("def f():\n    from wadforms.setting.checks import check", "wadforms.setting.checks"),
        ("if TYPE_CHECKING:\n    from ..moulds import part", "wadforms.moulds.part"),
        ("from wadforms import units", "wadforms.units"),
        ("from . import outline", "wadforms.geometry.outline"),
    ],
)
def test_no_way_to_write_an_import_is_overlooked(code: str, found: str) -> None:
    seen = imports("wadforms.geometry.body", ast.parse(code), is_package=False)
    assert [target for target, _ in seen] == [found]
