"""The program itself: its commands by name, and what becomes of every fault."""

import sys
from collections.abc import Sequence
from importlib import import_module
from typing import Any

import click

from sweepbook import __version__, garbage
from sweepbook.cli import faults

COMMANDS = {
    "demo": "See the whole job at once, on the demo's own exports.",
    "gather": "Take test exports into a book, with the files as they came.",
    "correct": "Enter a correction beside the evidence, or list those there are.",
    "withdraw": "Let sources of a book count no more, or take them back in.",
    "accept": "Let a finding stand, with who, when and why, or list those.",
    "check": "Judge every stated verdict anew from the raw sweeps.",
    "show": "Show one test: what was stated beside what was recomputed.",
    "reconcile": "Hold the tests against the cable schedule.",
    "compare": "Hold the tests of a link against each other, end by end.",
    "testers": "List the instruments, and whether one reads apart.",
    "retests": "List what has to be tested again, by floor, room and panel.",
    "export": "Write a checked book in another format, such as a spreadsheet.",
    "convert": "Turn export files into another format without a book.",
    "archive": "Make a bag of a book for the archive, or prove one.",
    "formats": "List the formats and dialects that can be read and written.",
    "dialect": "Draft a dialect from example files, or try one on a file.",
    "limits": "List the limit tables, show or draw one, or check your own.",
    "rules": "List the rules, or explain one.",
    "doctor": "Tell what is installed, and prove every digest of a book.",
}


class Program(click.Group):
    """A group whose commands are modules of this package, imported when they are called."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """Give the names in the order in which a job uses them."""
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """Import the command's module."""
        if cmd_name not in COMMANDS:
            return None
        command: click.Command = import_module(f"sweepbook.cli.{cmd_name}").command
        return command

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """List the commands without importing any of them."""
        with formatter.section("Commands"):
            formatter.write_dl(list(COMMANDS.items()))

    def main(
        self,
        args: Sequence[str] | None = None,
        prog_name: str | None = None,
        complete_var: str | None = None,
        standalone_mode: bool = True,
        windows_expand_args: bool = True,
        **extra: Any,  # noqa: ANN401 - click's own signature
    ) -> Any:  # noqa: ANN401 - click's own signature
        """Run a command and turn whatever happens into an exit code and a line or two of text."""
        garbage.seldom()
        run = super().main
        code = faults.guarded(
            lambda: run(
                args=args,
                prog_name=prog_name,
                complete_var=complete_var,
                standalone_mode=False,
                windows_expand_args=windows_expand_args,
                **extra,
            )
        )
        if standalone_mode:
            sys.exit(code)
        return code


@click.command(
    "sweepbook",
    cls=Program,
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100},
    epilog="Exit codes: 0 clean; 1 findings, overturned or unproven verdicts, or something that "
    "could not be read; 2 a rule or a plugin crashed; 3 wrong use, or nothing could be read.",
)
@click.version_option(__version__, "-V", "--version", prog_name="sweepbook")
def main() -> None:
    """Certification records of structured cabling: read, kept, re-judged from the raw sweeps."""
