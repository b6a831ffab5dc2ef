"""What is said where the kernel cannot be loaded."""

from __future__ import annotations

import importlib
from collections.abc import Iterator
from pathlib import Path

import pytest

from wadforms.errors import KernelMissing
from wadforms.families import family
from wadforms.moulds import Order, kind, write, write_mould
from wadforms.moulds.solids import kernel


@pytest.fixture(autouse=True)
def _not_loaded_yet() -> Iterator[None]:
    kernel.cadquery.cache_clear()
    kernel.ocp.cache_clear()
    yield
    kernel.cadquery.cache_clear()
    kernel.ocp.cache_clear()


def _fails(monkeypatch: pytest.MonkeyPatch, error: ImportError) -> None:
    real = importlib.import_module

    def refuse(name: str, package: str | None = None) -> object:
        if name.partition(".")[0] in ("cadquery", "OCP"):
            raise error
        return real(name, package)

    monkeypatch.setattr(importlib, "import_module", refuse)


def test_missing_libgl_names_the_package(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    made = kind("tray")().make(Order(family("disk")().piece(), 0.05))
    # The loader's own words on a server without a screen.
    words = "libGL.so.1: cannot open shared object file: No such file or directory"
    _fails(monkeypatch, ImportError(words))
    with pytest.raises(KernelMissing) as caught:
        write_mould(made, tmp_path / "tray.stl", formats=["step"])
    message = str(caught.value)
    assert "\n" not in message
    assert "libgl1 (Debian, Ubuntu), mesa-libGL (Fedora)" in message
    assert list(tmp_path.iterdir()) == []


def test_without_the_kernel_a_tray_is_made_with_one_witness_less(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    def missing(*_: object) -> float:
        raise KernelMissing("the kernel cannot be loaded")

    monkeypatch.setattr(write, "witness", missing)
    made = kind("tray")().make(Order(family("disk")().piece(), 0.05))
    written = write_mould(made, tmp_path / "tray.stl")
    assert written.kernel_volume_mm3 is None
    assert written.parts[0].read_back_volume_mm3 == pytest.approx(made.parts[0].volume, rel=1e-6)


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
