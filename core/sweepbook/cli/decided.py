"""What the job and the command line decided about figures and rules, put into what judges."""

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

from sweepbook.audit.context import Context
from sweepbook.book.layout import open_book
from sweepbook.book.withdraw import in_words
from sweepbook.cli.asked import Asked
from sweepbook.errors import SweepbookError
from sweepbook.inputs import is_book
from sweepbook.limits.library import Library
from sweepbook.project.load import load
from sweepbook.project.model import Project
from sweepbook.rules.select import selected
from sweepbook.text import utf8_safe

PROJECT = "project.toml"
"""Name of the project file in a book."""


def decided(context: Context, asked: Asked, paths: Sequence[Path]) -> Context:
    """Judge and ask as the job decided, and as was asked for.

    Args:
        context: what is installed.
        asked: the options.
        paths: what is read; a book among them may have a project file.

    Raises:
        SweepbookError: a project file cannot be used, books do not agree on one, a figure or a
            word for a rule is not known.
    """
    project = project_of(asked.project, paths)
    left_out = (*(project.left_out if project else ()), *asked.without_rules)
    practice = context.practice.with_values(project.practice if project else {})
    return replace(
        context,
        library=_library(context.library, project),
        practice=practice,
        settings=replace(context.settings, accuracy=asked.accuracy),
        catalogue=selected(context.catalogue, asked.rules, left_out),
        project=project,
        options={
            **context.options,
            **_withdrawn(paths),
            "accuracy": asked.accuracy or "as declared by each test",
            "figures": project.figures if project else "",
            "rules": ", ".join(asked.rules) or "all",
            "rules_left_out": ", ".join(left_out),
        },
    )


def _withdrawn(paths: Sequence[Path]) -> dict[str, str]:
    """What of the books that are read is withdrawn; empty where nothing is."""
    told = [in_words(open_book(path)) for path in paths if is_book(path)]
    return {"withdrawn": "; ".join(filter(None, told))} if any(told) else {}


def _library(library: Library, project: Project | None) -> Library:
    """The library with what the job means by spellings of limits.

    Raises:
        SweepbookError: it means a limit that is not known.
    """
    if project is None or not project.spellings.limits:
        return library
    try:
        return library.calling(project.spellings.limits, project.name)
    except SweepbookError as error:
        raise SweepbookError(f"{project.name}, [limits]: {error.message}", error.todo) from error


def project_of(named: Path | None, paths: Sequence[Path]) -> Project | None:
    """The project file named, else that of the books that are read; None where there is none."""
    if named is not None:
        return load(named)
    places = [path / PROJECT if is_book(path) else None for path in paths]
    kept = [place for place in places if place and place.is_file()]
    found = {project.sha256: project for project in map(load, kept)}
    if len(found) > 1 or (found and len(kept) < len(paths)):
        listed = " and ".join(utf8_safe(str(path)) for path in kept)
        raise SweepbookError(
            f"Not everything that is read goes by one project file: {listed}.",
            "Name the one to go by with --project, or read the books one by one.",
        )
    return next(iter(found.values()), None)
