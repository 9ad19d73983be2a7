"""`sweepbook formats`: what can be read and written."""

import json

import click

from sweepbook.cli import options, table
from sweepbook.formats import Format


@click.command("formats", short_help="List the formats and dialects that can be read and written.")
@options.as_json
def command(as_json: bool) -> int:
    """List the formats and dialects that can be read and written."""
    from sweepbook.cli.desk import Desk

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


def _reads(entry: Format) -> str:
    return "tables" if entry.read_table is not None and entry.read is None else _yes(entry.read)


def _yes(value: object) -> str:
    return "yes" if value is not None else "no"
