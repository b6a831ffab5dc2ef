"""Firing: the list of what is fired, the choice of wads for all of it, and the folder."""

from __future__ import annotations

import asyncio
from html import escape
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

from nicegui import ui

from wadforms.errors import BadInput
from wadforms.families.base import DRY, SOLID, WET
from wadforms.firing.list_columns import COLUMNS, USED
from wadforms.firing.tables import LARGEST
from wadforms.page import lists
from wadforms.page.boxes import ONE_TABLE, Boxes, faults_html
from wadforms.page.chosen import audit_html, head_html, making_html, notes_html, touches_html
from wadforms.page.grids import TABLES_LOOK, Grid, Within
from wadforms.page.inputs import Drop, Field, Fields, button, markup, paragraphs, tagged
from wadforms.page.jobs import DONE, Job
from wadforms.page.kept_mixes import mix_options
from wadforms.page.lists import FILE, TICKED
from wadforms.page.quiet import Quiet
from wadforms.page.sheets import Sheet, blamed, kept, sheet_of
from wadforms.page.told import SEVERAL, Typed, flags, for_field, typed_from
from wadforms.page.uploads import arrived
from wadforms.page.visit import Visit
from wadforms.page.workbox import WorkBox
from wadforms.setting.limits import SHEAR

if TYPE_CHECKING:
    from collections.abc import Sequence

KEPT: Final = "firing"
BEFORE: Final = "firing-before.csv"

_QUIET: Final = 0.25  # seconds without a change before a list is read again

_SOFT, _HARD = "mix_soft", "mix_solid"

_ASKED: Final = (
    ("at_most", "At most so many kinds of wads", "as many as it takes"),
    ("spare", "Pieces to spare", "10% if left empty"),
    ("rate", "Pieces pressed in an hour", "to tell the time"),
    ("title", "What the firing is called", "on the crew sheet"),
    ("date", "Date of the firing", "21 November"),
)
_MORE: Final = (
    ("scoop", "What your scoop holds", "400 ml, to weigh out by it"),
    ("bed", "The printer's bed, for moulds", "220x220 if left empty"),
    ("seconds", "Seconds to look for the least mix", "20 if left empty"),
    ("shape", "Choose only among these shapes", "disk-20 | leaf-55"),
)
_WORDS: Final = ("title", "date", "shape")

LABELS: Final = {
    **{name: label for name, label, _ in (*_ASKED, *_MORE)},
    "mix": "Mix", "feel": "How the wet mix feels", "paper": "Paper of the crew sheet",
    "stock": "Shapes in the boxes", "moulds": "Make a press mould for each shape",
}  # fmt: skip

_CAUTION: Final = (
    "Shelves, posts and full boxes are heavy: lift them with help. A stack that tips or a shelf "
    "that slips hurts people; look at every problem before you load."
)


def build(visit: Visit) -> None:
    """Put the place onto the page."""
    Firing(visit).build()


