"""Mixes: what comes with wadforms, and what a potter's own tests make of it."""

from __future__ import annotations

import asyncio
import base64
from html import escape
from pathlib import Path
from typing import Final
from urllib.parse import urlencode

from nicegui import ui

from wadforms.cli.measure_readings import COLUMNS
from wadforms.errors import BadInput, Fault, WadformsError
from wadforms.files import shortened, write_whole
from wadforms.firing.tables import LARGEST
from wadforms.firing.write import plain_name
from wadforms.page import trials
from wadforms.page.boxes import ONE_TABLE, faults_html
from wadforms.page.grids import TABLES_LOOK, Grid
from wadforms.page.inputs import Drop, Fields, button, markup, paragraphs, tagged
from wadforms.page.kept_mixes import Kept, all_kept, folder_of, mix_options
from wadforms.page.quiet import Quiet
from wadforms.page.sheets import Sheet, blamed, kept, sheet_of
from wadforms.page.told import Typed, for_field
from wadforms.page.trials import ASKED, Answer
from wadforms.page.uploads import arrived
from wadforms.page.visit import Visit
from wadforms.setting.mixes import mix as mix_named

KEPT: Final = "mixes"

_QUIET: Final = 0.2  # seconds without a change before readings are reckoned with
_WORDS: Final = ("note", "name", "ingredient")
_LABELS: Final = {
    **{f"--{name}": label for name, (label, _, _) in ASKED.items()},
    "--mix": "Mix that was tested",
    "--bar": "Readings", "--wad": "Readings", "--filled": "Readings",
}  # fmt: skip


def build(visit: Visit) -> None:
    """Put the place onto the page."""
    Mixes(visit).build()


