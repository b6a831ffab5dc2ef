"""A potter's own tests on the page: what is asked for, and what the readings come to."""

from __future__ import annotations

from collections.abc import Callable
from html import escape
from pathlib import Path
from typing import TYPE_CHECKING, Final, NamedTuple

from wadforms import units
from wadforms.cli.measure import (
    CAUTIONS,
    BearingOptions,
    CupOptions,
    Measured,
    ReadingOptions,
    TrialOptions,
    measured,
)
from wadforms.cli.measure_readings import COLUMNS
from wadforms.errors import BadInput, Fault
from wadforms.page.inputs import paragraphs
from wadforms.page.sheets import Sheet
from wadforms.page.told import Typed
from wadforms.setting.readings import shown as shown_reading

if TYPE_CHECKING:
    from wadforms.page.kept_mixes import Kept
    from wadforms.setting.limits import Limit
    from wadforms.setting.mixes import Mix

Shown = Callable[[str], str]

KINDS: Final = (
    ("shrinkage", "Shrinkage: lengths of test bars"),
    ("bearing at-heat", "Bearing at top heat: wads under a known weight"),
    ("bearing cold", "Bearing while cold: the weight that broke a wad"),
    ("bearing point", "Bearing of a fine tip: the weight that crushed it"),
    ("loose-density", "Loose density: a filled cup on a scale"),
    ("clay-sag", "How a pot's clay sags: a bar on two supports"),
)
"""Each kind of test, with what it is called here."""

_LOADED: Final = ("bearing at-heat", "bearing cold", "bearing point")

ASKED: Final = {
    "diameter": ("Diameter of the round wads, or of the tip", _LOADED, "30 mm"),
    "height": ("Height of the wads", ("bearing cold",), "20 mm"),
    "together": ("How many shared each load", _LOADED, "1 if left empty"),
    "ingredient": ("Which ingredient", ("loose-density",), "kaolin"),
    "cup": ("What the cup holds", ("loose-density",), "250 ml"),
    "empty": ("What the empty cup weighs", ("loose-density",), "0 if left empty"),
    "on": ("Day of the test", None, "2026-11-01; today if left empty"),
    "note": ("Your own words on it", None, "cone 10, four hours"),
}
"""What is asked for besides the readings: its label, for which kinds (None for all), an example."""


def file_of(kind: str) -> str:
    """The file that keeps the readings of a kind.

    Examples
    --------
    >>> file_of("bearing at-heat")
    'readings-bearing-at-heat.csv'
    """
    return f"readings-{kind.replace(' ', '-')}.csv"


def headings_of(kind: str) -> list[str]:
    """The headings of the table of readings.

    Examples
    --------
    >>> headings_of("shrinkage"), headings_of("bearing cold")
    (['plastic (mm)', 'dry (mm)', 'fired (mm)'], ['load (kg)'])
    """
    kilos = kind.startswith("bearing")
    return [
        f"{column.name} ({'kg' if column.unit == 'g' and kilos else column.unit})"
        for column in COLUMNS[kind]
    ]


def empty(kind: str) -> Sheet:
    """A table of readings to fill in."""
    heads = headings_of(kind)
    return Sheet(heads, [[""] * len(heads) for _ in range(3)])


class Answer(NamedTuple):
    """What readings come to, as far as they are there.

    Parameters
    ----------
    found : Measured or None
        The results.
    data : bytes
        The file that keeps them.
    faults : tuple of Fault
        What is wrong.
    """

    found: Measured | None = None
    data: bytes = b""
    faults: tuple[Fault, ...] = ()


def answered(kind: str, typed: Typed, file: Path, out: Path | None = None) -> Answer:
    r"""What the readings in a file come to, by the calls of ``wadforms measure``.

    Parameters
    ----------
    kind : str
        One of `KINDS`.
    typed : dict
        What stands in the fields.
    file : Path
        The table of readings.
    out : Path or None
        The file that is to keep the results.

    Examples
    --------
    >>> from tempfile import TemporaryDirectory
    >>> with TemporaryDirectory() as folder:
    ...     file = Path(folder, "bars.csv")
    ...     _ = file.write_text("plastic,dry,fired\n100,95,88\n100,94.8,87.7\n")
    ...     found = answered("shrinkage", {"on": "2026-11-01"}, file).found
    >>> [result.readings.about("share") for result in found.results]
    ['5.1 ± 0.14 %', '7.43 ± 0.09 %']
    """
    what, _, limit = kind.partition(" ")

    def given(name: str) -> str | None:
        kinds = ASKED[name][1]
        return (typed.get(name, "").strip() or None) if kinds is None or kind in kinds else None

    together = given("together") or "1"
    if not (together.isdecimal() and len(together) < 7):
        fault = Fault("--together", repr(together[:40]), "give a whole number, 1 to 1000")
        return Answer(faults=(fault,))
    bearing = BearingOptions(
        diameter=given("diameter"), height=given("height"), together=int(together)
    )
    try:
        found = measured(
            what,
            reading=ReadingOptions(readings=file),
            bearing=bearing._replace(limit=limit) if limit else bearing,
            cup=CupOptions(
                ingredient=given("ingredient"), cup=given("cup"), empty=given("empty") or "0g"
            ),
            trial=TrialOptions(
                mix=None if kind == "clay-sag" else typed.get("mix", "").strip() or None,
                on=given("on"),
                note=given("note") or "",
                out=out,
            ),
        )
        return Answer(found, found.file())
    except BadInput as error:
        return Answer(faults=error.faults)


