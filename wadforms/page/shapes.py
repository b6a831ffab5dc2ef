"""Shapes: the gallery, each with its sizes to be changed, and drawings of one's own."""

from __future__ import annotations

import asyncio
import shutil
from html import escape
from pathlib import Path
from typing import TYPE_CHECKING, Final
from urllib.parse import quote, urlencode

from nicegui import ui

from wadforms.errors import WadformsError
from wadforms.page import sized
from wadforms.page.inputs import Drop, Field, button, markup, tagged
from wadforms.page.jobs import Job
from wadforms.page.scene import Turning
from wadforms.page.told import SEVERAL, for_field
from wadforms.page.uploads import ENDINGS, PHOTOS
from wadforms.page.visit import Visit
from wadforms.page.workbox import WorkBox

if TYPE_CHECKING:
    from wadforms.catalogue import Shape

KEPT: Final = "shape"
_CUSTOM: Final = "custom"
_USUAL: Final = "disk-20"
_AS_DRAWN: Final = ("width", "depth")  # sizes that a drawing has of its own

_PHOTO: Final = (
    ("width", "Width of the shape itself", "55 mm", ()),
    ("height", "Or its height", "40 mm", ()),
    ("sheet", "Or the paper that it is on", "flat and whole in the picture", ("", "a4", "letter")),
    ("drawn", "It is drawn", "", ("", "filled", "line")),
)


def build(visit: Visit) -> None:
    """Put the place onto the page."""
    drawing = visit.asked.get("drawing")
    own = visit.work.drawings / drawing if drawing else None
    if own is not None and own.parent == visit.work.drawings and own.is_file():
        if own.suffix in PHOTOS:
            _Photo(visit, own).build()
        else:
            _Shape(visit, _CUSTOM, own).build()
    else:
        _Shape(visit, visit.asked.get("shape") or _kept(visit), None).build()
    _build_drop(visit)
    _build_gallery(visit)


def _kept(visit: Visit) -> str:
    lines = visit.work.kept(KEPT)
    return lines[1] if len(lines) > 1 and lines[1] != _CUSTOM else _USUAL


def _build_drop(visit: Visit) -> None:
    tagged("h2", "A drawing of your own")
    Drop(
        "drop",
        "Drop a drawing or a photo here, or choose one",
        "SVG, DXF or CSV with one closed outline; or a photo of a dark drawing on paper",
        ",".join(ENDINGS),
        lambda name: ui.navigate.to(f"/shapes?{urlencode({'drawing': name})}"),
    )
    if visit.work.drawings.is_dir():
        names = sorted(p.name for p in visit.work.drawings.iterdir())
        if names:
            with ui.element("p"):
                tagged("span", "Dropped in before: ")
                for name in names:
                    tagged("a", name, href=f"/shapes?{urlencode({'drawing': name})}")
                    tagged("span", "  ")


def _build_gallery(visit: Visit) -> None:
    from wadforms.catalogue import shapes
    from wadforms.families import families

    tagged("h2", "All shapes")
    wrong = ""
    try:
        known = shapes(visit.work.shapes_in)
    except WadformsError as error:
        wrong = f'<p class="fault">✕ {escape(str(error))}</p>'
        known = shapes()
    cards = [(s.name, s.summary, s.name) for s in known.values()]
    html = [_card(*card) for card in cards]
    kinds = [_card(f.name, f.summary, f.name) for f in families().values() if f.name != _CUSTOM]
    markup().set_content(
        f'{wrong}<ul class="gallery">{"".join(html)}</ul>'
        f'<h2>Families, to be sized freely</h2><ul class="gallery">{"".join(kinds)}</ul>'
    )


def _card(name: str, summary: str, picture: str) -> str:
    return (
        f'<li><a href="/shapes?shape={quote(name)}"><img src="/picture/{quote(picture)}.svg" '
        f'alt="" loading="lazy"><b>{escape(name)}</b><span>{escape(summary)}</span></a></li>'
    )


