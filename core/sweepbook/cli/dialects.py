"""The dialects of a command: those that were named, else those that plugins bring."""

import shlex
from collections.abc import Mapping, Sequence
from contextlib import suppress
from itertools import islice
from pathlib import Path
from typing import TYPE_CHECKING

import click

from sweepbook.cli.asked import dialect_file
from sweepbook.errors import SweepbookError
from sweepbook.registry import Registry
from sweepbook.text import printable, utf8_safe

if TYPE_CHECKING:
    from sweepbook.dialect.model import Dialect
    from sweepbook.limits.library import Library

MOST_BESIDE = 40
"""Files of a folder with dialects that are looked at."""


def named(
    names: Sequence[str],
    installed: "Mapping[str, Dialect]",
    registry: Registry,
    library: "Library",
) -> "dict[str, Dialect]":
    """The dialects that a command line names, by their own names.

    Args:
        names: files of dialects, or names of installed ones.
        installed: by name.
        registry: formats that hold their half of a dialect against its schema.
        library: where the names of limits lead.

    Raises:
        SweepbookError: one cannot be read or used, or two call themselves the same.
    """
    from sweepbook.dialect.load import load
    from sweepbook.dialect.mismatch import hold_limits

    chosen: dict[str, Dialect] = {}
    for name in names:
        dialect = installed.get(name)
        if dialect is None:
            dialect = load(dialect_file(name), registry.formats)
        hold_limits(dialect, library)
        if chosen.setdefault(dialect.name, dialect).sha256 != dialect.sha256:
            raise SweepbookError(
                f"Two dialects call themselves {dialect.name!r}.", "Rename one of them."
            )
    return chosen


def installed(registry: Registry) -> "dict[str, Dialect]":
    """The dialects that plugins bring, by name; a bad one is named on stderr."""
    known: dict[str, Dialect] = {}
    for folder in registry.data:
        if not folder.joinpath("dialects").is_dir():
            continue
        from sweepbook.dialect.load import load_folder  # costly, and mostly there are none

        loaded = load_folder(folder.joinpath("dialects"), registry.formats)
        known = {**loaded.dialects, **known}
        for error in loaded.failures.values():
            click.echo(f"Warning: {printable(str(error))}", err=True)
    return known


def beside(names: Sequence[str], registry: Registry) -> "dict[str, Dialect]":
    """The dialects that lie in the folders of those named, by their paths; bad ones left out."""
    from sweepbook.dialect.load import load

    found: dict[str, Dialect] = {}
    for folder in dict.fromkeys(Path(name).parent for name in names if Path(name).is_file()):
        for path in islice(sorted(folder.glob("*.toml")), MOST_BESIDE):
            with suppress(SweepbookError, OSError):
                found[utf8_safe(shlex.quote(str(path)))] = load(path, registry.formats)
    return found


def hold_format(name: str, dialects: "Mapping[str, Dialect]") -> None:
    """Hold the dialects that were named against the format that was.

    Raises:
        SweepbookError: none is for that format.
    """
    if dialects and all(dialect.format != name for dialect in dialects.values()):
        (dialect, *_) = dialects.values()
        raise SweepbookError(
            f"--from {name} does not go with the dialect {dialect.name}, which is for "
            f"{dialect.format}.",
            "Leave --from out, or name another dialect.",
        )
