"""What is said where the kernel cannot be loaded."""

from __future__ import annotations

import importlib
from collections.abc import Iterator
from pathlib import Path

import pytest

from wadforms.errors import KernelMissing
from wadforms.families import family
from wadforms.moulds import kernel, write_tray


@pytest.fixture(autouse=True)
def _not_loaded_yet() -> Iterator[None]:
    kernel.cadquery.cache_clear()
    kernel.ocp.cache_clear()
    yield
    kernel.cadquery.cache_clear()
    kernel.ocp.cache_clear()


def _fails(monkeypatch: pytest.MonkeyPatch, error: ImportError) -> None:
    def refuse(name: str) -> object:
        raise error

    monkeypatch.setattr(importlib, "import_module", refuse)


def test_missing_libgl_names_the_package(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    # The loader's own words on a server without a screen.
    words = "libGL.so.1: cannot open shared object file: No such file or directory"
    _fails(monkeypatch, ImportError(words))
    with pytest.raises(KernelMissing) as caught:
        write_tray(family("disk")().piece(), tmp_path / "tray.stl", shrinkage=0.05)
    message = str(caught.value)
    assert "\n" not in message
    assert "libgl1 (Debian, Ubuntu), mesa-libGL (Fedora)" in message
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    ("error", "said"),
    [
        (ModuleNotFoundError("No module named 'cadquery'"), "pip install cadquery"),
        (ImportError("libXrender.so.1: cannot open shared object file"), "libXrender.so.1"),
    ],
)
def test_other_causes(monkeypatch: pytest.MonkeyPatch, error: ImportError, said: str) -> None:
    _fails(monkeypatch, error)
    with pytest.raises(KernelMissing, match=said):
        kernel.cadquery()
