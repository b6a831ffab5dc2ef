"""Reads the examples of a Markdown file: what is typed and what is shown for it."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

LANGUAGES = {"console", "sh"}


@dataclass(frozen=True, slots=True)
class Example:
    """One command of a file with what is shown below it."""

    line: int
    command: str
    shown: str


def sections(text: str) -> Iterator[tuple[str, list[Example]]]:
    """The headings of a Markdown text, each with the examples under it."""
    heading, found = "", list[Example]()
    lines = enumerate(text.splitlines(), 1)
    for _, line in lines:
        if line.startswith("#"):
            yield heading, found
            heading, found = line.lstrip("# ").strip(), []
        elif line.startswith("```"):
            language = line.removeprefix("```").strip()
            block = []
            for inner, text_line in lines:
                if text_line.startswith("```"):
                    break
                block.append((inner, text_line))
            if language in LANGUAGES:
                found += examples(block)
    yield heading, found


def examples(block: list[tuple[int, str]]) -> Iterator[Example]:
    """The commands of one fenced block; a command goes on after a backslash."""
    command, start, shown, goes_on = "", 0, list[str](), False
    for number, line in [*block, (0, "$ ")]:
        if goes_on:
            command = command[:-1].rstrip() + " " + line.strip()
        elif line.startswith("$ "):
            if command:
                yield Example(start, command, "\n".join(shown).strip("\n"))
            command, start, shown = line.removeprefix("$ "), number, []
        else:
            shown.append(line)
            continue
        goes_on = command.endswith("\\")


def matches(shown: str, printed: str) -> bool:
    """Whether what was printed is what is shown; ``...`` stands for anything, lines included."""
    pattern = ".*".join(re.escape(part) for part in _trimmed(shown).split("..."))
    return re.fullmatch(pattern, _trimmed(printed), re.DOTALL) is not None


def _trimmed(text: str) -> str:
    return "\n".join(line.rstrip() for line in text.strip("\n").splitlines())
