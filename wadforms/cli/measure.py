"""`wadforms measure`: the user's own tests into a file that replaces what is assumed."""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any, Final, NamedTuple

import typer

from wadforms.cli.options import Answering, Writing
from wadforms.errors import BadInput, Fault, UnknownName, quoted

if TYPE_CHECKING:
    from wadforms.cli.reading import Reader
    from wadforms.setting.measured import Result
    from wadforms.setting.mixes import Mix

EXAMPLES = """
wadforms measure shrinkage --bar 100/95/88 --bar 100/94.8/87.7 --bar 100/95.1/88.2
wadforms measure bearing --wad 4kg/20/19.9 --wad 6kg/20/19.4 --diameter 30mm --out mine.toml
wadforms measure bearing --limit cold --readings bricks.csv --diameter 30mm --height 20mm
wadforms measure loose-density --ingredient kaolin --cup 250ml --empty 120g --filled 247g
wadforms measure clay-sag --bar 100/5/1.8 --bar 100/5/2.1 --bar 100/5.1/1.9
"""

WHATS: Final = ("shrinkage", "bearing", "loose-density", "clay-sag")
LIMITS: Final = ("at-heat", "cold", "point")

CAUTIONS: Final = {
    "shrinkage": "Take bars out when the kiln is cold; fired edges are sharp.",
    "bearing at-heat": "A loaded pile slips when what is under it softens: keep it low and wide, "
    "away from pots, stoke holes and spy holes, where it falls on nothing, and leave it alone "
    "until the kiln is cold. Local rules come first.",
    "bearing cold": "The load drops when the wad breaks: keep the pile low, hands and feet from "
    "under it, and wear shoes and glasses. Lift no more at once than you can hold steady.",
    "loose-density": "Silica and wood dust harm the lungs: fill the cup gently, wear a fitted "
    "respirator, clean up wet. Local rules come first.",
    "clay-sag": "Lay the bar low, where nothing is under it and nobody reaches in: it may slip "
    "or melt. Take it out when the kiln is cold; fired edges are sharp.",
}
"""What each test can do to somebody."""

_INDEX_UNIT: Final = "1e-9/mm"
_DATED: Final = re.compile(r"-\d{4}-\d{2}-\d{2}$")


class ReadingOptions(NamedTuple):
    """What was read, one for each test piece."""

    bar: Annotated[
        list[str],
        typer.Option(
            "--bar",
            help="For shrinkage PLASTIC/DRY/FIRED, lengths of a bar or between marks on it, "
            "the last left out of a bar that is not fired. For clay-sag SPAN/THICKNESS/SAG of a "
            "bar on two supports. Repeat for more; with ; instead of / where a length is a "
            "fraction.",
        ),
    ] = []  # noqa: RUF012 - typer copies it
    wad: Annotated[
        list[str],
        typer.Option(
            "--wad",
            help="For bearing at heat LOAD/UNLOADED/LOADED: the load, and after the firing the "
            "height of a wad beside it that bore nothing and of the loaded one: 4kg/20/19.9. "
            "Wads 20 mm high or more tell most. While cold or on a tip only the LOAD that broke "
            "it. Repeat for more.",
        ),
    ] = []  # noqa: RUF012 - typer copies it
    filled: Annotated[
        list[str],
        typer.Option(
            "--filled",
            help="For loose-density: what the cup weighs filled, struck off and not tapped. "
            "Repeat for more, filling it anew.",
        ),
    ] = []  # noqa: RUF012 - typer copies it
    readings: Annotated[
        Path | None,
        typer.Option(
            "--readings",
            help="A table of readings, CSV or XLSX, instead of typing them or besides, with the "
            "headings plastic, dry, fired; or load, unloaded, loaded; or filled; or span, "
            "thickness, sag. A unit may stand in the heading: load (kg).",
        ),
    ] = None


class BearingOptions(NamedTuple):
    """How wads were loaded."""

    limit: Annotated[
        str,
        typer.Option(
            "--limit",
            help=f"For bearing, what was tested: {', '.join(LIMITS)}. At heat is judged by the "
            "height that is lost, cold by a load that breaks a dry or biscuit-fired wad (bricks "
            "piled on a board do), point by one that crushes the flat of a fine tip.",
        ),
    ] = LIMITS[0]
    diameter: Annotated[
        str | None,
        typer.Option(
            "--diameter", help="For bearing, of the round wads as tested, or of a tip's flat."
        ),
    ] = None
    height: Annotated[
        str | None,
        typer.Option("--height", help="For bearing while cold: the height of the wads."),
    ] = None
    together: Annotated[
        int, typer.Option("--together", help="For bearing: how many shared each load evenly.")
    ] = 1


