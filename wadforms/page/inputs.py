"""The parts that the page is made of: fields, buttons, words."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from html import escape
from typing import TYPE_CHECKING, Any

from nicegui import ui

from wadforms.page.uploads import safe_name

if TYPE_CHECKING:
    from nicegui.element import Element


class Field(ui.element, component="parts/field.js"):
    """A labelled field: text, a choice, a tick, or a number with a slider.

    Parameters
    ----------
    name : str
        Of the field, once on a page.
    label : str
        What it is called.
    kind : str
        ``"text"``, ``"select"`` or ``"check"``.
    value : str
        What stands in it.
    typed : callable
        Takes what was typed.
    options : sequence of (str, str)
        Values with their words; of a text, what is offered.
    hint : str
        An example, or what it measures.
    mode : str
        The keyboard that a phone shows.
    slider : (float, float, float) or None
        Smallest and largest value and the step, in `unit`.
    at : float
        Where the slider stands, in `unit`.
    unit : str
        Of the slider.
    """

    def __init__(
        self,
        name: str,
        label: str,
        typed: Callable[[str], Any],
        *,
        kind: str = "text",
        value: str = "",
        options: Sequence[tuple[str, str]] = (),
        hint: str = "",
        mode: str = "decimal",
        slider: tuple[float, float, float] | None = None,
        at: float = 0.0,
        unit: str = "",
    ) -> None:
        super().__init__()
        self.name, self.label = name, label
        self._fault = ""
        self._props.update(uid=f"f-{name}", label=label, kind=kind, value=value, hint=hint)
        self._props.update(options=[list(o) for o in options], mode=mode, stamp=0, fault="")
        if slider is not None:
            low, high, step = slider
            self._props.update(low=low, high=high, step=step, at=at, unit=unit)
        self.on("typed", lambda event: typed(str(event.args)[:1000]))

    def put(self, value: str) -> None:
        """Put another value into it."""
        self._props["value"] = value
        self._props["stamp"] += 1
        self.update()

    def point(self, at: float) -> None:
        """Move its slider, in the slider's unit; the text stays."""
        if self._props.get("at") != at:
            self._props["at"] = at
            self.update()

    def blame(self, fault: str) -> None:
        """Say what is wrong with it, or nothing."""
        if fault != self._fault:
            self._fault = fault
            self._props["fault"] = fault
            self.update()


class Fields(dict[str, Field]):
    """The fields of a place, by name.

    Parameters
    ----------
    typed : dict
        What stands in them.
    changed : callable
        Takes the name of a field and what was typed there.
    before : str
        Stands before each name, which must be there once on a page.
    words : sequence of str
        Names of those that take words, not numbers.
    """

    def __init__(
        self,
        typed: Mapping[str, str],
        changed: Callable[[str, str], Any],
        *,
        before: str = "",
        words: Sequence[str] = (),
    ) -> None:
        super().__init__()
        self.typed, self.changed = typed, changed
        self.before, self.words = before, words

    def add(
        self,
        name: str,
        label: str,
        options: Sequence[tuple[str, str]] = (),
        *,
        hint: str = "",
        kind: str = "",
        mode: str = "",
        value: str | None = None,
    ) -> None:
        """Put a field onto the page: a choice where there are options, else a text.

        Parameters
        ----------
        name, label, options, hint : str
            As of a `Field`.
        kind, mode : str
            As of a `Field`, where they do not follow from options and name.
        value : str or None
            What stands in it, where it is written otherwise than it was typed.
        """
        self[name] = Field(
            self.before + name.replace(":", "-"),
            label,
            lambda text: self.changed(name, text),
            kind=kind or ("select" if options else "text"),
            value=self.typed.get(name, "") if value is None else value,
            options=options,
            hint=hint,
            mode=mode or ("text" if name in self.words else "decimal"),
        )


class Plan(ui.element, component="parts/plan.js"):
    """The setting from below with handles on its wads.

    Parameters
    ----------
    label : str
        What it is, and which keys do what.
    """

    def __init__(self, label: str) -> None:
        super().__init__()
        self._props.update(label=label, picture="", width=100.0, height=100.0, spots=[], chosen=-1)

    def show(
        self,
        picture: str,
        size: tuple[float, float],
        spots: Sequence[dict[str, Any]],
        *,
        chosen: int = -1,
    ) -> None:
        """Show another picture, of this size [mm on the sheet], with these handles."""
        self._props.update(picture=picture, width=size[0], height=size[1])
        self._props.update(spots=list(spots), chosen=chosen)
        self.update()

    def choose(self, number: int) -> None:
        """Mark one of the handles."""
        self._props["chosen"] = number
        self.update()


class Drop(ui.element, component="parts/drop.js"):
    """Takes a file, chosen or dropped.

    Parameters
    ----------
    name, label, hint : str
        Of the field.
    accept : str
        The endings that are taken.
    taken : callable
        Told the name of the file, once it is here.
    """

    def __init__(
        self, name: str, label: str, hint: str, accept: str, taken: Callable[[str], Any]
    ) -> None:
        super().__init__()
        self._props.update(uid=f"f-{name}", label=label, hint=hint, accept=accept)
        # What a browser tells may be anything: a name of ours names nothing but a file of theirs.
        self.on("taken", lambda event: taken(safe_name(str(event.args))))


def button(words: str, pressed: Callable[[], Any], *, main: bool = False) -> Element:
    """A button; the one that a place is for stands out.

    Parameters
    ----------
    words : str
        On it.
    pressed : callable
        What it does.
    main : bool
        Whether it is the main one.
    """
    made = tagged("button", words, classes="main" if main else "")
    made.props("type=button")
    return made.on("click", lambda _: pressed(), args=[])


def tagged(tag: str, words: str = "", *, classes: str = "", **props: str) -> Element:
    """An element of HTML with words in it.

    Parameters
    ----------
    tag : str
        Of the element.
    words : str
        In it.
    classes : str
        For the look.
    props : str
        Attributes; an underscore stands for a hyphen.
    """
    made = ui.element(tag)
    if words:
        made._text = words
    if classes:
        made.classes(classes)
    for name, value in props.items():
        made._props[name.rstrip("_").replace("_", "-")] = value
    return made


def markup(tag: str = "div", *, classes: str = "") -> ui.html:
    """A place for HTML that we make ourselves, every word in it escaped."""
    return ui.html("", sanitize=False, tag=tag).classes(classes)


def paragraphs(lines: Sequence[str], tag: str = "li") -> str:
    """Lines as HTML, escaped.

    Examples
    --------
    >>> paragraphs(["a < b"], "p")
    '<p>a &lt; b</p>'
    """
    return "".join(f"<{tag}>{escape(line)}</{tag}>" for line in lines)
