"""`sweepbook dialect`: a draft of a dialect from examples, and a trial of one on a file."""

import click

from sweepbook.cli import dialect_draft, dialect_try


@click.group("dialect", short_help="Draft a dialect from example files, or try one on a file.")
def command() -> None:
    """Draft a dialect from example files, or try one on a file."""


command.add_command(dialect_draft.command)
command.add_command(dialect_try.command)
