"""Every command and every option says what it is for."""

from __future__ import annotations

from functools import cache
from typing import Any

import pytest


@cache
def commands() -> dict[str, Any]:
    """The program itself and every command, by what is typed, loaded as when it is asked for."""
    import typer

    from wadforms import cli

    found = {"wadforms": typer.main.get_command(cli.app_for([]))}
    for name in cli.COMMANDS:
        program: Any = typer.main.get_command(cli.app_for([name]))
        found[f"wadforms {name}"] = program.commands[name]
    return found


def test_the_commands_that_scripts_use_are_there() -> None:
    words = {name.partition(" ")[2] for name in commands()}
    assert {"shapes", "contact", "size", "template", "mould", "demo"} <= words


def test_every_command_and_option_has_help() -> None:
    silent = []
    for name, command in commands().items():
        if not (command.help or "").strip():
            silent.append(name)
        for option in command.params:
            if option.name != "help" and not (getattr(option, "help", None) or "").strip():
                silent.append(f"{name} {option.name}")
    assert not silent


def test_help_opens_with_examples_that_name_the_command() -> None:
    for name, command in commands().items():
        assert f"{name} " in command.help, f"{name} --help shows no example"


@pytest.mark.parametrize("machine", ["contact", "size", "shapes", "template", "mould"])
def test_what_a_script_reads_comes_as_json(machine: str) -> None:
    command = commands()[f"wadforms {machine}"]
    assert "--json" in {word for option in command.params for word in option.opts}


def test_the_list_of_commands_says_of_each_what_the_command_says() -> None:
    listed = commands()["wadforms"].commands
    for name, command in commands().items():
        if name != "wadforms":
            assert command.help.startswith(listed[name.partition(" ")[2]].help)