class CupOptions(NamedTuple):
    """What was filled and weighed."""

    ingredient: Annotated[
        str | None,
        typer.Option("--ingredient", help="For loose-density: which one of the mix."),
    ] = None
    cup: Annotated[
        str | None, typer.Option("--cup", help="For loose-density: what the cup holds: 250ml.")
    ] = None
    empty: Annotated[
        str, typer.Option("--empty", help="For loose-density: what the empty cup weighs.")
    ] = "0g"


class TrialOptions(NamedTuple):
    """When, with what, and what is kept of it."""

    mix: Annotated[
        str | None,
        typer.Option(
            "--mix",
            help="The mix that was tested, by name or as a TOML file: all else is kept from it. "
            "open if not given.",
        ),
    ] = None
    on: Annotated[
        str | None, typer.Option("--on", help="The day, as 2026-11-01; today if not given.")
    ] = None
    note: Annotated[
        str,
        typer.Option("--note", help="What else to keep of it: 'cone 10, four hours'."),
    ] = ""
    out: Annotated[
        Path | None,
        typer.Option("--out", "-o", help="The TOML file; MIX-DAY.toml if not given."),
    ] = None


def run(
    what: Annotated[str, typer.Argument(help=f"What was measured: {', '.join(WHATS)}.")],
    *,
    reading: ReadingOptions,
    bearing: BearingOptions,
    cup: CupOptions,
    trial: TrialOptions,
    answering: Answering,
    writing: Writing,
) -> int:
    """Turn your own tests into a file that replaces what is assumed, with their spread.

    A verdict counts on what the worst in twenty pieces still keeps to (the 5 % fractile after
    EN 1990 Annex D), with fewer than three readings on the lowest less a quarter. Wads at heat
    under rising loads are a series: it counts on the highest load that did no harm, less a
    quarter.
    """
    from wadforms.cli.pictures import refuse_overwrite
    from wadforms.cli.printing import print_json, say
    from wadforms.files import write_whole

    found = measured(what, reading=reading, bearing=bearing, cup=cup, trial=trial)
    refuse_overwrite(found.path, writing)
    data = found.file()
    if not writing.dry_run:
        write_whole(found.path, data, force=writing.force)
    files = [] if writing.dry_run else [str(found.path)]
    if answering.json:
        print_json(found.json() | {"files": files, "caution": found.caution})
    else:
        say(*_lines(found.results, found.base), "", f"Caution: {found.caution}")
        option = "--clay" if found.base is None else "--mix"
        say(*(f"Written: {file}. Reckon with it: {option} {file}" for file in files))
    return 0


class Measured(NamedTuple):
    """What a test came to, before anything is written.

    Parameters
    ----------
    what, kind : str
        One of `WHATS`, and the same with the limit that was tested.
    day : date
        When.
    name : str
        Of the mix that was tested, or its file.
    base : Mix or None
        That mix; None of a clay.
    path : Path
        The file that may keep it.
    results : sequence of Result
        What the readings come to.
    """

    what: str
    kind: str
    day: date
    name: str
    base: Mix | None
    path: Path
    results: Sequence[Result]

    @property
    def caution(self) -> str:
        """What the test can do to somebody."""
        return CAUTIONS.get(self.kind, CAUTIONS["bearing cold"])

    def file(self) -> bytes:
        """The file that keeps the results, proven to read as such.

        Raises
        ------
        BadInput
            It would not.
        """
        return _file(self.results, None if self.base is None else self.name, self.path)

    def json(self) -> dict[str, Any]:
        """The results for scripts."""
        return {
            "measured": self.what,
            "on": self.day.isoformat(),
            "results": [_json(result) for result in self.results],
        }


def measured(
    what: str,
    *,
    reading: ReadingOptions,
    bearing: BearingOptions,
    cup: CupOptions,
    trial: TrialOptions,
) -> Measured:
    """Turn readings into what a file keeps of them.

    Raises
    ------
    BadInput
        With what is wrong.
    """
    from wadforms.cli.pictures import check_name
    from wadforms.cli.reading import Reader
    from wadforms.setting.mixes import mix as mix_named

    if what not in WHATS:
        raise UnknownName("measure", what, WHATS)
    reader = Reader()
    kind = f"bearing {bearing.limit}" if what == "bearing" else what
    if what == "bearing":
        reader.one_of(bearing.limit, LIMITS, "--limit")
    _refuse_unused(kind, reading, bearing, cup, trial, reader)
    day = _day(trial.on, reader)
    if not trial.note.isprintable():
        right = "leave out line breaks and control characters"
        reader.faults.append(Fault("--note", quoted(trial.note), right))
    reader.done()
    name = trial.mix or "open"
    base = None if what == "clay-sag" else mix_named(name)
    stem = "clay" if base is None else _DATED.sub("", base.name)
    path = trial.out or Path(f"{stem}-{day.isoformat()}.toml")
    check_name(path, ".toml")
    results = _results(kind, reading, bearing, cup, (day, trial.note), base)
    return Measured(what, kind, day, name, base, path, results)