class _Shape:
    """One shape with its sizes."""

    def __init__(self, visit: Visit, name: str, drawing: Path | None) -> None:
        self.visit, self.name, self.drawing = visit, name, drawing
        self.changes: dict[str, str] = {}
        self.fields: dict[str, Field] = {}
        self.state: sized.Shown | None = None
        self._busy = self._again = False

    def build(self) -> None:
        """Put it onto the page."""
        from wadforms.catalogue import find

        try:
            found = find(self.name, self.visit.work.shapes_in)
        except WadformsError as error:
            markup().set_content(f'<p class="fault">✕ {escape(str(error))}</p>')
            return
        title = self.drawing.name if self.drawing else found.name
        tagged("h2", title)
        tagged("p", found.summary)
        with ui.element("div").classes("two"):
            with ui.element("div").classes("fields"):
                self._build_fields(found)
            with ui.element("div"):
                self.wrong = markup()
                with ui.element("div").classes("pictures"):
                    self.picture = markup(classes="drawn")
                    with ui.element("div"):
                        self.scene = Turning(f"{title}, to be turned")
                self.facts = markup()
                self.uses = ui.element("div").classes("row")
                with self.uses:
                    self.under = tagged("a", "Put it under the pot", classes="press", href="/")
                    self.make = tagged("a", "Make it", classes="press", href="/make")
                if self.drawing is not None:
                    self._build_keeping()
        self.visit.on_units(self._draw)
        ui.timer(0.0, self.refresh, once=True)

    def _build_fields(self, found: Shape) -> None:
        from wadforms.families import family

        own = family(found.family)
        values: dict[str, object] = {p.name: p.default for p in own.parameters()}
        if self.drawing is None and found.family != _CUSTOM:
            size = found.sized()
            values = {p.name: getattr(size, p.name) for p in own.parameters()}
        values |= {k: v for k, v in found.values.items() if isinstance(v, str)}
        for p in own.parameters():
            if p.unit == sized.OUTLINE:
                continue
            value = values[p.name]
            kept = value == 0 and found.family == _CUSTOM and p.name in _AS_DRAWN
            self.fields[p.name] = Field(
                f"p-{p.name}",
                p.name.capitalize().replace("_", " "),
                lambda text, name=p.name: self._typed(name, text),  # type: ignore[misc]
                kind="select" if p.choices else "text",
                value="" if kept else sized.as_typed(found, p, value),
                options=[(c, c) for c in p.choices],
                hint=f"{'as drawn if left empty; ' * kept}{p.help}; {self.visit.shown(p.range)}",
                slider=sized.slider(p),
                at=float(value) if isinstance(value, int | float) else p.low,
                unit=sized.typed_unit(p),
            )

    def _build_keeping(self) -> None:
        from wadforms.catalogue.keeping import name_for

        tagged("h3", "Keep it as a shape of your own")
        assert self.drawing is not None  # noqa: S101 - it is built for a drawing only
        self.as_ = name_for(self.drawing)
        with ui.element("div").classes("fields"):
            self.name_field = Field("as", "Its name", self._named, value=self.as_, mode="text")
        with ui.element("div").classes("row"):
            button("Keep it", self._keep, main=True)
        labels = {"--as": "Its name", "--with neck": "Neck", "--with bend": "Bend"}
        self.box = WorkBox(self.visit, KEPT, labels, self._is_kept)

    def _named(self, text: str) -> None:
        self.as_ = text

    def _with(self) -> dict[str, str]:
        """Every change, the drawing itself among them."""
        given = {k: v for k, v in self.changes.items() if v.strip()}
        return given | ({sized.OUTLINE: str(self.drawing)} if self.drawing else {})

    def _typed(self, name: str, text: str) -> None:
        self.changes[name] = text
        ui.timer(0.0, self.refresh, once=True, immediate=True)

    async def refresh(self) -> None:
        """Show the sizes that are typed now; what is typed meanwhile is shown next."""
        if self._busy:
            self._again = True
            return
        self._busy = True
        title = self.drawing.stem if self.drawing else ""
        try:
            while True:
                self._again = False
                folders = self.visit.work.shapes_in
                state = await asyncio.to_thread(
                    sized.shown, self.name, self._with(), folders, title
                )
                if not self._again:
                    break
        finally:
            self._busy = False
        self.state = state
        self._draw()
        if state.stl and state.box is not None:
            self.scene.show(self.visit.site.put_view(self.visit.visitor, state.stl), state.box)
        given = self._with()
        named = ["shapes", self.name, *(f"--with={k}={v}" for k, v in given.items())]
        own = [f"--shapes-in={folder}" for folder in folders]
        self.visit.work.keep(KEPT, [*named, *own])

    def _draw(self) -> None:
        state, shown = self.state, self.visit.shown
        if state is None:
            return
        elsewhere: list[str] = []
        at: dict[str, str] = {}
        for fault in state.faults:
            words = shown(for_field(fault, {}))
            if fault.where in self.fields:
                at[fault.where] = words
            else:
                elsewhere.append(words if not fault.where else f"{fault.where}: {words}")
        for name, field in self.fields.items():
            field.blame(at.get(name, ""))
            if name in state.values:
                field.point(state.values[name])
        wrong = "".join(f'<p class="fault">✕ {escape(words)}</p>' for words in elsewhere)
        if state.places:
            rows = "".join(f"<li>{escape(shown(words))}</li>" for words in state.places)
            wrong += f"<p>Marked on the outline:</p><ol>{rows}</ol>"
        self.wrong.set_content(wrong)
        if state.picture:
            self.picture.set_content(self.visit.picture(state.picture))
        rows = "".join(
            f"<tr><th scope='row'>{escape(name)}</th><td>{escape(shown(value))}</td></tr>"
            for name, value in state.facts
        )
        self.facts.set_content(f"<table><tbody>{rows}</tbody></table>" if rows else "")
        self.uses.set_visibility(bool(rows))
        given = SEVERAL.join(f"{k}={v}" for k, v in self._with().items())
        for link, path, key in ((self.under, "/", "wad"), (self.make, "/make", "shape")):
            asked = {key: self.name} | ({"with": given} if given else {})
            link._props["href"] = f"{path}?{urlencode(asked)}"
            link.update()
        told = [*elsewhere, *at.values()] or [value for _, value in state.facts[:1]]
        self.visit.say(" ".join(told))

    def _keep(self) -> None:
        into = self.visit.work.shapes
        self.name_field.blame("")
        given = [f"--with={k}={v}" for k, v in self.changes.items() if v.strip()]
        arguments = ["shapes", f"--add={self.drawing}", f"--as={self.as_.strip()}"]
        self.box.start([*arguments, f"--into={into}", *given])

    def _is_kept(self, job: Job) -> None:
        ui.navigate.to(f"/shapes?{urlencode({'shape': str(job.answer['name'])})}")