class Firing:
    """The list, what is wrong with it, the choice, and what came of it."""

    def __init__(self, visit: Visit) -> None:
        self.visit = visit
        self.file = visit.work.folder / FILE
        self.typed: Typed = self._kept()
        self.fields = Fields(self.typed, self._typed, before="firing-", words=_WORDS)
        self.labels = {flag: LABELS.get(name, name) for g in lists.GROUPS
                       for name, flag in flags(g).items()}  # fmt: skip
        self.read = lists.Read()
        self.notes: Sequence[str] = ()
        self._called = ""  # after the table that was dropped in last
        self._reading = Quiet(_QUIET, lambda: asyncio.ensure_future(self._look()))
        self.left: ui.html | None = None

    def build(self) -> None:
        """Put everything onto the page, and show what was there last."""
        ui.add_css(TABLES_LOOK.read_text(encoding="utf-8"))
        self._build_list()
        tagged("h2", "The wads")
        with ui.element("div").classes("fields"):
            self._fields()
        with ui.element("details"):
            tagged("summary", "Scoop, printer's bed, and which shapes")
            with ui.element("div").classes("fields"):
                for name, label, hint in _MORE:
                    self.fields.add(name, label, hint=hint)
        with ui.element("div").classes("row"):
            button("Choose the wads", self._choose, main=True)
        tagged("p", "It takes about half a minute for 200 pots. The list may be changed meanwhile.",
               classes="hint")  # fmt: skip
        self.box = WorkBox(self.visit, KEPT, self.labels, self._finished)
        self.chosen = ui.element("div")
        tagged("p", _CAUTION, classes="care")
        self.command = markup(classes="hint")
        self.visit.on_units(self._show_read)
        self.visit.on_units(self._again)
        self._put(kept(self.file) or lists.empty(self.visit.system))
        self.box.draw()

    def _build_list(self) -> None:
        from wadforms.catalogue import shapes

        tagged("h2", "The list")
        tagged("p", "One row for each kind of ware, with how many of it; shelves, posts and cones "
               "too. Units may stand in a cell: 2,4 kg, 5 lb 4 oz, 1 1/2 in.")  # fmt: skip
        with ui.element("div").classes("row"):
            button("Start with an invented list", lambda: self._replace(lists.invented()))
            button("Start with an empty list", self._empty)
            self.back = button("Back to the list before", self._back)
            button("Take the list as CSV", self._take)
        self.back.set_visibility(self._before.is_file())
        Drop("list", "Or give a table", "CSV or XLSX; its first sheet is read", ONE_TABLE,
             self._dropped)  # fmt: skip
        self.refused = markup()
        self.elsewhere = markup()
        self.grid = Grid(
            "list",
            "What is fired",
            COLUMNS,
            self._reading.later,
            often=lists.OFTEN,
            known=lists.known_words(list(shapes(self.visit.work.shapes_in))),
            kinds=USED,
        )
        with ui.element("details"):
            tagged("summary", "What the columns mean, keys, and drawings of feet")
            about = [f"{column.name}: {column.help}" for column in COLUMNS]
            keys = "Enter goes down, and adds a row below the last; Shift and Enter go up. Cells "
            keys += "copied from a spreadsheet can be pasted."
            markup().set_content(f"<p>{keys}</p><ul>{paragraphs(about)}</ul>")
            Drop("foot-drawing", "A drawing of a foot", "SVG, DXF or CSV", ".svg,.dxf,.csv",
                 self._drawn)  # fmt: skip
            self.drawn = markup()
        tagged("h2", "What touches")
        self.touches = markup()

    def _fields(self) -> None:
        work = self.visit.work
        for name, label, hint in _ASKED:
            self.fields.add(name, label, hint=hint)
        for name, label, bodies in (
            (_SOFT, "Mix for wet and dry wads", (WET, DRY)),
            (_HARD, "Mix for solid pieces", (SOLID,)),
        ):
            self.fields.add(name, label, [("", "the usual one"), *mix_options(work, *bodies)])
        feels = [("" if name == "firm" else name, name) for name in SHEAR]
        self.fields.add("feel", LABELS["feel"], feels)
        self.fields.add("paper", LABELS["paper"], [("", "a4"), ("letter", "letter")])
        self.fields["moulds"] = Field(
            "moulds", LABELS["moulds"], lambda text: self._typed("moulds", text), kind="check",
            value=self.typed.get("moulds", ""),
        )  # fmt: skip
        with ui.element("div"):
            Boxes(self.visit, self.typed, self._reading.later)

    @property
    def _before(self) -> Path:
        return self.visit.work.folder / BEFORE

    def _kept(self) -> Typed:
        given = self.visit.work.kept(KEPT)
        typed = typed_from(lists.GROUPS, given)
        typed.pop("shapes_in", None)
        named = dict(mix_options(self.visit.work, SOLID))
        for name in typed.pop("mix", "").split(SEVERAL):
            typed[_HARD if name in named else _SOFT] = name
        typed["moulds"] = "" if "--without-moulds" in given else TICKED
        return typed

    def _options(self) -> Typed:
        """What stands in the fields, by the names of the options."""
        given = [self.typed.get(name, "").strip() for name in (_SOFT, _HARD)]
        mixes = [text for text in dict.fromkeys(given) if text and SEVERAL not in text]
        left = {name: text for name, text in self.typed.items() if name not in (_SOFT, _HARD)}
        return left | {"mix": SEVERAL.join(mixes)}

    def _typed(self, name: str, text: str) -> None:
        self.typed[name] = text
        self.fields[name].blame("")
        self._reading.later()

    def _put(self, sheet: Sheet, notes: Sequence[str] = ()) -> None:
        """Show a list, and say what it comes to."""
        sheet.add_missing(lists.invented().headings, COLUMNS)
        self.notes = notes
        self.refused.set_content("")
        self.grid.put(sheet)
        self._reading.later()

    def _replace(self, sheet: Sheet, notes: Sequence[str] = ()) -> None:
        if self.grid.sheet.filled:
            self.grid.sheet.keep(self._before)
            self.back.set_visibility(True)
        self._put(sheet, notes)
        self._save()

    def _empty(self) -> None:
        self._replace(lists.empty(self.visit.system))

    def _back(self) -> None:
        before = kept(self._before)
        if before is not None:
            self._replace(before)

    def _take(self) -> None:
        ui.download.content(self.grid.sheet.csv(), FILE, "text/csv")

    async def _dropped(self, name: str) -> None:
        try:
            data = arrived(self.visit.work.drawings / name, LARGEST)
            found = await asyncio.to_thread(sheet_of, data, name)
        except BadInput as error:
            words = [str(fault) for fault in error.faults]
            self.refused.set_content(faults_html(words))
            self.visit.say(" ".join(words))
            return
        self._replace(found.sheet, found.notes)
        if self.typed.get("title", "").strip() in ("", self._called):
            self._called = Path(name).stem.replace("-", " ").capitalize()
            self.typed["title"] = self._called
            self.fields["title"].put(self._called)
        self.visit.say(f"The list has {len(found.sheet.rows)} rows")

    def _drawn(self, name: str) -> None:
        place = (self.visit.work.drawings / name).relative_to(self.visit.work.folder)
        words = f"Write {place.as_posix()} into the column “foot outline” of its row."
        self.drawn.set_content(paragraphs([words], "p"))
        self._reading.later()

    async def _look(self) -> None:
        """Keep the list, read it, and say what is wrong with which cell."""
        self._save()
        sheet, work = self.grid.sheet, self.visit.work
        if not sheet.filled:
            self.read = lists.Read()
        else:
            self.read = await asyncio.to_thread(
                lists.read, sheet.csv(), work.folder, work.shapes_in
            )
        if not self.grid.client.is_deleted:
            self._show_read()

    def _save(self) -> None:
        if self.grid.sheet.filled or self.file.is_file():
            self.grid.sheet.keep(self.file)
        self.visit.work.keep(KEPT, self._arguments())

    def _arguments(self) -> list[str]:
        return lists.command(self._options(), self.file, self.visit.work.shapes_in)

    def _show_read(self) -> None:
        shown = self.visit.shown
        self._show_left()
        told = blamed(self.read.faults, FILE, self.grid.sheet, COLUMNS)
        self.grid.blame(told)
        words = [shown(word) for word in told.elsewhere]
        notes = paragraphs([f"Note: {shown(note)}." for note in self.notes], "p")
        count = len(told.cells)
        if count:
            words.append(f"{count} {'cell is' if count == 1 else 'cells are'} to be mended below")
        self.elsewhere.set_content(notes + faults_html(words))
        if self.read.audit is not None:
            self.touches.set_content(audit_html(self.read.audit, self.read.notes, shown))
            self.visit.say(f"The list is whole: {len(self.read.audit.touches)} kinds of touches")
        else:
            wait = "Mend the list first." if self.read.faults else "Fill in the list first."
            self.touches.set_content(paragraphs([wait], "p"))
            if self.read.faults:
                self.visit.say(". ".join(words))
        self.command.set_content(escape(self.visit.at_terminal(KEPT)))

    async def _choose(self) -> None:
        self._reading.cancel()
        await self._look()
        wrong = lists.number_faults(self.typed)
        for name in (_SOFT, _HARD):
            try:
                self.visit.work.refuse_others({"mix": self.typed.get(name, "")})
            except BadInput as error:
                wrong[name] = for_field(error.faults[0], self.labels)
        for name, field in self.fields.items():
            field.blame(wrong.get(name, ""))
        if self.read.audit is None or wrong:
            words = " ".join(wrong.values()) or "The list must be whole first"
            self.visit.say(words)
            self.box.result.set_content(faults_html([words]))
            return
        self._clear()
        self.box.start(self._arguments())

    def _again(self) -> None:
        job = self.visit.site.jobs.of(self.visit.visitor, KEPT)
        if job is not None and job.state == DONE:
            self._finished(job)

    def _finished(self, job: Job) -> None:
        """Show what was chosen, with all that was made of it."""
        shown, answer = self.visit.shown, job.answer
        self.box.result.set_content("")
        self._clear()
        kinds = len({(make["shape"], make["body"]) for make in answer["wads"]})
        with self.chosen:
            tagged("h2", "Does it hold?")
            markup().set_content(head_html(job, shown))
            for words, text, number in (
                ("One kind fewer", answer["one_shape_fewer"], kinds - 1),
                ("One kind more", answer["one_shape_more"], kinds + 1),
            ):
                markup().set_content(paragraphs([f"{words}: {shown(text)}."], "p"))
                if number:
                    with ui.element("div").classes("row"):
                        button(
                            f"Choose with at most {number}",
                            lambda number=number: self._choose_with(number),  # type: ignore[misc]
                        )
            if any(file.name == "crew-sheet.html" for file in job.files):
                with ui.element("details"):
                    tagged("summary", "The crew sheet")
                    Within(f"/made/{job.id}/crew-sheet.html", "The crew sheet")
            markup().set_content(touches_html(job, shown))
            markup().set_content(making_html(answer, shown))
            self.left = markup()
        self._show_left()

    def _clear(self) -> None:
        self.left = None
        self.chosen.clear()

    def _show_left(self) -> None:
        """Show what was noted of the choice, without what the list's own part says already."""
        job = self.visit.site.jobs.of(self.visit.visitor, KEPT)
        if self.left is not None and job is not None and job.state == DONE:
            left = [note for note in job.answer["notes"] if note not in self.read.notes]
            self.left.set_content(notes_html(left, self.visit.shown))

    async def _choose_with(self, number: int) -> Any:
        self.typed["at_most"] = str(number)
        self.fields["at_most"].put(str(number))
        await self._choose()
