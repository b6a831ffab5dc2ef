"""Names that other people's programs import: one that goes or moves breaks them."""

from __future__ import annotations

import inspect
from importlib import import_module

import pytest

NAMES = {
    "wadforms.errors": "BadInput Fault KernelMissing NotMakeable UnknownName WadformsError",
    "wadforms.units": "parse show",
    "wadforms.geometry.outline": "Outline",
    "wadforms.geometry.contour": "Contour Pen Point",
    "wadforms.families": "families family",
    "wadforms.families.base": "Family Piece Tips",
    "wadforms.families.disk": "Disk",
    "wadforms.catalogue": "Shape find shapes",
    "wadforms.catalogue.outlines": "Drawn read_drawn read_outline",
    "wadforms.setting.arrangement": "Arrangement Spot circle",
    "wadforms.setting.assessment": "Assessment Check",
    "wadforms.setting.checks": "check",
    "wadforms.setting.feet": "FlatFoot GalleryFoot OutlineFoot RingFoot RoundFoot SideFoot",
    "wadforms.setting.limits": "PLACES Limit",
    "wadforms.setting.mixes": "Mix mix",
    "wadforms.setting.pot": "Pot Setting",
    "wadforms.setting.sizing": "Candidate size",
    "wadforms.moulds": "Board Kind Order Written kind kinds write_mould",
    "wadforms.nesting": "Nest Spot compact fit_turn largest_factor nest",
    "wadforms.templates.outline_sheet": "outline_sheet",
    "wadforms.cli": "main",
}

PARAMETERS = {
    "wadforms.units.parse": "text unit where",
    "wadforms.families.family": "name",
    "wadforms.setting.arrangement.circle": "count radius first turn",
    "wadforms.setting.checks.check": "setting",
    "wadforms.setting.mixes.mix": "name",
    "wadforms.setting.pot.Setting": "pot arrangement body mix place shear",
    "wadforms.setting.sizing.size": "pot candidates place shear mixes",
    "wadforms.moulds.kind": "name",
    "wadforms.moulds.write_mould": "made path formats board force",
    "wadforms.nesting.nest": "outline gap width height count seconds seed",
}


@pytest.mark.parametrize("module", NAMES)
def test_names_are_where_they_were(module: str) -> None:
    assert set(NAMES[module].split()) <= vars(import_module(module)).keys()


@pytest.mark.parametrize("path", PARAMETERS)
def test_they_take_what_they_took(path: str) -> None:
    module, _, name = path.rpartition(".")
    taken = inspect.signature(getattr(import_module(module), name)).parameters
    # New ones may follow, as long as they have a default.
    old = PARAMETERS[path].split()
    assert list(taken)[: len(old)] == old
    new = list(taken.values())[len(old) :]
    assert all(p.default is not p.empty or p.kind is p.VAR_KEYWORD for p in new)
