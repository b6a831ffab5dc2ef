"""What is heavy is imported when it is first needed, never at the start."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from source_tree import fresh, modules

KERNEL = {"OCP", "cadquery", "casadi", "nlopt", "vtk", "vtkmodules"}
"""The solid-modelling kernel and what it drags in: seconds, and a system library."""

HEAVY = KERNEL | {"stl", "svgwrite", "fontTools", "scipy", "numpy", "shapely", "numba"}
SERVING = {"nicegui", "fastapi", "starlette", "uvicorn"}
"""What serves the page: for that command alone."""

HEAVY |= SERVING | {"PIL", "cv2", "ezdxf", "lib3mf", "manifold3d", "reportlab", "spyrrow"}
"""What no module may load by being imported."""

LOADED = "; import json; print(json.dumps(sorted({name.split('.')[0] for name in sys.modules})))"

TIME_OF_A_COMMAND = """
import json, sys
sys.argv[0] = "wadforms"
from wadforms.cli import main
try:
    status = main()
except SystemExit as end:
    status = end.code
with open("loaded.json", "w") as out:
    json.dump([status or 0, sorted({name.split(".")[0] for name in sys.modules})], out)
"""

TEA_BOWL = ["--weight", "380g", "--foot", "50mm", "--foot-width", "5mm"]


def test_importing_any_module_loads_nothing_heavy(tmp_path: Path) -> None:
    code = "import importlib, sys\nfor name in sys.argv[1:]: importlib.import_module(name)\n"
    names = [name for name in modules() if not name.endswith("__main__")]
    names = [name for name in names if not name.startswith("wadforms.page.")]
    done = fresh(code + LOADED[2:], *names, cwd=tmp_path)
    assert done.returncode == 0, done.stderr
    assert HEAVY.isdisjoint(json.loads(done.stdout))


@pytest.mark.parametrize(
    "name", ["wadforms.setting.checks", "wadforms.families", "wadforms.moulds"]
)
def test_statics_and_shapes_start_with_the_standard_library_alone(
    name: str, tmp_path: Path
) -> None:
    done = fresh(f"import sys, {name}{LOADED}", cwd=tmp_path)
    assert done.returncode == 0, done.stderr
    assert (HEAVY | {"typer", "click", "defusedxml"}).isdisjoint(json.loads(done.stdout))


def loaded_by(*arguments: str, cwd: Path) -> set[str]:
    """The packages that a command has loaded by the time it ends well."""
    done = fresh(TIME_OF_A_COMMAND, *arguments, cwd=cwd)
    assert done.returncode == 0, done.stderr
    status, loaded = json.loads((cwd / "loaded.json").read_text(encoding="utf-8"))
    assert status in {0, 3}, done.stderr
    return set(loaded)


@pytest.mark.parametrize("arguments", [["--help"], ["shapes"], ["shapes", "--json"]])
def test_help_and_lists_load_nothing_heavy(arguments: list[str], tmp_path: Path) -> None:
    assert (KERNEL | SERVING | {"stl", "svgwrite", "scipy"}).isdisjoint(
        loaded_by(*arguments, cwd=tmp_path)
    )


@pytest.mark.parametrize(
    "arguments",
    [
        ["contact", *TEA_BOWL, "--wad", "disk-10", "--json"],
        ["size", *TEA_BOWL],
    ],
    ids=["contact", "size"],
)
def test_statics_never_load_the_kernel(arguments: list[str], tmp_path: Path) -> None:
    loaded = loaded_by(*arguments, cwd=tmp_path)
    assert "shapely" in loaded  # else the command did nothing that this test is about
    assert (KERNEL | SERVING | {"stl", "svgwrite", "scipy"}).isdisjoint(loaded)


def test_reading_a_drawing_loads_no_other_format(tmp_path: Path) -> None:
    code = "import sys; from wadforms.catalogue import find; find('leaf-55').sized()"
    done = fresh(code + LOADED, cwd=tmp_path)
    assert done.returncode == 0, done.stderr
    loaded = set(json.loads(done.stdout))
    assert "defusedxml" in loaded
    assert {"ezdxf", "fontTools", "svgwrite", "scipy"}.isdisjoint(loaded)
