"""The closed forms agree with the full check, and size and options with what it says."""

from __future__ import annotations

from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from wadforms.catalogue import find
from wadforms.families.base import DRY, SOLID, WET
from wadforms.firing.candidates import candidate, candidates
from wadforms.firing.options import options
from wadforms.setting.assessment import worst_verdict
from wadforms.setting.checks import check
from wadforms.setting.evenly import is_even, part_used
from wadforms.setting.feet import FlatFoot, Foot, GalleryFoot, RingFoot
from wadforms.setting.layouts import Layout, layouts
from wadforms.setting.limits import PLACES, SHEAR, TIGHT
from wadforms.setting.mixes import USUAL, mix
from wadforms.setting.pot import Pot
from wadforms.setting.tries import Candidate, Choice, Conditions, Lot, chosen

MIXES = {body: mix(name) for body, name in USUAL.items()}

# Feet and tops are polygons here and there, turned differently, and strayed by up to 0.01 mm from
# their arcs (CHORD_ERROR); a pressure may differ by what that is of a patch a few mm wide.
ALIKE = 5e-3


@cache
def tried() -> tuple[Candidate, ...]:
    marks = [candidate(find(name)) for name in ("leaf-55", "crescent-40", "flower-46")]
    return (*(c for c in candidates(lid=True) if c.piece.faces and not c.piece.tips), *marks)


@st.composite
def feet(draw: st.DrawFn) -> Foot:
    across = draw(st.floats(40.0, 640.0))
    width = draw(st.floats(3.0, 14.0))
    kind = draw(st.sampled_from(("flat", "ring", "rings", "gallery")))
    if kind == "flat":
        return FlatFoot(across)
    if kind == "rings" and across > 6 * width:
        return RingFoot(across, width, (across - 3 * width,))
    return GalleryFoot(across, width) if kind == "gallery" else RingFoot(across, width)


@st.composite
def pots(draw: st.DrawFn) -> Pot:
    foot = draw(feet())
    across = getattr(foot, "diameter", 0.0)
    height = draw(st.none() | st.floats(0.05, 2.0).map(lambda part: part * across))
    mass = draw(st.floats(0.02, 3.0)) * (across / 80.0) ** 2.3 * 450.0
    return Pot(mass=mass, foot=foot, height=height, held=draw(st.booleans()) and bool(height))


def verdict(used: float | None) -> int | None:
    return None if used is None else (used > TIGHT) + (used > 1.0)


def in_full(one: Candidate, layout: Layout, pot: Pot, body: str, met: Conditions) -> Choice | None:
    lot = Lot(1.0, len(layout.spots), one.name, body, one.piece, (layout,))
    return chosen(lot, layout, pot, met)


@settings(max_examples=60)
@given(data=st.data(), pot=pots(), place=st.sampled_from(sorted(PLACES)))
def test_closed_forms_say_what_the_full_check_says(
    data: st.DataObject, pot: Pot, place: str
) -> None:
    one = data.draw(st.sampled_from(tried()))
    body = data.draw(st.sampled_from([b for b in (WET, DRY, SOLID) if b in one.bodies]))
    met = Conditions(place=PLACES[place], shear=SHEAR["firm"], mixes=MIXES)
    even = [layout for layout in layouts(pot, one.piece) if is_even(pot, one.piece, layout)]
    if not even:
        return
    layout = data.draw(st.sampled_from(even))
    used = part_used(one.piece, layout, pot, body, MIXES[body], PLACES[place], SHEAR["firm"])
    choice = in_full(one, layout, pot, body, met)
    full = None if choice is None else choice.assessment.governing.used
    near = full is not None and min(abs(full - limit) for limit in (TIGHT, 1.0)) < ALIKE
    assert near or verdict(used) == verdict(full), f"{used} and in full {full}"


def test_the_middle_of_a_wide_flat_base_is_looked_at() -> None:
    pot = Pot(mass=6000.0, foot=FlatFoot(587.0), height=30.0)
    square = candidate(find("square-25"))
    met = Conditions(place=PLACES["sheltered"], shear=SHEAR["firm"], mixes=MIXES)
    compared = []
    for layout in layouts(pot, square.piece):
        args = (pot, WET, MIXES[WET], PLACES["sheltered"], SHEAR["firm"])
        used = part_used(square.piece, layout, *args)
        choice = in_full(square, layout, pot, WET, met)
        assert used is not None
        assert choice is not None
        compared.append(choice.assessment.governing.used)
        assert verdict(used) == verdict(compared[-1])
    assert max(compared) > 1.0  # its edge or its middle lies too far from a wad


@pytest.mark.parametrize("body", [WET, DRY])
@pytest.mark.parametrize("foot", [FlatFoot(90.0), RingFoot(90.0, 7.0), GalleryFoot(90.0, 9.0)])
def test_round_wads_use_exactly_as_much(foot: Foot, body: str) -> None:
    pot = Pot(mass=900.0, foot=foot, height=80.0)
    disk = candidate(find("disk-12"))
    met = Conditions(place=PLACES["sheltered"], shear=SHEAR["firm"], mixes=MIXES)
    compared = 0
    for layout in layouts(pot, disk.piece):
        choice = in_full(disk, layout, pot, body, met)
        sheltered, firm = PLACES["sheltered"], SHEAR["firm"]
        used = part_used(disk.piece, layout, pot, body, MIXES[body], sheltered, firm)
        assert (choice is None) == (used is None)
        if choice is not None:
            assert used == pytest.approx(choice.assessment.governing.used, rel=ALIKE)
            compared += 1
    assert compared >= 8


def test_an_option_is_sound_or_tight_in_full_too_and_no_lighter_lot_is() -> None:
    pot = Pot(mass=1500.0, foot=RingFoot(120.0, 8.0), height=150.0)
    met = Conditions(
        place=PLACES["sheltered"], shear=SHEAR["firm"], mixes={b: MIXES[b] for b in (WET, DRY)}
    )
    some = candidates(["disk-10", "disk-16", "square-25", "tripod-80"])
    quick, full = options([pot], some, met), options([pot], some, met, closely=True)
    assert [option.lot for option in quick.options] == [option.lot for option in full.options]
    assert [option.is_sound for option in quick.options] == [o.is_sound for o in full.options]
    for option in quick.options:
        choice = chosen(option.lot, option.layout, pot, met)
        assert choice is not None
        judged = check(choice.setting).governing.verdict
        assert worst_verdict([judged, "tight"]) == "tight"


def test_weight_off_the_middle_or_a_foot_that_is_not_round_has_no_closed_form() -> None:
    disk = candidate(find("disk-16")).piece
    pot = Pot(mass=900.0, foot=FlatFoot(90.0), height=80.0)
    off = Pot(mass=900.0, foot=FlatFoot(90.0), height=80.0, centre=(5.0, 0.0))
    (layout, *_) = layouts(pot, disk)
    assert is_even(pot, disk, layout)
    assert not is_even(off, disk, layout)
    assert not is_even(pot, candidate(find("pointed-tripod-63")).piece, layout)
