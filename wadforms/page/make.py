"""Make: moulds and templates, proven, to be looked at and taken away."""

from __future__ import annotations

from html import escape
from typing import Final
from urllib.parse import quote

from nicegui import ui

from wadforms.errors import BadInput
from wadforms.page import make_fields
from wadforms.page.inputs import Fields, button, markup, tagged
from wadforms.page.jobs import DONE, Job
from wadforms.page.kept_mixes import mix_choices
from wadforms.page.make_fields import FIELDS, KINDS, MAKING, MOULDS, Asked
from wadforms.page.pieces import bounds
from wadforms.page.proofs import drawing_html, mould_html
from wadforms.page.scene import Turning
from wadforms.page.size_words import HINT, as_changes, as_words
from wadforms.page.told import Typed, for_field
from wadforms.page.visit import Visit
from wadforms.page.workbox import WorkBox

KEPT: Final = "make"

_WORDS: Final = ("shape", "with_")

_CAUTION: Final = (
    "A printed mould is no kiln furniture: keep it away from heat. Plaster and grog dust harm the "
    "lungs: clean up wet."
)


def build(visit: Visit) -> None:
    """Put the place onto the page."""
    Make(visit).build()


class Make:
    """The fields, the work, and what came of it."""

    def __init__(self, visit: Visit) -> None:
        self.visit = visit
        self.typed: Typed = dict(
            line.split("=", 1) for line in visit.work.kept(KEPT) if "=" in line
        )
        self.typed.setdefault("kind", "tray")
        if asked := visit.asked.get("shape"):
            self.typed |= {"shape": asked, "with_": visit.asked.get("with", "")}
        self.fields = Fields(self.typed, self._typed, words=_WORDS)
        self.asked: dict[str, Asked] = {}

    def build(self) -> None:
        """Put everything onto the page, and show what was made last."""
        with ui.element("div").classes("two"):
            with ui.element("div"):
                self._build_fields()
            with ui.element("div") as self.answer:
                self.box = WorkBox(self.visit, KEPT, self._labels(), self._finished)
                self.seen = ui.element("div")
                self.told = markup()
        tagged("p", _CAUTION, classes="care")
        self._show_fields()
        self.visit.on_units(self._tell)
        self.box.draw()

    def _build_fields(self) -> None:
        from wadforms.page.pot_fields import LABELS, shape_options

        tagged("h2", "What")
        with ui.element("div").classes("fields"):
            self.fields.add(
                "shape",
                "Shape",
                kind="text",
                options=shape_options(self.visit.work.shapes_in),
                hint="a name, such as disk-20, or take one from the list",
            )
            self.fields.add("kind", "What to make", list(KINDS))
            self.fields.add(
                "body",
                LABELS["body"],
                [("", "as the shape allows"), *((b, b) for b in ("wet", "dry", "solid"))],
            )
            mixes = mix_choices(self.visit.work, self.typed.get("mix", ""))
            self.fields.add("mix", "Mix", mixes)
            sizes = as_words(self.typed.get("with_", ""), self.visit.work.drawings)
            self.fields.add("with_", LABELS["with_"], hint=HINT, value=sizes)
        tagged("h2", "How")
        with ui.element("div").classes("fields"):
            for one in FIELDS:
                kind = "check" if one.tick else ""
                options = [("" if k == 0 else c, c) for k, c in enumerate(one.choices)]
                self.fields.add(one.name, one.label, options, kind=kind, hint=one.hint)
                self.asked[one.name] = one
        with ui.element("details") as self.details:
            tagged("summary", "Walls, floors, clearances")
            self.making = ui.element("div").classes("fields")
        with ui.element("div").classes("row"):
            button("Make it", self._make, main=True)

    def _typed(self, name: str, text: str) -> None:
        drawings = self.visit.work.drawings
        self.typed[name] = as_changes(text, drawings) if name == "with_" else text
        self.fields[name].blame("")
        if name == "kind":
            self._show_fields()
        self.visit.work.keep(KEPT, [f"{k}={v}" for k, v in self.typed.items() if v])

    def _show_fields(self) -> None:
        """Show what the chosen kind asks for."""
        from wadforms.cli.mould_words import about

        kind = self.typed["kind"]
        for name, one in self.asked.items():
            self.fields[name].set_visibility(kind in one.kinds)
        self.details.set_visibility(kind in MOULDS)
        for name in [name for name in self.fields if name.startswith(MAKING)]:
            del self.fields[name]
        self.making.clear()
        if kind not in MOULDS:
            return
        known = about(kind)["parameters"]
        names = {f"{MAKING}{one['name']}" for one in known}
        for name in [n for n in self.typed if n.startswith(MAKING) and n not in names]:
            del self.typed[name]
        with self.making:
            for one in known:
                hint = f"{one['help']}; {one['range']}, {_usual(one)} if left empty"
                self.fields.add(
                    f"{MAKING}{one['name']}", one["name"].capitalize().replace("_", " "), hint=hint
                )

    def _labels(self) -> dict[str, str]:
        labels = {f"--{one.name}": one.label for one in FIELDS}
        return labels | {
            "--with": "Sizes changed",
            "--body": "How the wads are set",
            "--mix": "Mix",
            "--kind": "What to make",
            "SHAPE": "Shape",
        }

    def _make(self) -> None:
        for field in self.fields.values():
            field.blame("")
        if not self.typed.get("shape", "").strip():
            self.fields["shape"].blame("Name a shape, or take one from the list")
            self.visit.say("A shape is needed first")
            return
        try:
            self.visit.work.refuse_others(self.typed)
        except BadInput as error:
            names = {"--mix": "mix", "--with outline": "with_"}
            for fault in error.faults:
                name = names.get(fault.where, "shape")
                self.fields[name].blame(for_field(fault, self._labels()))
            return
        self.seen.clear()
        self.told.set_content("")
        self.box.start(make_fields.command(self.typed, self.visit.work.shapes_in))

    def _finished(self, job: Job) -> None:
        """Show what was made."""
        self.seen.clear()
        files = {file.name: file for file in job.files}
        with self.seen:
            if job.answer.get("boards"):
                parts = [part for board in job.answer["boards"] for part in board["parts"]]
                scene = Turning("The part, to be turned")
                with ui.element("div").classes("row"):
                    for part in parts:
                        if len(parts) > 1:
                            button(
                                f"See {part['files'][0]}",
                                lambda part=part: self._see(scene, job, part),  # type: ignore[misc]
                            )
                self._see(scene, job, parts[0])
            else:
                for name in files:
                    if name.endswith(".svg"):
                        tagged("img", src=_address(job, name), alt=f"The drawing {name}",
                               style="width:100%;border:1.5px solid var(--line)")  # fmt: skip
        self._tell()

    @staticmethod
    def _see(scene: Turning, job: Job, part: dict[str, object]) -> None:
        files = part["files"]
        assert isinstance(files, list)  # noqa: S101 - as the command's JSON has it
        stl = next(str(file) for file in files if str(file).endswith(".stl"))
        data = next(file for file in job.files if file.name == stl).read_bytes()
        scene.show(_address(job, stl), bounds(data))

    def _tell(self) -> None:
        job = self.visit.site.jobs.of(self.visit.visitor, KEPT)
        if job is None or job.state != DONE:
            return
        html = mould_html if job.answer.get("boards") else drawing_html
        self.told.set_content(html(job.answer, self.visit.shown))


def _address(job: Job, name: str) -> str:
    return escape(f"/made/{job.id}/{quote(name)}")


def _usual(one: dict[str, object]) -> str:
    from wadforms import units

    default, unit = one["default"], str(one["unit"])
    if isinstance(default, int | float) and unit not in ("choice", "outline"):
        return units.show(float(default), unit)
    return str(default)