def caution_of(kind: str) -> str:
    """What a test of this kind can do to somebody."""
    return CAUTIONS.get(kind, CAUTIONS["bearing cold"])


def results_html(found: Measured, shown: Shown) -> str:
    """Mean, spread and what verdicts count on, in the words of the command line.

    Parameters
    ----------
    found : Measured
        The results.
    shown : callable
        Puts quantities into the visitor's units.
    """
    parts = []
    for result in found.results:
        readings = [shown_reading(value, result.unit) for value in result.values]
        rows = [
            ("Mean and spread", result.readings.words(result.unit)),
            ("Verdicts count on", shown_reading(result.limit.value, result.unit)),
            ("By this rule", result.rule),
            ("Each reading", ", ".join(readings)),
        ]
        told = "".join(
            f"<tr><th scope='row'>{head}</th><td>{escape(shown(words))}</td></tr>"
            for head, words in rows
        )
        notes = paragraphs([f"Note: {shown(note)}." for note in result.notes], "p")
        name = escape(result.name[:1].upper() + result.name[1:])
        parts.append(f"<h3>{name}</h3><table class='stack'><tbody>{told}</tbody></table>{notes}")
    return "".join(parts)


def mix_html(one: Kept, shown: Shown) -> str:
    """What a mix or clay says of itself, and which of it was measured.

    Parameters
    ----------
    one : Kept
        The mix or clay.
    shown : callable
        As for `results_html`.
    """
    if one.wrong:
        return f'<p class="fault">✕ {escape(one.wrong)}</p>'
    if one.clay is not None:
        return _values([_limit("pyroplastic index", one.clay.sags)], shown)
    assert one.mix is not None  # noqa: S101 - it is one of the three
    mix = one.mix
    parts = ", ".join(f"{i.parts:g} {i.name}" for i in mix.ingredients)
    about = [mix.summary, f"by loose volume: {parts}", f"for {', '.join(mix.bodies)} wads"]
    rows = [
        _shrinks("drying shrinkage", mix.drying, mix.drying_limit, mix),
        _shrinks("firing shrinkage", mix.firing, mix.firing_limit, mix),
        _limit("water in the wet mix", mix.water),
        _plain("wet density", mix.wet_density, mix),
        _plain("dry density", mix.dry_density, mix),
        _limit("bears at top heat", mix.at_heat),
        _limit("bears while cold", mix.cold),
    ]
    rows += [] if mix.tip is None else [_limit("bears on a fine tip", mix.tip)]
    for i in mix.ingredients:
        words = "" if i.readings is None else i.readings.words("g/cm3")
        rows.append(
            (f"loose density of {i.name}", units.show(i.loose_density, "g/cm3"), i.assumed, words)
        )
    return paragraphs([shown(text) for text in about], "p") + _values(rows, shown)


_Value = tuple[str, str, bool, str]
"""Its name, the value, whether it is assumed, and where it comes from."""


def _limit(name: str, limit: Limit) -> _Value:
    return name, shown_reading(limit.value, limit.unit), limit.assumed, limit.source


def _shrinks(name: str, mean: float, limit: Limit | None, mix: Mix) -> _Value:
    value = units.show(mean, "share")
    return (name, value, True, mix.source) if limit is None else (name, value, False, limit.source)


def _plain(name: str, value: float, mix: Mix) -> _Value:
    return name, units.show(value, "g/cm3"), mix.density_assumed, mix.density_source


def _values(rows: list[_Value], shown: Shown) -> str:
    told = "".join(
        f"<tr><td>{'○ assumed' if assumed else '● measured'}</td>"
        f"<th scope='row'>{escape(name)}</th>"
        f"<td class='number'>{escape(shown(value))}</td><td>{escape(shown(source))}</td></tr>"
        for name, value, assumed, source in rows
    )
    heads = "".join(f"<th scope='col'>{h}</th>" for h in ("Known how", "What", "Value", "Source"))
    return (
        f"<table class='stack known'><thead><tr>{heads}</tr></thead><tbody>{told}</tbody></table>"
    )
