"""Mixes: recipes with their shrinkages, densities and limits, read from TOML.

The files beside this module ship with wadforms; a user's own file of the same form replaces
every assumed value that it gives with ``assumed = false``.
"""

from __future__ import annotations

import math
import pkgutil
from collections.abc import Mapping
from pathlib import Path
from typing import Any, Final, NamedTuple

from wadforms import units
from wadforms.errors import BadInput, Fault, UnknownName, quoted
from wadforms.families.base import BODIES, DRY, SOLID, WET
from wadforms.files import parse_toml, read_toml
from wadforms.setting.limits import Limit
from wadforms.setting.shrinkage import mould_factor, total_shrinkage

USUAL: Final = {WET: "open", DRY: "open", SOLID: "fireclay"}
"""The mix that each body is made of where none is named."""

MEASURABLE: Final = {"at-heat": "at_heat", "cold": "cold", "point": "tip"}
"""Limits of a mix that a test of the user's may replace, by the name that is typed."""


class Ingredient(NamedTuple):
    """One ingredient of a mix.

    Parameters
    ----------
    name : str
        What it is.
    parts : float
        Of the mix, by loose volume.
    loose_density : float
        Of a filled cup of it, struck off and not tapped [g/cm³].
    burns_out : bool
        Whether the fire takes it and leaves pores.
    assumed : bool
        False only where somebody weighed that cup.
    """

    name: str
    parts: float
    loose_density: float
    burns_out: bool = False
    assumed: bool = True


class Mix(NamedTuple):
    """A recipe and what is known or assumed of it.

    Parameters
    ----------
    name, summary, source : str
        Its name, what it is, and where its values come from.
    bodies : tuple of str
        How wads of it are set: wet, dry or solid.
    ingredients : tuple of Ingredient
        What it is weighed out from, besides water.
    water : Limit
        Share of the wet mass that is water, as pressed.
    drying, firing : float
        Linear shrinkages after ASTM C326, as shares.
    wet_density, dry_density : float
        As pressed and bone dry [g/cm³].
    density_source : str
        Where the densities come from.
    density_assumed : bool
        False only where somebody weighed a known volume.
    at_heat, cold : Limit
        Pressure that creep allows at top heat, and that crushing allows when dry [kPa].
    tip : Limit or None
        Pressure on the small flat of a fine tip [kPa]; only mixes for solid pieces have one.
    """

    name: str
    summary: str
    source: str
    bodies: tuple[str, ...]
    ingredients: tuple[Ingredient, ...]
    water: Limit
    drying: float
    firing: float
    wet_density: float
    dry_density: float
    density_source: str
    density_assumed: bool
    at_heat: Limit
    cold: Limit
    tip: Limit | None = None

    @property
    def total(self) -> float:
        """Total linear shrinkage, wet to fired."""
        return total_shrinkage(self.drying, self.firing)

    def shrinkage(self, body: str) -> float:
        """Linear share by which a piece shrinks between mould and setting.

        A wet wad is set as it leaves the mould; a dry one has shrunk by drying; a solid one has
        been fired too.
        """
        return {WET: 0.0, DRY: self.drying, SOLID: self.total}[body]

    def wet_factor(self, body: str) -> float:
        """Wet size over set size: what a mould is enlarged by."""
        return mould_factor(self.shrinkage(body))

    def wet_mass(self, volume: float) -> float:
        """Mass [g] of a volume [mm³] of the mix as it is pressed."""
        return volume / 1000.0 * self.wet_density

    def fired_factor(self, body: str) -> float:
        """Fired size over set size: what the contact shrinks to at top heat."""
        return 1.0 - {WET: self.total, DRY: self.firing, SOLID: 0.0}[body]

    def measured(self, limits: Mapping[str, float], source: str) -> Mix:
        """The mix with limits [kPa] of the user's own, by their typed names (`MEASURABLE`).

        Raises
        ------
        BadInput
            A name is none of these, or a limit is not above 0.
        """
        faults: list[Fault] = []
        for name, value in limits.items():
            if name not in MEASURABLE:
                faults += UnknownName("measured limit", name, MEASURABLE).faults
            elif not (math.isfinite(value) and value > 0.0):
                given = units.show(value, "kPa") if math.isfinite(value) else str(value)
                faults.append(Fault(f"measured {name}", given, "give more than 0"))
        if faults:
            raise BadInput(*faults)
        own = {MEASURABLE[k]: Limit(v, "kPa", source, assumed=False) for k, v in limits.items()}
        return self._replace(**own)  # type: ignore[arg-type]


def mix(name: str) -> Mix:
    """A mix by its name, or by the path of a TOML file.

    Raises
    ------
    UnknownName
        No mix has that name.
    BadInput
        The file cannot be read as a mix; every fault is told.

    Examples
    --------
    >>> round(mix("open").total, 3), mix("open").at_heat.value
    (0.121, 50.0)
    """
    if name.endswith(".toml"):
        return _mix(read_toml(Path(name), "a mix"), Path(name).stem, name)
    # Not importlib.resources, which is slow to load; this reads from a zip too.
    try:
        data = pkgutil.get_data(__name__, f"{name}.toml") if name.isidentifier() else None
    except OSError:
        data = None
    if data is None:
        raise UnknownName("mix", name, names())
    where = f"{name}.toml"
    return _mix(parse_toml(data, where, "a mix"), name, where)


