"""What README.md shows is what happens."""

from __future__ import annotations

import re
import shlex
from pathlib import Path

import pytest
from readme_blocks import Example, examples, matches, sections
from source_tree import COMMAND_LINE, ROOT, fresh

README = (ROOT / "README.md").read_text(encoding="utf-8")
OURS = {
    heading: found
    for heading, all_found in sections(README)
    if (found := [e for e in all_found if e.command.startswith("wadforms ")])
}


@pytest.mark.parametrize("heading", OURS)
def test_examples_print_what_is_shown(heading: str, tmp_path: Path) -> None:
    """The examples of a section run one after the other in one empty folder."""
    wrong = []
    for example in OURS[heading]:
        done = fresh(COMMAND_LINE, *shlex.split(example.command)[1:], cwd=tmp_path)
        printed = done.stdout + done.stderr
        if done.returncode not in {0, 2, 3} or not matches(example.shown, printed):
            wrong.append(
                f"README.md:{example.line}: {example.command}\n"
                f"-- shown --\n{example.shown}\n-- printed ({done.returncode}) --\n{printed}"
            )
    assert not wrong, "\n\n".join(wrong)


@pytest.mark.parametrize("heading", ["Try it", "Test it"])
def test_a_newcomer_finds_one_line_to_type(heading: str) -> None:
    section = re.split(rf"^#+ {heading}$", README, flags=re.MULTILINE)[1]
    block = section.split("```")[1].split("\n", 1)[1]
    assert len(block.strip().splitlines()) == 1


def test_pictures_and_files_that_it_names_are_there() -> None:
    links = re.findall(r"\]\((?!https?:|#)([^)#]+)", README)
    # Beside a built wheel only README.md and the tests are copied.
    if (ROOT / "wadforms").is_dir():
        assert [link for link in links if not (ROOT / link).exists()] == []


BLOCK = """\
$ wadforms contact --weight 1kg \\
    --wad disk-10
three wads
... kPa
$ wadforms shapes
disk-10
"""


def test_a_block_is_read_as_it_is_typed() -> None:
    assert list(examples(list(enumerate(BLOCK.splitlines(), 7)))) == [
        Example(7, "wadforms contact --weight 1kg --wad disk-10", "three wads\n... kPa"),
        Example(11, "wadforms shapes", "disk-10"),
    ]


@pytest.mark.parametrize(
    ("printed", "same"),
    [("three wads\n1.2 kPa\n", True), ("three wads\n1.2\n", False), ("3 wads\n1 kPa", False)],
)
def test_only_the_dots_stand_for_something_else(printed: str, same: bool) -> None:
    assert matches("three wads\n... kPa", printed) is same
