"""Every command is listed, explained and says what its exit code means."""

from collections.abc import Iterator

import click
import pytest

from sweepbook.cli import main
from sweepbook.cli.program import COMMANDS, Program

from .conftest import Run


def _command(name: str) -> click.Command:
    assert isinstance(main, Program)
    command = main.get_command(click.Context(main), name)
    assert command is not None
    return command


def every_command() -> Iterator[tuple[str, click.Command]]:
    """Every command with its name, those of groups included."""
    for name in COMMANDS:
        command = _command(name)
        if isinstance(command, click.Group):
            yield from ((f"{name} {inner}", part) for inner, part in command.commands.items())
        yield name, command


def test_the_help_lists_every_command_in_one_line_each(run: Run) -> None:
    result = run("--help")
    assert result.exit_code == 0
    lines = [" ".join(line.split()) for line in result.output.splitlines()]
    for name, summary in COMMANDS.items():
        assert f"{name} {summary}" in lines
    assert "Exit codes:" in result.output


@pytest.mark.parametrize("name", COMMANDS)
def test_the_summary_in_the_list_is_the_commands_own(name: str) -> None:
    command = _command(name)
    assert command.short_help == COMMANDS[name]
    assert command.help is not None
    assert command.help.splitlines()[0] == COMMANDS[name]


def test_every_command_option_and_argument_is_explained() -> None:
    for name, command in every_command():
        assert command.help, name
        for parameter in command.params:
            if isinstance(parameter, click.Option):
                assert parameter.help, f"{name} {parameter.name}"
            elif not isinstance(command, click.Group):
                metavar = parameter.make_metavar(click.Context(command)).strip("[].")
                assert metavar.rstrip(".") in command.help, f"{name} {metavar}"


@pytest.mark.parametrize("name", ["gather", "check", "show", "export", "convert", "doctor", "demo"])
def test_what_judges_or_reads_tells_its_exit_code(name: str) -> None:
    help_text = _command(name).help
    assert help_text is not None
    assert "xit code" in help_text


def test_the_version_is_told(run: Run) -> None:
    from sweepbook import __version__

    assert run("--version").output == f"sweepbook, version {__version__}\n"
