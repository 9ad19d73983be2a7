"""Options that several commands share, spelled and explained once."""

from collections.abc import Callable
from dataclasses import fields
from functools import wraps
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

import click

from sweepbook.cli.asked import Asked

if TYPE_CHECKING:
    from sweepbook.cli.target import Target

Command = TypeVar("Command", bound=Callable[..., Any])

EXISTING = click.Path(exists=True, readable=False, path_type=Path)
FOLDER = click.Path(file_okay=False, path_type=Path)
ANY_PATH = click.Path(path_type=Path)
MOST_WORKERS = 60
"""More are not to be had everywhere: Windows lets a process wait for some sixty others."""


def asked(command: Callable[..., int]) -> Callable[..., int]:
    """Hand over what the options shared by commands ask as one; it stands below them."""

    @wraps(command)
    def handed_over(**given: Any) -> int:  # noqa: ANN401 (each option has its own type)
        shared = {field.name for field in fields(Asked)} & given.keys()
        told = Asked(**{name: given.pop(name) for name in shared})
        return command(asked=told, **given)

    return handed_over


def sources(command: Command) -> Command:
    """Take files and folders."""
    return click.argument("paths", nargs=-1, required=True, metavar="PATHS...", type=EXISTING)(
        command
    )


def reading(command: Command) -> Command:
    """Say how the sources are to be read."""
    add_from = click.option(
        "--from",
        "from_format",
        metavar="FORMAT",
        help="Read every file as this format; by default each file is recognised.",
    )
    add_dialect = click.option(
        "--dialect",
        "dialects",
        multiple=True,
        metavar="FILE",
        help="Description of an export, or the name of an installed one. One is used as it is; "
        "of several the fitting one is chosen for each file.",
    )
    return add_from(add_dialect(command))


def limit_files(command: Command) -> Command:
    """Bring limit tables besides the installed ones."""
    return click.option(
        "--limits",
        "limits",
        multiple=True,
        metavar="FILE",
        type=click.Path(exists=True, dir_okay=False, path_type=Path),
        help="Limit table of your own, such as a contract's; see `sweepbook limits check`.",
    )(command)


def judging(command: Command) -> Command:
    """Say by what the records are to be judged."""
    add_against = click.option(
        "--against",
        metavar="LIMIT",
        help="Judge under this limit table instead of the one each test states.",
    )
    add_readings = click.option(
        "--interpretation",
        "interpretations",
        multiple=True,
        metavar="ID=on|off",
        help="Decide a disputed reading of the standards; see `sweepbook limits interpretations`.",
    )
    add_accuracy = click.option(
        "--accuracy",
        type=click.Choice(["worst-case", "root-sum-square"]),
        help="A margin nearer to zero than the accuracy of the measurement gets an asterisk. For "
        "tests that declare no accuracy, work it out by a model of the tester's errors, whose "
        "figures are recalled: errors added up one by one, or as the root of their squares.",
    )
    add_project = click.option(
        "--project",
        metavar="FILE",
        type=click.Path(exists=True, dir_okay=False, path_type=Path),
        help="What the job decided for itself: figures, rules left out, findings accepted. By "
        "default project.toml of the book; see `sweepbook accept`.",
    )
    add_rules = click.option(
        "--rule",
        "rules",
        multiple=True,
        metavar="WORD",
        help="Ask these rules only: an id such as REC004, the letters of a group such as REC, or "
        "a severity.",
    )
    add_without = click.option(
        "--without-rule",
        "without_rules",
        multiple=True,
        metavar="WORD",
        help="Do not ask these rules; a WORD as for --rule.",
    )
    chosen = add_accuracy(add_project(add_rules(add_without(command))))
    return add_against(limit_files(add_readings(chosen)))


def workers(command: Command) -> Command:
    """Say how many processes share the work."""
    return click.option(
        "--workers",
        metavar="N",
        type=click.IntRange(1, MOST_WORKERS),
        help="Processes that assess the records of a book, and draw the plots of its page; by "
        "default one for each hundred records, as far as there are processors, and four at most. "
        "What comes out is the same but for the time written, which SOURCE_DATE_EPOCH fixes. "
        "Exports that are not in a book are read by one.",
    )(command)


