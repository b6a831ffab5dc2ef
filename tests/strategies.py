"""Sizes of any family for the property tests, drawn from what the family declares."""

from __future__ import annotations

from functools import cache
from typing import Any

from hypothesis import reject
from hypothesis import strategies as st

from wadforms.catalogue import own_folder
from wadforms.catalogue.outlines import read_outline
from wadforms.errors import BadInput, NotMakeable
from wadforms.families.base import Family, Parameter, Piece
from wadforms.geometry.construct import arc_band, regular, rounded
from wadforms.geometry.contour import Contour
from wadforms.geometry.outline import Outline

STEP = 0.01
"""Lengths and angles are drawn in steps that people type [mm, deg]."""

TRIES = 30
"""How often parameters that do not go together are drawn again."""


@cache
def outlines() -> tuple[Outline, ...]:
    """Outlines for a family that takes any: our own drawings, and some with a hole or a hollow."""
    drawn = own_folder().joinpath("outlines")
    files = sorted((f for f in drawn.iterdir() if f.name.endswith(".svg")), key=lambda f: f.name)
    plate = rounded([(-30, -20), (30, -20), (30, 20), (-30, 20)], 6.0)
    return (
        *map(read_outline, files),
        Outline(plate, (Contour.circle(6.0, (12.0, 0.0)), Contour.circle(6.0, (-12.0, 0.0)))),
        Outline(arc_band(20.0, 8.0, 200.0)),
        Outline(Contour.polygon(regular(5, 24.0))),
    )


def value_of(parameter: Parameter) -> st.SearchStrategy[Any]:
    """Any value that a parameter allows, with its default and its bounds drawn often."""
    if parameter.unit == "outline":
        return st.sampled_from(outlines())
    if parameter.unit == "choice":
        return st.sampled_from(parameter.choices)
    if parameter.unit == "count":
        return st.integers(int(parameter.low), int(parameter.high))
    low, high = round(parameter.low / STEP), round(parameter.high / STEP)
    near = min(high, low + (high - low) // 5)
    steps = st.one_of(st.integers(low, near), st.integers(low, high))
    return st.one_of(st.just(float(parameter.default)), steps.map(lambda k: round(k * STEP, 2)))


@st.composite
def sizes(draw: st.DrawFn, family: type[Family]) -> Family:
    """An instance of the family: some values drawn, the others at their default.

    Values that do not go together are drawn again.
    """
    declared = {p.name: p for p in family.parameters()}
    fixed = {name for name, p in declared.items() if p.unit == "outline"}
    for _ in range(TRIES):
        free = draw(st.sets(st.sampled_from(sorted(declared)), min_size=1)) | fixed
        values = {name: draw(value_of(declared[name])) for name in sorted(free)}
        try:
            return family(**values)
        except BadInput:
            continue
    return reject()


def piece_of(size: Family) -> Piece:
    """Its piece; only an outline that anyone may draw can turn out not to be makeable."""
    try:
        return size.piece()
    except NotMakeable:
        if size.name != "custom":
            raise
        return reject()
