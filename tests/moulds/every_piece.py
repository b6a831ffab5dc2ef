"""Sizes of every family over its declared range, and every named shape, as pieces."""

from __future__ import annotations

import random
from collections.abc import Iterator
from functools import cache
from typing import Any

from wadforms.catalogue import shapes
from wadforms.errors import BadInput, NotMakeable
from wadforms.families import families
from wadforms.families.base import Family, Parameter, Piece
from wadforms.geometry.contour import Contour
from wadforms.geometry.outline import Outline

TRIES = 400
DRAWS = 2

# A family that takes any outline is given a leaf: two arcs that meet in points, so that on a
# drafted wall their sweeps change with the level and its faces are no cones.
OUTLINE = Outline(Contour(((27.5, 0.0), (-27.5, 0.0)), (0.5, 0.5)))


@cache
def pieces() -> dict[str, Piece]:
    """A piece for each end of each parameter, for a few draws, and for each named shape."""
    found: dict[str, Piece] = {}
    for name, family in families().items():
        for label, piece in _of_family(family):
            found[f"{name}: {label}"] = piece
    for name, shape in shapes().items():
        found[f"shape {name}"] = shape.piece()
    return found


def _of_family(family: type[Family]) -> Iterator[tuple[str, Piece]]:
    chance = random.Random(family.name)  # noqa: S311  (the same sizes in every run)
    own = {"outline": OUTLINE} if any(p.unit == "outline" for p in family.parameters()) else {}
    yield "default", family(**own).piece()
    for parameter in family.parameters():
        for label, value in ends(parameter):
            piece = _first(family, {**own, parameter.name: value}, chance)
            if piece is not None:
                yield f"{parameter.name} {label}", piece
    for k in range(DRAWS):
        draw = _first(family, own, chance, at_once=False)
        assert draw is not None
        yield f"draw {k}", draw


def ends(parameter: Parameter) -> list[tuple[str, Any]]:
    """The lowest and the highest value, or every word."""
    if parameter.unit == "outline":
        return []
    if parameter.unit == "choice":
        return [(word, word) for word in parameter.choices]
    kind = int if parameter.unit == "count" else float
    return [("low", kind(parameter.low)), ("high", kind(parameter.high))]


def _first(
    family: type[Family], fixed: dict[str, Any], chance: random.Random, *, at_once: bool = True
) -> Piece | None:
    """The piece with the other parameters at their defaults, else drawn until they fit."""
    for k in range(TRIES):
        values = dict(fixed)
        for parameter in family.parameters():
            if (k or not at_once) and parameter.name not in fixed and chance.random() < 0.8:
                values[parameter.name] = _drawn(parameter, chance)
        try:
            return family(**values).piece()
        except (BadInput, NotMakeable):
            continue
    return None


def _drawn(parameter: Parameter, chance: random.Random) -> Any:
    if parameter.unit == "choice" or chance.random() < 0.4:
        return chance.choice([value for _, value in ends(parameter)])
    if parameter.unit == "count":
        return chance.randint(int(parameter.low), int(parameter.high))
    return chance.uniform(parameter.low, parameter.high)