class _Photo:
    """A photo that an outline is taken from."""

    def __init__(self, visit: Visit, photo: Path) -> None:
        self.visit, self.photo = visit, photo
        self.typed: dict[str, str] = {}
        self.fields: dict[str, Field] = {}

    def build(self) -> None:
        """Put it onto the page."""
        tagged("h2", self.photo.name)
        tagged("p", "Say one length that is known, so that the outline has its true size.")
        with ui.element("div").classes("fields"):
            for name, label, hint, options in _PHOTO:
                self.fields[name] = Field(
                    f"photo-{name}",
                    label,
                    lambda text, name=name: self.typed.update({name: text}),  # type: ignore[misc]
                    kind="select" if options else "text",
                    options=[(one, one or "—") for one in options],
                    hint=hint,
                )
        with ui.element("div").classes("row"):
            button("Take the outline", self._take, main=True)
        labels = {f"--{name}": label for name, label, _, _ in _PHOTO}
        self.box = WorkBox(self.visit, "outline", labels, self._taken)
        self.seen = ui.element("div")

    def _take(self) -> None:
        given = [f"--{name}={text.strip()}" for name, text in self.typed.items() if text.strip()]
        self.box.start(["outline", str(self.photo), *given, "--out=outline.svg"])

    def _taken(self, job: Job) -> None:
        """Show the outline on the photo, and let it be used."""
        place = self.visit.work.drawings / f"{self.photo.stem}-outline.svg"
        outline = next(file for file in job.files if file.suffix == ".svg")
        shutil.copyfile(outline, place)
        self.seen.clear()
        with self.seen:
            tagged("p", "Look at it before you use it: the outline as it was found, on the photo.")
            tagged("img", src=f"/made/{job.id}/outline-checked.png", style="max-width:100%",
                   alt="The photo with the outline on it")  # fmt: skip
            asked = urlencode({"drawing": place.name})
            tagged("a", "Use this outline", classes="press", href=f"/shapes?{asked}")
