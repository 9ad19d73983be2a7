"""What records are judged by: what is installed, what plugins and books bring, what was named."""

from dataclasses import replace
from importlib.resources.abc import Traversable
from pathlib import Path
from typing import TYPE_CHECKING

import click

from sweepbook.cli.asked import Asked, switch
from sweepbook.errors import SweepbookError
from sweepbook.registry import Registry
from sweepbook.text import printable

if TYPE_CHECKING:
    from sweepbook.audit.context import Context


def context_of(asked: Asked, paths: tuple[Path, ...], registry: Registry) -> "Context":
    """What records are judged by, as asked for.

    Args:
        asked: by the command line.
        paths: what is read; the limit tables of books among it are at hand too.
        registry: the plugins; limit tables of theirs that cannot be used are noted there and told.

    Raises:
        SweepbookError: a limit table, a reading or a limit that was named cannot be used.
    """
    from sweepbook.cli.decided import decided

    context = _installed(registry, _tables(asked, paths))
    settings = context.settings
    for text in asked.interpretations:
        name, on = switch(text)
        fixed = settings.interpretations.fix(name, on)
        settings = replace(settings, interpretations=fixed)
    path = None if asked.against is None else context.library.resolve(asked.against).path
    return decided(replace(context, settings=settings, against=path), asked, paths)


def _installed(registry: Registry, own: tuple[Path, ...]) -> "Context":
    """What the program and the plugins bring; limit tables that cannot be used are left out."""
    from sweepbook.audit.context import installed

    folders: list[Traversable] = []
    for folder in registry.data:
        try:
            installed([*folders, folder])
            folders.append(folder)
        except SweepbookError as error:
            _leave_out(registry, f"limit tables in {folder.name}", error)
    return installed(folders, registry.rules, own)


def _leave_out(registry: Registry, what: str, error: SweepbookError) -> None:
    """Note and tell that something of a plugin is not in use."""
    registry.failures[what] = str(error)
    click.echo(f"Warning: the {printable(what)} are not in use: {printable(str(error))}", err=True)


def _tables(asked: Asked, paths: tuple[Path, ...]) -> tuple[Path, ...]:
    """The files of limit tables: those named, and those in `limits/` of the books."""
    from sweepbook.book.layout import limit_files
    from sweepbook.inputs import is_book

    kept = (file for path in paths if is_book(path) for file in limit_files(path))
    named = {file.resolve() for file in asked.limits}
    return (*asked.limits, *(file for file in kept if file.resolve() not in named))