def schedule(required: bool) -> Callable[[Command], Command]:
    """Name the cable schedule, say which of its columns is what, and what labels say of ends."""

    def add(command: Command) -> Command:
        add_file = click.option(
            "--schedule",
            "schedule",
            required=required,
            metavar="FILE",
            type=click.Path(exists=True, dir_okay=False, path_type=Path),
            help="The cable schedule, a row a link: a CSV file, or the first sheet of a workbook.",
        )
        add_columns = click.option(
            "--column",
            "columns",
            multiple=True,
            metavar="ROLE=TITLE",
            help="What a column of the schedule is, where its title does not tell, such as "
            '"limit=To be tested to"; `sweepbook reconcile --help` lists the roles.',
        )
        add_scheme = click.option(
            "--label-scheme",
            "label_scheme",
            metavar="FILE",
            type=click.Path(exists=True, dir_okay=False, path_type=Path),
            help="What the labels say of the ends of their links, where neither the schedule nor "
            "a test does; a TOML file, see `sweepbook formats --guide`.",
        )
        return add_file(add_columns(add_scheme(command)))

    return add


def drawing(command: Command) -> Command:
    """Say of which tests the curves are to be drawn."""
    add_plots = click.option(
        "--plots",
        "plots",
        type=click.Choice(["none", "failed", "open", "all"]),
        help="Of which tests a page draws the curves: of none, of those that fail, of open ones "
        "(no proved pass, or to be tested again), or of all. Open ones unless told otherwise.",
    )
    add_links = click.option(
        "--plots-of",
        "plots_of",
        multiple=True,
        metavar="LABEL",
        help="Draw the curves of this link too.",
    )
    return add_plots(add_links(command))


def sweeps(command: Command) -> Command:
    """Say of which tests the sweeps are wanted, and which margins."""
    add_margins = click.option(
        "--margins",
        "margins",
        type=click.Choice(["all", "worst", "none"]),
        help="For tables of margins and an as-built database: of every curve, as by default; of "
        "each parameter the worst alone; or none. For a job of many thousand links.",
    )
    add_sweeps = click.option(
        "--sweeps",
        "sweeps",
        multiple=True,
        metavar="LABEL",
        help="For a workbook: a sheet of the curves of this link, or of a record by its id, with "
        "their limits and charts.",
    )
    return add_sweeps(add_margins(command))


def output(command: Command) -> Command:
    """Say what to write and where."""
    add_to = click.option(
        "--to", "to_format", required=True, metavar="FORMAT", help="Format to write."
    )
    add_target = click.option(
        "-o", "--output", "target", required=True, metavar="PATH", callback=_target,
        help="File or folder to write, or the URL of a database. A file that is there is replaced "
        "once the new one is whole; a database is brought up to date, and a folder is added to.",
    )  # fmt: skip
    return add_to(add_target(command))


def _target(_: click.Context, __: click.Parameter, text: str) -> "Target":
    from sweepbook.cli.target import target_of

    return target_of(text)


def people(command: Command) -> Command:
    """Say whether people may be named."""
    return click.option(
        "--without-people",
        is_flag=True,
        help="Name nobody: no operator, nor who corrected or accepted something.",
    )(command)


def of_database(command: Command) -> Command:
    """Ask an as-built database for what changed alone, or for an owner's own tables."""
    add_mapping = click.option(
        "--mapping",
        "mapping",
        metavar="FILE",
        type=click.Path(exists=True, dir_okay=False, path_type=Path),
        help="Of an as-built database: fill tables that an owner has already, in the database "
        "after -o, as this TOML file says; see `sweepbook formats --guide`.",
    )
    add_since = click.option(
        "--since",
        "since",
        metavar="WHEN",
        help="Of an as-built database: write a new one with the links alone that changed since a "
        "day (2026-03-01), a time (2026-03-01T12:00:00+01:00) or an earlier export (its file or "
        "URL), and why.",
    )
    return add_since(add_mapping(command))


def as_json(command: Command) -> Command:
    """Ask for a document that a machine reads, alone on stdout."""
    return click.option("--json", "as_json", is_flag=True, help="Print a JSON document instead.")(
        command
    )