def names() -> list[str]:
    """Names of the mixes that ship with wadforms."""
    from importlib import resources

    files = (entry.name for entry in resources.files(__name__).iterdir())
    return sorted(name.removesuffix(".toml") for name in files if name.endswith(".toml"))


def read(text: str, name: str, where: str) -> Mix:
    """Read a mix from TOML text.

    Raises
    ------
    BadInput
        With every fault found, each with its key.
    """
    return _mix(parse_toml(text.encode(), where, "a mix"), name, where)


def _mix(data: dict[str, Any], name: str, where: str) -> Mix:
    """The mix of a file's tables; every fault is told."""
    reader = _Reader(data, where)
    bodies = reader.bodies()
    found = Mix(
        name=name,
        summary=reader.text("summary"),
        source=reader.text("source"),
        bodies=bodies,
        ingredients=reader.ingredients(),
        water=reader.limit("water", "share", 0.01, 0.6),
        drying=reader.number("shrinkage.drying", "share", 0.0, 0.3),
        firing=reader.number("shrinkage.firing", "share", 0.0, 0.3),
        wet_density=reader.number("density.wet", "g/cm3", 0.3, 4.0),
        dry_density=reader.number("density.dry", "g/cm3", 0.2, 4.0),
        density_source=reader.text("density.source"),
        density_assumed=reader.flag("density.assumed", default=True),
        at_heat=reader.limit("limits.at_heat"),
        cold=reader.limit("limits.cold"),
        tip=reader.limit("limits.tip") if SOLID in bodies else None,
    )
    if reader.faults:
        raise BadInput(*reader.faults)
    return found


class _Reader:
    """Takes values out of a mix file and collects what is wrong with them."""

    def __init__(self, data: dict[str, Any], where: str) -> None:
        self.data, self.where, self.faults = data, where, list[Fault]()

    def _get(self, key: str) -> Any:
        value: Any = self.data
        for part in key.split("."):
            value = value.get(part) if isinstance(value, dict) else None
        return value

    def _fault(self, key: str, value: object, right: str) -> None:
        given = "nothing" if value is None else quoted(value)
        self.faults.append(Fault(f"{self.where}: {key}", given, right))

    def text(self, key: str) -> str:
        value = self._get(key)
        if not isinstance(value, str):
            self._fault(key, value, "give a text")
            return ""
        return value

    def number(self, key: str, unit: str, low: float, high: float) -> float:
        given = value = self._get(key)
        right = f"give {units.show(low, unit)} to {units.show(high, unit)}"
        try:
            if isinstance(value, str) and unit in units.UNITS:
                value = units.parse(value, unit, key)
            if isinstance(value, bool) or not isinstance(value, int | float):
                raise TypeError
            if not (math.isfinite(value) and low <= value <= high):
                raise ValueError
        except (TypeError, ValueError):
            self._fault(key, given, right)
            return low
        return float(value)

    def flag(self, key: str, *, default: bool) -> bool:
        value = self._get(key)
        if isinstance(value, bool | None):
            return default if value is None else value
        self._fault(key, value, "give true or false")
        return default

    def limit(self, key: str, unit: str = "kPa", low: float = 1.0, high: float = 1e6) -> Limit:
        value = self.number(f"{key}.value", unit, low, high)
        source = self.text(f"{key}.source")
        return Limit(value, unit, source, self.flag(f"{key}.assumed", default=True))

    def bodies(self) -> tuple[str, ...]:
        value = self._get("bodies")
        if not isinstance(value, list) or not value or any(v not in BODIES for v in value):
            self._fault("bodies", value, f"give a list of {', '.join(BODIES)}")
            return ()
        return tuple(value)

    def ingredients(self) -> tuple[Ingredient, ...]:
        value = self._get("ingredients")
        if not isinstance(value, dict) or not value:
            self._fault("ingredients", value, "give a table for each, as [ingredients.kaolin]")
            return ()
        return tuple(self._ingredient(name, entry) for name, entry in value.items())

    def _ingredient(self, name: str, entry: object) -> Ingredient:
        # Not by `_get`: the name of an ingredient may have a full stop in it.
        key = f"ingredients.{name}"
        if not isinstance(entry, dict):
            self._fault(key, entry, "give a table with parts and loose_density")
            return Ingredient(name, 1.0, 1.0)
        inner = _Reader(entry, f"{self.where}: {key}")
        found = Ingredient(
            name=name,
            parts=inner.number("parts", "count", 0.01, 1e3),
            loose_density=inner.number("loose_density", "g/cm3", 0.02, 5.0),
            burns_out=inner.flag("burns_out", default=False),
            assumed=inner.flag("assumed", default=True),
        )
        self.faults += inner.faults
        return found
