"""Drafts a dialect for files and reads them by it; what a person has to say is said."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from sweepbook.dialect.load import parse
from sweepbook.draft.document import compose
from sweepbook.errors import ReadProblem, SweepbookError
from sweepbook.formats import ReadSetting
from sweepbook.limits.library import Library
from sweepbook.registry import load
from sweepbook.source import Source


@dataclass
class Outcome:
    """What became of a draft.

    Attributes:
        text: the dialect as it was drafted.
        told: what a person had to say, where the draft asked for it: a line each.
        documents: the records that were read by it.
        problems: what the reader said.
    """

    text: str
    told: list[str]
    documents: list[Mapping[str, Any]]
    problems: list[str]


def outcome(paths: Sequence[Path], format_name: str, limits: Library, zone: str) -> Outcome:
    """Draft, answer what the draft asks of a person, and read.

    Args:
        paths: files of one export.
        format_name: xml or csv.
        limits: the limit tables.
        zone: the offset of all times, as a dialect writes it.
    """
    entry = load().formats[format_name]
    assert entry.draft is not None
    sources = [Source(path) for path in paths]
    tables = entry.draft(sources, limits)
    if tables is None:
        return Outcome("", [], [], ["no draft"])
    text = compose(format_name, [source.name for source in sources], tables)
    settled, told = _answered(text, zone)
    documents: list[Mapping[str, Any]] = []
    problems: list[str] = []
    try:
        dialect = parse(settled.encode(), "draft.toml")
        assert entry.check_dialect is not None
        entry.check_dialect(dialect)
    except SweepbookError as error:
        return Outcome(text, told, [], [f"dialect: {error}"])
    assert entry.read is not None
    for source in sources:
        for item in entry.read(Source(source.path), ReadSetting(limits, {}, dialect)):
            if isinstance(item, ReadProblem):
                problems.append(f"{item.place}: {item.message}")
            else:
                documents.append(item.document)
    return Outcome(text, told, documents, problems)


def _answered(text: str, zone: str) -> tuple[str, list[str]]:
    """The draft with the answers of a person who knows that the disturbing pair comes first."""
    told = []
    if 'first = "TO-BE-SETTLED"' in text:
        text = text.replace('first = "TO-BE-SETTLED"', 'first = "disturbing"')
        told.append("crosstalk.first")
    if "# zone =" in text:
        text = re.sub(r'# zone = ".*"', f'zone = "{zone}"', text)
        told.append("dates.zone")
    return text, told
