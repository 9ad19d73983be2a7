"""`sweepbook doctor`: what is installed, and whether a book is whole."""

import json
import os
import platform
import sys
from collections.abc import Iterator
from dataclasses import asdict
from importlib import metadata
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from sweepbook import __version__
from sweepbook.cli import options, table
from sweepbook.cli.faults import Exit
from sweepbook.cli.in_part import in_part
from sweepbook.cli.progress import Progress
from sweepbook.errors import SweepbookError

if TYPE_CHECKING:
    from sweepbook.book.proof import Fault

_LIBRARIES = (
    "click",
    "jinja2",
    "jsonschema",
    "jsonschema-rs",
    "lxml",
    "matplotlib",
    "numpy",
    "openpyxl",
    "orjson",
    "pandas",
    "pluggy",
    "psycopg",
    "pysimdjson",
    "rfc8785",
    "sqlalchemy",
    "tzdata",
    "xlsxwriter",
)
_EXTRAS = {"matplotlib": "plot", "openpyxl": "excel", "psycopg": "postgresql"}
"""Libraries that come with an extra, and its name."""


@click.command("doctor", short_help="Tell what is installed, and prove every digest of a book.")
@click.argument("book", required=False, type=options.EXISTING)
@options.as_json
def command(book: Path | None, as_json: bool) -> int:
    """Tell what is installed, and prove every digest of a book.

    Without BOOK: the version, the plugins in use and those that could not be loaded, the limit
    tables, and the libraries; exit code 2 where a plugin could not be loaded.

    With BOOK: the journal line by line, each record against its id and its schema, each source
    file and each dialect against its digest, and whether the limit tables in it can be used; exit
    code 1 where anything is damaged, missing or faulty.
    """
    if book is not None:
        return _prove(book, as_json)
    found = _installed()
    if as_json:
        click.echo(json.dumps(found, ensure_ascii=False, indent=2))
    else:
        _print_installed(found)
    return Exit.CRASHED if found["plugins_failed"] else Exit.CLEAN


def _installed() -> dict[str, Any]:
    """What the program works with here."""
    from sweepbook.cli.desk import Desk

    desk = Desk()
    library, dialects = desk.library, desk.installed_dialects
    return {
        "sweepbook": __version__,
        "python": platform.python_version(),
        "system": f"{platform.system()} {platform.machine()}",
        "output_encoding": sys.stdout.encoding,
        "settings": {
            name: value
            for name, value in sorted(os.environ.items())
            if name.startswith("SWEEPBOOK_")
        },
        "libraries": {name: _version(name) for name in _LIBRARIES},
        "plugins": sorted(desk.registry.loaded),
        "plugins_failed": dict(sorted(desk.registry.failures.items())),
        "formats": sorted(desk.registry.formats),
        "dialects": sorted(dialects),
        "limit_tables": {path: library.table(path).sha256 for path in library.paths()},
        "rules": len(desk.rules),
    }


def _print_installed(found: dict[str, Any]) -> None:
    libraries = ", ".join(f"{name} {version}" for name, version in found["libraries"].items())
    facts = [
        ("sweepbook", found["sweepbook"]),
        ("Python", f"{found['python']} on {found['system']}"),
        ("libraries", libraries),
        ("output", f"characters are written as {found['output_encoding']}"),
        ("formats", ", ".join(found["formats"])),
        ("dialects", ", ".join(found["dialects"]) or "none installed"),
        ("rules", str(found["rules"])),
        ("limit tables", ", ".join(found["limit_tables"])),
    ]
    facts += [("setting", f"{name}={value}") for name, value in found["settings"].items()]
    facts += [("plugin", f"ok    {name}") for name in found["plugins"]]
    facts += [("plugin", f"FAIL  {name}: {why}") for name, why in found["plugins_failed"].items()]
    for line in table.facts(facts, table.terminal_columns()):
        click.echo(line)


def _version(name: str) -> str:
    try:
        return metadata.version(name)
    except metadata.PackageNotFoundError:
        return f"not installed (extra {_EXTRAS[name]})" if name in _EXTRAS else "missing"


def _limit_faults(folder: Path) -> "Iterator[Fault]":
    """The limit tables in a book that cannot be used; some may be based on others."""
    from sweepbook.book.layout import limit_files
    from sweepbook.book.proof import Fault
    from sweepbook.cli.desk import Desk

    waiting = limit_files(folder)
    library = Desk().library if waiting else None
    while library and waiting:
        faulty: dict[Path, SweepbookError] = {}
        for file in waiting:
            try:
                library, _ = library.adding(file)
            except SweepbookError as error:
                faulty[file] = error
        if len(faulty) == len(waiting):
            for file, why in faulty.items():
                yield Fault(f"limits/{file.name}", str(why))
            return
        waiting = list(faulty)


def _told(fault: "Fault") -> tuple[str, str]:
    """How grave a fault is, and what is wrong where."""
    return "damaged" if fault.damage else "to know", f"{fault.place}: {fault.message}"


def _prove(folder: Path, as_json: bool) -> int:
    """Prove a book and tell what is wrong with it."""
    from sweepbook.book.proof import Proof
    from sweepbook.book.prove import prove

    proof = Proof()
    with Progress("files proved") as progress:
        faults = [*prove(folder, proof, progress.step), *_limit_faults(folder)]
    damaged = sum(fault.count for fault in faults if fault.damage)
    if as_json:
        document = {**asdict(proof), "faults": [asdict(fault) for fault in faults]}
        click.echo(json.dumps(document, ensure_ascii=False, indent=2))
        return Exit.FINDINGS if damaged else Exit.CLEAN
    columns = table.terminal_columns()
    for text in in_part(map(_told, faults)):
        for line in table.paragraph(text, columns):
            click.echo(line)
    said = (
        f"Proved: {proof.lines} lines of the journal, {proof.records} records, "
        f"{proof.sources} sources, {proof.dialects} dialects. "
        + (f"Damaged or missing: {damaged}." if damaged else "Nothing is damaged or missing.")
    )
    for line in table.paragraph(said, columns):
        click.echo(line)
    if proof.head:
        head = (
            f"Digest of the journal: {proof.head}. Note it in another place: by it, all that the "
            "journal tells so far can be proved later."
        )
        for line in table.paragraph(head, columns):
            click.echo(line)
    return Exit.FINDINGS if damaged else Exit.CLEAN
