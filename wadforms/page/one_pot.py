"""One pot: what it weighs and stands on, the wads under it, and whether they hold."""

from __future__ import annotations

import asyncio
from collections.abc import Sequence
from html import escape
from typing import TYPE_CHECKING, Final

from nicegui import ui

from wadforms import units
from wadforms.cli.printing import marked
from wadforms.errors import Fault, WadformsError
from wadforms.page import pots
from wadforms.page.by_hand import TURN, ByHand
from wadforms.page.inputs import Fields, Plan, button, markup, paragraphs, tagged
from wadforms.page.kept_mixes import mix_choices
from wadforms.page.pot_fields import (
    ALWAYS,
    HINTS,
    LABELS,
    MORE,
    ONLY_FOR,
    WADS,
    WORDS,
    choices,
    narrowed,
    shape_options,
    waiting,
)
from wadforms.page.quiet import Quiet
from wadforms.page.size_words import as_changes, as_words
from wadforms.page.told import arguments, flags, for_field, typed_from, with_labels
from wadforms.page.verdicts import line_html, numbers_html, verdict_html
from wadforms.page.visit import Visit
from wadforms.page.workbox import WorkBox

if TYPE_CHECKING:
    from pathlib import Path

    from wadforms.page.pots import Outcome, Picture
    from wadforms.setting.arrangement import Spot
    from wadforms.setting.tries import Choice

KEPT: Final = "one-pot"
_SAVE_AFTER: Final = 0.4  # seconds without a change

_NO_CHOICE: Final = (
    "The figures are those of the wads that stand in the fields below; they are no choice."
)


def build(visit: Visit) -> None:
    """Put the place onto the page."""
    OnePot(visit).build()