def _refuse_unused(
    kind: str,
    reading: ReadingOptions,
    bearing: BearingOptions,
    cup: CupOptions,
    trial: TrialOptions,
    reader: Reader,
) -> None:
    """Tell every option that says nothing about this kind of test."""
    loaded = ("bearing at-heat", "bearing cold", "bearing point")
    for given, option, kinds in (
        (reading.bar, "--bar", ("shrinkage", "clay-sag")),
        (reading.wad, "--wad", loaded),
        (reading.filled, "--filled", ("loose-density",)),
        (bearing.limit != LIMITS[0], "--limit", loaded),
        (bearing.diameter, "--diameter", loaded),
        (bearing.height, "--height", ("bearing cold",)),
        (bearing.together != 1, "--together", loaded),
        (cup.ingredient, "--ingredient", ("loose-density",)),
        (cup.cup, "--cup", ("loose-density",)),
        (cup.empty != "0g", "--empty", ("loose-density",)),
        (trial.mix, "--mix", ("shrinkage", *loaded, "loose-density")),
    ):
        if kind not in kinds:
            reader.unused(given, option, f"{kind} has no use for it: leave it out")


def _day(text: str | None, reader: Reader) -> date:
    if text is None:
        return date.today()
    try:
        if len(text) == 10:
            return date.fromisoformat(text)
    except ValueError:
        pass
    reader.faults.append(Fault("--on", quoted(text), "give a day, as 2026-11-01"))
    return date.today()


def _results(
    kind: str,
    reading: ReadingOptions,
    bearing: BearingOptions,
    cup: CupOptions,
    when: tuple[date, str],
    base: Mix | None,
) -> Sequence[Result]:
    """What the readings come to; every fault in them is told."""
    from wadforms.cli import measure_readings as readings

    day, note = when
    if kind == "shrinkage":
        return readings.shrinkage(reading.bar, reading.readings, day, note)
    if kind == "clay-sag":
        return [readings.clay_sag(reading.bar, reading.readings, day, note)]
    assert base is not None  # noqa: S101 - only a clay has none
    if kind == "loose-density":
        return [readings.loose_density(reading, cup, base, day, note)]
    if bearing.limit == "point" and base.tip is None:
        right = "name a mix for solid pieces, such as fireclay: only those have fine tips"
        raise BadInput(Fault("--mix", repr(base.name), right))
    return [readings.bearing(reading, bearing, base, day, note)]


def _file(results: Sequence[Result], name: str | None, path: Path) -> bytes:
    """The file that keeps the results, proven to read as such."""
    from wadforms.files import shortened
    from wadforms.setting.mixes import mix_file, read
    from wadforms.setting.table_writer import changed

    changes = {key: value for result in results for key, value in result.changes.items()}
    if name is None:
        return changed(b"", changes, shortened(path), "a clay")
    data, _ = mix_file(name)
    text = changed(data, changes, shortened(path), "a mix")
    read(text.decode(), path.stem, shortened(path))
    return text


def _json(result: Result) -> dict[str, Any]:
    """A result for scripts; its unit stands beside it."""
    kept = result.readings
    # An index is too small for the decimals that answers have.
    unit, scale = (_INDEX_UNIT, 1e9) if result.unit == "/mm" else (result.unit, 1.0)
    return {
        "name": result.name,
        "unit": unit,
        "n": kept.n,
        "mean": kept.mean * scale,
        "spread": None if kept.spread is None else kept.spread * scale,
        "judged_by": result.limit.value * scale,
        "rule": result.rule,
        "squat": kept.squat,
        "readings": [value * scale for value in result.values],
        "notes": list(result.notes),
    }


def _lines(results: Sequence[Result], base: Mix | None) -> list[str]:
    """The results for people."""
    from wadforms.cli.printing import table
    from wadforms.setting.readings import shown

    rows = [
        [
            result.name,
            result.readings.words(result.unit),
            f"reckon with {shown(result.limit.value, result.unit)}",
        ]
        for result in results
    ]
    about = "Of a clay:" if base is None else f"Of the mix {base.name!r}:"
    lines = [about, *table(rows)]
    lines += [f"  {result.name}: {result.rule}" for result in results]
    return lines + [f"Note: {note}." for result in results for note in result.notes]
