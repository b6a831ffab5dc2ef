"""Every command and every option says what it is for."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest
from source_tree import needs_commands


def commands() -> Iterator[tuple[str, Any]]:
    """Every command by what is typed, from the program itself down."""
    import typer

    from wadforms import cli

    def within(name: str, command: Any) -> Iterator[tuple[str, Any]]:
        yield name, command
        for word, inner in getattr(command, "commands", {}).items():
            yield from within(f"{name} {word}", inner)

    yield from within("wadforms", typer.main.get_command(cli.app))


@needs_commands
def test_the_commands_that_scripts_use_are_there() -> None:
    words = {name.partition(" ")[2] for name, _ in commands()}
    assert {"shapes", "contact", "size", "template", "mould", "demo"} <= words


@needs_commands
def test_every_command_and_option_has_help() -> None:
    silent = []
    for name, command in commands():
        if not (command.help or "").strip():
            silent.append(name)
        for option in command.params:
            if option.name != "help" and not (getattr(option, "help", None) or "").strip():
                silent.append(f"{name} {option.name}")
    assert not silent


@needs_commands
def test_help_opens_with_examples_that_name_the_command() -> None:
    for name, command in commands():
        assert f"{name} " in command.help, f"{name} --help shows no example"


@needs_commands
@pytest.mark.parametrize("machine", ["contact", "size", "shapes", "template", "mould"])
def test_what_a_script_reads_comes_as_json(machine: str) -> None:
    options = {o for name, c in commands() if name == f"wadforms {machine}" for p in c.params
               for o in p.opts}  # fmt: skip
    assert "--json" in options