class Mixes:
    """The readings of a test, what they come to, and all mixes that are known."""

    def __init__(self, visit: Visit) -> None:
        self.visit = visit
        self.typed: Typed = dict(
            line.split("=", 1) for line in visit.work.kept(KEPT) if "=" in line
        )
        if self.typed.get("kind") not in COLUMNS:
            self.typed["kind"] = trials.KINDS[0][0]
        self.fields = Fields(self.typed, self._typed, before="mixes-", words=_WORDS)
        self.answer = Answer()
        self._reading = Quiet(_QUIET, lambda: asyncio.ensure_future(self._look()))

    @property
    def kind(self) -> str:
        """The kind of test."""
        return self.typed["kind"]

    @property
    def file(self) -> Path:
        """The readings."""
        return self.visit.work.folder / trials.file_of(self.kind)

    def build(self) -> None:
        """Put everything onto the page."""
        ui.add_css(TABLES_LOOK.read_text(encoding="utf-8"))
        with ui.element("div").classes("two"):
            with ui.element("div"):
                self._build_test()
            with ui.element("div"):
                tagged("h2", "What they come to")
                self.results = markup()
                with ui.element("div").classes("row") as self.keeping:
                    button("Keep it as a file", lambda: self._keep(force=False), main=True)
                    self.replace = button("Replace it", lambda: self._keep(force=True))
                self.written = markup()
        tagged("h2", "All mixes")
        tagged("p", "● measured: yours, by test. ○ assumed: reckon with it until you test.")
        Drop("mix-file", "Give a mix file of your own", "TOML, as this page writes it", ".toml",
             self._mix_dropped)  # fmt: skip
        self.dropped = markup()
        self.known = ui.element("div")
        self.visit.on_units(self._show)
        self.visit.on_units(self._show_known)
        self._show_kind()
        self._show_known()

    def _build_test(self) -> None:
        tagged("h2", "Readings of your test")
        self.fields.add("kind", "What was tested", list(trials.KINDS))
        with ui.element("div").classes("fields"):
            self.fields.add("mix", _LABELS["--mix"], self._mixes())
        self.caution = tagged("p", classes="care")
        with ui.element("div").classes("fields"):
            for name, (label, _, hint) in ASKED.items():
                self.fields.add(name, label, hint=hint)
        self.about = markup()
        self.refused = markup()
        self.elsewhere = markup()
        self.tables = ui.element("div")
        Drop("readings", "Or give a table of readings", "CSV or XLSX", ONE_TABLE, self._dropped)
        with ui.element("div").classes("fields"):
            self.fields.add(
                "name", "Name of the new file", hint="the mix and the day if left empty"
            )

    def _mixes(self) -> list[tuple[str, str]]:
        return [("", "open, the usual one"), *mix_options(self.visit.work)]

    def _typed(self, name: str, text: str) -> None:
        self.typed[name] = text
        self.fields[name].blame("")
        if name == "kind":
            self.typed["kind"] = text if text in COLUMNS else trials.KINDS[0][0]
            self._show_kind()
        self._reading.later()

    def _show_kind(self) -> None:
        """Show what the kind of test asks for, and the readings that were kept of it."""
        kind = self.kind
        for name, (_, kinds, _) in ASKED.items():
            self.fields[name].set_visibility(kinds is None or kind in kinds)
        self.fields["mix"].set_visibility(kind != "clay-sag")
        self.caution._text = trials.caution_of(kind)
        self.caution.update()
        about = [f"{column.name}: {column.help}" for column in COLUMNS[kind]]
        self.about.set_content(f"<ul>{paragraphs(about)}</ul>")
        self.written.set_content("")
        self.replace.set_visibility(False)
        self.tables.clear()
        with self.tables:
            often = [column.name for column in COLUMNS[kind]]
            self.grid = Grid(
                "readings", "Readings", COLUMNS[kind], self._reading.later, often=often
            )
        self._put(kept(self.file) or trials.empty(kind))

    def _put(self, sheet: Sheet) -> None:
        self.refused.set_content("")
        sheet.add_missing(trials.headings_of(self.kind), COLUMNS[self.kind])
        self.grid.put(sheet)
        self._reading.later()

    async def _dropped(self, name: str) -> None:
        try:
            data = arrived(self.visit.work.drawings / name, LARGEST)
            found = await asyncio.to_thread(sheet_of, data, name)
        except BadInput as error:
            self.refused.set_content(faults_html([str(fault) for fault in error.faults]))
            return
        self._put(found.sheet)

    async def _look(self) -> None:
        """Keep the readings, and say what they come to."""
        sheet, work = self.grid.sheet, self.visit.work
        work.keep(KEPT, [f"{name}={text}" for name, text in self.typed.items() if text])
        self.answer = Answer()
        if sheet.filled:
            sheet.keep(self.file)
            try:
                work.refuse_others({"mix": self.typed.get("mix", "")})
                self.answer = await asyncio.to_thread(self._answered)
            except BadInput as error:
                self.answer = Answer(faults=error.faults)
        if not self.grid.client.is_deleted:
            self._show()

    def _answered(self) -> Answer:
        found = trials.answered(self.kind, self.typed, self.file)
        if found.found is None:
            return found
        name = plain_name(self.typed.get("name", ""))
        own = f"{name}.toml" if name else found.found.path.name
        out = folder_of(self.visit.work) / own
        return trials.answered(self.kind, self.typed, self.file, out)

    def _show(self) -> None:
        shown = self.visit.shown
        faults, found = self.answer.faults, self.answer.found
        at: dict[str, str] = {}
        cells: list[Fault] = []
        for fault in faults:
            name = fault.where.removeprefix("--").split(" ")[0]
            if fault.where.startswith("--") and name in self.fields:
                words = shown(for_field(fault, _LABELS))
                at[name] = f"{at[name]}; {words}" if name in at else words
            else:
                cells.append(fault)
        for name, field in self.fields.items():
            field.blame(at.get(name, ""))
        told = blamed(cells, shortened(str(self.file)), self.grid.sheet, COLUMNS[self.kind])
        self.grid.blame(told)
        self.elsewhere.set_content(faults_html([shown(word) for word in told.elsewhere]))
        self.keeping.set_visibility(found is not None)
        if found is not None:
            self.results.set_content(trials.results_html(found, shown))
            first = found.results[0]
            self.visit.say(shown(f"{first.name}: {first.readings.words(first.unit)}"))
            return
        wait = "Mend what is marked." if faults else "Fill in a row for each reading."
        self.results.set_content(paragraphs([wait], "p"))
        if faults:
            self.visit.say(" ".join([*at.values(), *told.cells.values(), *told.elsewhere]))

    def _keep(self, *, force: bool) -> None:
        found = self.answer.found
        if found is None:
            return
        try:
            found.path.parent.mkdir(parents=True, exist_ok=True)
            write_whole(found.path, self.answer.data, force=force)
        except WadformsError:
            self.replace.set_visibility(True)
            words = f"{found.path.name} is already there: give another name, or replace it."
            self.written.set_content(faults_html([words]))
            self.visit.say(words)
            return
        self.replace.set_visibility(False)
        where = "Now it can be chosen at One pot, Make and Firing."
        if found.base is None:
            where = f"Reckon with it: --clay {found.path}"
        told = paragraphs([f"Written: {found.path.name}. {where}"], "p")
        if found.base is not None:
            asked = escape(f"/?{urlencode({'mix': str(found.path)})}")
            told += f'<p class="row"><a class="press" href="{asked}">Use it under the pot</a></p>'
        self.written.set_content(told)
        self.visit.say(f"Written: {found.path.name}")
        self._show_known()

    def _mix_dropped(self, name: str) -> None:
        arrived = self.visit.work.drawings / name
        folder = folder_of(self.visit.work)
        file = folder / name
        try:
            mix_named(str(arrived))
            data = arrived.read_bytes()
            folder.mkdir(parents=True, exist_ok=True)
            write_whole(file, data, force=False)
        except WadformsError as error:
            self.dropped.set_content(faults_html(str(error).splitlines()))
            self.visit.say(str(error))
            return
        finally:
            arrived.unlink()
        self.dropped.set_content(paragraphs([f"{name} is one of your own now."], "p"))
        self._show_known()

    def _show_known(self) -> None:
        self.fields["mix"]._props["options"] = [list(one) for one in self._mixes()]
        self.fields["mix"].update()
        self.known.clear()
        with self.known:
            for one in all_kept(self.visit.work):
                self._show_one(one)

    def _show_one(self, one: Kept) -> None:
        name = one.name if one.file is None else one.file.name
        what = "comes with wadforms" if one.file is None else "your own"
        what = f"{what}, a clay" if one.clay is not None else what
        with ui.element("details"):
            tagged("summary", f"{name}: {what}")
            html = trials.mix_html(one, self.visit.shown)
            if one.file is not None:
                data = base64.b64encode(one.file.read_bytes()).decode()
                own, option = escape(one.file.name), "clay" if one.clay else "mix"
                html += (
                    f'<p class="row"><a class="press" download="{own}" '
                    f'href="data:application/toml;base64,{data}">Take {own}</a></p>'
                )
                if self.visit.at_home:
                    words = f"At a terminal: --{option} {one.file}"
                    html += f'<p class="hint">{escape(words)}</p>'
            markup().set_content(html)