class OnePot(ByHand):
    """The fields, what they come to, and the picture."""

    def __init__(self, visit: Visit) -> None:
        self.visit = visit
        self.typed = typed_from(pots.GROUPS, visit.work.kept(KEPT))
        self.typed.pop("shapes_in", None)
        if asked := visit.asked.get("wad"):
            self.typed |= {"wad": asked, "with_": visit.asked.get("with", ""), "at": ""}
        if asked := visit.asked.get("mix"):
            self.typed["mix"] = asked
        self.own_body = self.typed.get("body", "")  # as the visitor says it, not as a choice does
        self.fields = Fields(self.typed, self._typed, words=WORDS)
        self.outcome: Outcome | None = None
        self.drawn: Picture | None = None
        self.spots: list[Spot] = []
        self.at = -1
        self._busy = self._again = False
        self._saving = Quiet(_SAVE_AFTER, self._save)
        self.flags = {flag: LABELS.get(name, name) for g in pots.GROUPS
                      for name, flag in flags(g).items()}  # fmt: skip
        self.flags["--at-most"] = LABELS["at_most"]
        self.names = {flag: name for g in pots.GROUPS for name, flag in flags(g).items()}
        self.names |= {"--at-most": "at_most", "shape": "wad"}

    def build(self) -> None:
        """Put everything onto the page, and answer what is there already."""
        with ui.element("div").classes("two"):
            with ui.element("div"):
                self._build_fields()
            with ui.element("div"):
                self._build_answer()
        self.line = markup(classes="in-view")
        self.line._props["aria-hidden"] = "true"  # the live region says it
        self._show_fields()
        self.visit.on_units(self._draw)
        self.visit.on_units(lambda: self._show_choice(self.choices))
        ui.context.client.on_delete(self._save)
        ui.timer(0.0, self.refresh, once=True)

    def _build_fields(self) -> None:
        tagged("h2", "The pot")
        with ui.element("div").classes("fields"):
            self._fields(ALWAYS)
        with ui.element("details"):
            tagged("summary", "More about the pot and the mix")
            with ui.element("div").classes("fields"):
                self._fields(MORE)
        tagged("h2", "The wads")
        with ui.element("div").classes("row"):
            button("Choose for me", self._choose, main=True)
        with ui.element("div").classes("fields"):
            self._fields(("at_most",))
        self.reasons = markup()
        self.others = ui.element("div").classes("row")
        self.choices: list[Choice] = []
        self._why: tuple[str, ...] = ()
        tagged("h3", "Or say which")
        with ui.element("div").classes("fields"):
            self._fields(WADS)

    def _build_answer(self) -> None:
        tagged("h2", "Does it hold?")
        self.verdict = markup()
        with ui.element("div").classes("pictures") as self.pictures:
            with ui.element("figure"):
                tagged("figcaption", "From below: the pot turned over")
                self.plan = Plan(
                    "Wads from below. Arrow keys move the wad that has the focus, comma and full "
                    "stop turn it, Delete takes it away; with Shift in fine steps."
                )
                self.plan.on("chosen", self._chosen)
                self.plan.on("moved", self._moved)
                self.plan.on("turned", self._turned)
                self.plan.on("stepped", self._stepped)
                self.plan.on("stepturned", self._step_turned)
                self.plan.on("removed", lambda event: self._remove(int(event.args)))
                tagged("p", "Drag a wad, or its knob to turn it; or arrow keys, comma, full stop.",
                       classes="hint")  # fmt: skip
                with ui.element("div").classes("row"):
                    button("↺ Turn", lambda: self._turn_by(self.at, TURN))
                    button("↻ Turn", lambda: self._turn_by(self.at, -TURN))
                    button("Add a wad", self._add)
                    button("Take it away", lambda: self._remove(self.at))
                    button("Even circle again", self._even)
            with ui.element("figure"):
                tagged("figcaption", "From the side")
                self.side = markup(classes="drawn")
        self.numbers = markup()
        with ui.element("div") as self.saving:
            tagged("h2", "To take away")
            tagged("p", "The picture, and a guide at full size to lay on the shelf.")
            with ui.element("div").classes("row"):
                button("Make picture and guide", self._make)
            self.box = WorkBox(self.visit, KEPT, self.flags)
        self.command = markup(classes="hint")

    def _fields(self, names: Sequence[str]) -> None:
        for name in names:
            options = list(choices().get(name, ()))
            if name == "wad":
                options = shape_options(self.visit.work.shapes_in)
            elif name == "mix":
                options = mix_choices(self.visit.work, self.typed.get("mix", ""))
            listed = bool(options) and name != "wad"
            text = self.typed.get(name, "")
            self.fields.add(
                name,
                LABELS[name],
                options,
                hint=HINTS.get(name, ""),
                kind="select" if listed else "text",
                mode="numeric" if "_m" in name and name not in WORDS else "",
                value=as_words(text, self._drawings) if name == "with_" else text,
            )

    @property
    def _drawings(self) -> Path:
        return self.visit.work.drawings

    def _show_fields(self) -> None:
        """Show the fields that a kind of foot has a use for."""
        kind = self.typed.get("foot_kind", "")
        for name, kinds in ONLY_FOR.items():
            used = kind in kinds or bool(self.typed.get(name))
            self.fields[name].set_visibility(used)

    def _typed(self, name: str, text: str) -> None:
        self.typed[name] = as_changes(text, self._drawings) if name == "with_" else text
        if name in ("how_many", "radius", "rail_angle", "turn"):
            self.typed["at"] = self.typed["circle"] = ""
        if name == "wad":
            self._put("with_", "")
        if name == "body":
            self.own_body = text
        if name not in WADS and self._why:  # it was chosen for another pot
            self.choices, self._why = [], ()
            self._show_choice([])
        if name == "foot_kind":
            self._show_fields()
        return self._later()

    def _put(self, name: str, text: str) -> None:
        if self.typed.get(name, "") != text:
            self.typed[name] = text
            if name in self.fields:
                words = as_words(text, self._drawings) if name == "with_" else text
                self.fields[name].put(words)

    def _later(self) -> None:
        ui.timer(0.0, self.refresh, once=True, immediate=True)

    async def refresh(self) -> None:
        """Answer what is typed now; what is typed meanwhile is answered next."""
        if self._busy:
            self._again = True
            return
        self._busy = True
        guard = self.visit.work.refuse_others
        try:
            while True:
                self._again = False
                folders = self.visit.work.shapes_in
                answer = await asyncio.to_thread(pots.answered, dict(self.typed), folders, guard)
                if not self._again:
                    break
        finally:
            self._busy = False
        self.outcome, picture = answer
        if self.outcome.found is not None:
            self.drawn = picture
            self.spots = list(self.outcome.found.setting.arrangement.spots)
        self._draw()
        self._saving.later()

    def _save(self) -> None:
        if any(self.typed.values()):
            self.visit.work.keep(KEPT, ["contact", *self._arguments()])

    def _arguments(self) -> list[str]:
        own = [f"--shapes-in={folder}" for folder in self.visit.work.shapes_in]
        return [*arguments(pots.GROUPS, self.typed), *own]

    def _draw(self) -> None:
        """Show the answer."""
        answered = self.outcome
        if answered is None:
            return
        elsewhere = self._blame(answered.faults)
        found = answered.found
        by_hand = bool(self.typed.get("at")) and self.drawn is not None and bool(self.spots)
        self.pictures.set_visibility(found is not None or by_hand)
        self.saving.set_visibility(found is not None)
        if found is None:
            words = waiting(answered.missing, elsewhere)
            self.verdict.set_content(paragraphs([self.visit.shown(w) for w in words], "p"))
            self.numbers.set_content("")
            self.line.set_content("")
            if by_hand:  # what was just moved is not taken out of the hand
                self._show_plan()
            self.command.set_content("")
            self.visit.say(" ".join(words))
            return
        shown = self._shown
        self.verdict.set_content(verdict_html(found.answer, shown))
        self.numbers.set_content(numbers_html(found, shown))
        self.line.set_content(line_html(found.answer))
        self._show_plan()
        if self.drawn is not None:
            self.side.set_content(self.visit.picture(self.drawn.side))
        self.command.set_content(escape(self.visit.at_terminal(KEPT)))
        self.visit.say(shown(f"{marked(found.answer.verdict)}. {found.answer.reason}"))

    def _show_plan(self) -> None:
        if self.drawn is not None:
            handles = self.drawn.with_spots(self.spots)
            self.plan.show(
                self.visit.picture(self.drawn.plan),
                self.drawn.size,
                [h | {"label": self.visit.shown(h["label"])} for h in handles],
                chosen=self.at,
            )

    def _shown(self, text: str) -> str:
        """Words of the command line as they stand here."""
        return self.visit.shown(with_labels(text, self.flags))

    def _blame(self, faults: Sequence[Fault]) -> list[str]:
        """Say at each field what is wrong with it; gives what belongs to none."""
        at: dict[str, str] = {}
        elsewhere = []
        for fault in faults:
            name = self.names.get(fault.where.split(" ")[0], "")
            words = self.visit.shown(for_field(fault, self.flags))
            field = self.fields.get(name)
            if field is not None and field.visible:
                at[name] = f"{at[name]}; {words}" if name in at else words
            else:
                elsewhere.append(f"{fault.where}: {words}" if fault.where else words)
        for name, field in self.fields.items():
            field.blame(at.get(name, ""))
        return [*elsewhere, *(f"{LABELS[name]}: {words}" for name, words in at.items())]

    async def _choose(self) -> None:
        """Take the tool's own choice, and tell why."""
        kind = self.typed.get("foot_kind", "")
        missing = [n for n in pots.NEEDED.get(kind, ()) if not self.typed.get(n, "").strip()]
        if missing:
            self._blame([])
            for name in missing:
                self.fields[name].blame("This is needed first")
            self.visit.say("Still needed: " + ", ".join(LABELS[n] for n in missing))
            return
        typed = self.typed | {"with_": "", "body": self.own_body}
        try:
            self.visit.work.refuse_others(typed)
            found = await asyncio.to_thread(pots.chosen, typed, self.visit.work.shapes_in)
        except WadformsError as error:
            self._blame(pots.faults_of(error))
            self.choices, self._why = [], ()
            self._show_choice([])
            return
        self._why = (*narrowed(self.own_body), *found.why)
        options = (found.best, found.runner_up, found.lighter)
        self.choices = [choice for choice in options if choice is not None]
        self._show_choice(self.choices)
        if found.best is not None:
            self._take(found.best)

    def _show_choice(self, choices: Sequence[Choice]) -> None:
        shown = self.visit.shown
        head = f"<p><b>Use {escape(shown(choices[0].sentence))}.</b></p>" if choices else ""
        if not choices and self._why:
            head = f"<p><b>Nothing here will do.</b> {_NO_CHOICE}</p>"
        why = paragraphs([shown(reason[:1].upper() + reason[1:]) for reason in self._why])
        self.reasons.set_content(f"{head}<ul>{why}</ul>" if self._why else "")
        self.others.clear()
        if len(choices) > 1:
            with self.others:
                for choice in choices:
                    words = f"{choice.sentence}, {units.show(choice.mass, 'g')}, "
                    words += marked(choice.assessment.verdict)
                    button(shown(words), lambda choice=choice: self._take(choice))  # type: ignore[misc]

    def _take(self, choice: Choice) -> None:
        for name, text in pots.taken(choice).items():
            self._put(name, text)
        self.at = -1
        self._later()

    def _make(self) -> None:
        # What was typed may have changed since the answer.
        found = self.outcome.found if self.outcome is not None else None
        if found is None or not self.visit.work.allows(self.typed):
            return
        wanted = ["--picture=setting.svg", "--guide=guide.pdf"]
        self.box.start(["contact", *self._arguments(), *wanted])
