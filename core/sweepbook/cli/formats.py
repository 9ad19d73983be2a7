"""`sweepbook formats`: what can be read and written."""

import json

import click

from sweepbook.cli import options, table
from sweepbook.errors import SweepbookError
from sweepbook.formats import Format


@click.command("formats", short_help="List the formats and dialects that can be read and written.")
@click.option("--guide", is_flag=True, help="Print the guide for writing a dialect or a plugin.")
@options.as_json
def command(guide: bool, as_json: bool) -> int:
    """List the formats and dialects that can be read and written.

    For an export that nothing knows, `--guide` prints how to describe its layout, with examples.
    """
    from sweepbook.cli.desk import Desk

    if guide:
        click.echo(_guide(), nl=False)
        return 0
    desk = Desk()
    formats = [desk.registry.formats[name] for name in sorted(desk.registry.formats)]
    dialects = [desk.installed_dialects[name] for name in sorted(desk.installed_dialects)]
    if as_json:
        document = {
            "formats": [
                {
                    "name": entry.name,
                    "title": entry.title,
                    "reads": entry.read is not None,
                    "reads_tables": entry.read_table is not None,
                    "writes": entry.write is not None,
                    "suffixes": list(entry.suffixes),
                }
                for entry in formats
            ],
            "dialects": [
                {"name": d.name, "format": d.format, "title": d.title, "sha256": d.sha256}
                for d in dialects
            ],
        }
        click.echo(json.dumps(document, ensure_ascii=False, indent=2))
        return 0
    rows = [(f.name, _reads(f), _yes(f.write), " ".join(f.suffixes), f.title) for f in formats]
    table.print_rows(("format", "reads", "writes", "endings", "what it is"), rows)
    if dialects:
        click.echo()
        table.print_rows(
            ("dialect", "for", "what it is"), [(d.name, d.format, d.title) for d in dialects]
        )
    return 0


def _guide() -> str:
    """The guide: in the package once that is installed, above it in a working copy.

    Raises:
        SweepbookError: it was left out when the program was packed.
    """
    from importlib.resources import files

    plugins = files("sweepbook_plugins")
    for place in (plugins.joinpath("README.md"), plugins.joinpath("..", "README.md")):
        if place.is_file():
            return place.read_text(encoding="utf-8")
    raise SweepbookError(
        "The guide is not in this installation.", "It is plugins/README.md of the source."
    )


def _reads(entry: Format) -> str:
    return "tables" if entry.read_table is not None and entry.read is None else _yes(entry.read)


def _yes(value: object) -> str:
    return "yes" if value is not None else "no"
