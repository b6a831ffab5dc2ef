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
from wadforms.errors import BadInput, Fault, UnknownName
from wadforms.families.base import BODIES, DRY, SOLID, WET
from wadforms.files import LARGEST_TOML, parse_toml, read_at_most, shortened
from wadforms.setting.limits import Limit
from wadforms.setting.readings import Readings
from wadforms.setting.shrinkage import mould_factor, total_shrinkage
from wadforms.setting.table_reader import TableReader

USUAL: Final = {WET: "open", DRY: "open", SOLID: "fireclay"}
"""The mix that each body is made of where none is named."""

MEASURABLE: Final = {"at-heat": "at_heat", "cold": "cold", "point": "tip"}
"""Limits of a mix that a test of the user's may replace, by the name that is typed."""

SHRINKS: Final = (0.0, 0.3)
"""Linear shrinkage of a clay in drying, and in firing: from and to, as shares."""

LOOSE: Final = (0.02, 5.0)
"""Loose density of an ingredient: from and to [g/cm³]."""


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
    readings : Readings or None
        What the density rests on, where it was measured and they were kept [g/cm³].
    loss : float or None
        Share of its dry mass that the fire takes, where it is known: all of what burns out, and
        water that is bound in a mineral.
    """

    name: str
    parts: float
    loose_density: float
    burns_out: bool = False
    assumed: bool = True
    readings: Readings | None = None
    loss: float | None = None


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
    drying_limit, firing_limit : Limit or None
        The most that it was measured to shrink, as a share, where readings of bars were kept.
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
    drying_limit: Limit | None = None
    firing_limit: Limit | None = None

    @property
    def total(self) -> float:
        """Total linear shrinkage, wet to fired."""
        return total_shrinkage(self.drying, self.firing)

    @property
    def loss(self) -> float | None:
        """Share of its dry mass that the fire takes; None where that of a part is not known.

        Examples
        --------
        >>> round(mix("dense").loss, 3), mix("fireclay").loss
        (0.273, None)
        """
        masses = [i.parts * i.loose_density for i in self.ingredients]
        losses = [i.loss for i in self.ingredients if i.loss is not None]
        if len(losses) < len(masses):
            return None
        return sum(m * loss for m, loss in zip(masses, losses, strict=True)) / sum(masses)

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
        """Fired size over set size: what the contact shrinks to at top heat.

        Where bars were measured, it is that of the bars that shrink most, which bear on least.
        """
        if body == SOLID:
            return 1.0
        firing = self.firing if self.firing_limit is None else self.firing_limit.value
        drying = self.drying if self.drying_limit is None else self.drying_limit.value
        return (1.0 - firing) * (1.0 - drying if body == WET else 1.0)

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
    data, where = mix_file(name)
    return _mix(parse_toml(data, where, "a mix"), _own_name(name), where)


def _own_name(name: str) -> str:
    return Path(name).stem if name.endswith(".toml") else name


def mix_file(name: str) -> tuple[bytes, str]:
    """The TOML of a mix by its name or path, and what messages call its file.

    Raises
    ------
    UnknownName
        No mix has that name.
    BadInput
        The file cannot be read.

    Examples
    --------
    >>> data, where = mix_file("open")
    >>> where, b"[shrinkage]" in data
    ('open.toml', True)
    """
    if name.endswith(".toml"):
        return read_at_most(Path(name), LARGEST_TOML, "a mix"), shortened(name)
    # Not importlib.resources, which is slow to load; this reads from a zip too.
    try:
        data = pkgutil.get_data(__name__, f"{name}.toml") if name.isidentifier() else None
    except OSError:
        data = None
    if data is None:
        raise UnknownName("mix", name, names())
    return data, f"{name}.toml"


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
    reader = TableReader(data, where)
    bodies = _bodies(reader)
    found = Mix(
        name=name,
        summary=reader.text("summary"),
        source=reader.text("source"),
        bodies=bodies,
        ingredients=_ingredients(reader),
        water=reader.limit("water", "share", 0.01, 0.6),
        drying=reader.number("shrinkage.drying", "share", *SHRINKS),
        firing=reader.number("shrinkage.firing", "share", *SHRINKS),
        wet_density=reader.number("density.wet", "g/cm3", 0.3, 4.0),
        dry_density=reader.number("density.dry", "g/cm3", 0.2, 4.0),
        density_source=reader.text("density.source"),
        density_assumed=reader.flag("density.assumed", default=True),
        at_heat=reader.limit("limits.at_heat"),
        cold=reader.limit("limits.cold"),
        tip=reader.limit("limits.tip") if SOLID in bodies else None,
        drying_limit=_shrinks(reader, "drying"),
        firing_limit=_shrinks(reader, "firing"),
    )
    if reader.faults:
        raise BadInput(*reader.faults)
    return found


def _shrinks(reader: TableReader, stage: str) -> Limit | None:
    """The most that bars were measured to shrink; None where nothing is told of them."""
    key = f"shrinkage.{stage}_most"
    if reader.get(key) is None:
        return None
    found = reader.limit(key, "share", *SHRINKS)
    mean = reader.get(f"shrinkage.{stage}")
    if isinstance(mean, int | float) and found.value < mean:
        right = f"give at least shrinkage.{stage}"
        reader.fault(f"{key}.value", reader.get(f"{key}.value"), right)
    return found


def _bodies(reader: TableReader) -> tuple[str, ...]:
    value = reader.get("bodies")
    if not isinstance(value, list) or not value or any(v not in BODIES for v in value):
        reader.fault("bodies", value, f"give a list of {', '.join(BODIES)}")
        return ()
    return tuple(value)


def _ingredients(reader: TableReader) -> tuple[Ingredient, ...]:
    value = reader.get("ingredients")
    if not isinstance(value, dict) or not value:
        reader.fault("ingredients", value, "give a table for each, as [ingredients.kaolin]")
        return ()
    return tuple(_ingredient(reader, name, entry) for name, entry in value.items())


def _ingredient(reader: TableReader, name: str, entry: object) -> Ingredient:
    # Not by its key: the name of an ingredient may have a full stop in it.
    key = f"ingredients.{name}"
    if not isinstance(entry, dict):
        reader.fault(key, entry, "give a table with parts and loose_density")
        return Ingredient(name, 1.0, 1.0)
    inner = TableReader(entry, f"{reader.where}: {key}")
    found = Ingredient(
        name=name,
        parts=inner.number("parts", "count", 0.01, 1e3),
        loose_density=inner.number("loose_density", "g/cm3", *LOOSE),
        burns_out=inner.flag("burns_out", default=False),
        assumed=inner.flag("assumed", default=True),
        readings=inner.readings("readings", "g/cm3", *LOOSE),
    )
    if inner.get("loss") is not None:
        found = found._replace(loss=inner.number("loss", "share", 0.0, 1.0))
    elif found.burns_out:
        found = found._replace(loss=1.0)
    if found.readings is not None and found.assumed:
        inner.fault("assumed", inner.get("assumed"), "write false: it has readings")
    reader.faults += inner.faults
    return found
