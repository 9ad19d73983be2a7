"""Curves and figures that a test lacks: what is said of them, and where a dialect may be wrong."""

import re
from collections.abc import Iterable, Mapping
from typing import Any

from sweepbook.dialect.model import Dialect
from sweepbook.dialect.parameters import parameters
from sweepbook.draft.phrases import parameter_in
from sweepbook.judging import phrases
from sweepbook.trial.counts import Row

_QUOTED = re.compile(r"'([^']+)'")


def named_in(messages: Iterable[str]) -> set[str]:
    """The parameters that texts of the export read as which a reader named in messages."""
    texts = (text for message in messages for text in _QUOTED.findall(message))
    return {span.meaning for text in texts if (span := parameter_in(text)) is not None}


def said(row: Row) -> str:
    """What a parameter lacks, in words."""
    what = "curves" if row.swept else "figures"
    text = f"{phrases.name(row.parameter)}: {row.found} of {row.expected} {what} found"
    return text + (f", missing: {row.missing}" if row.found else ", if the export has them at all")


def where(row: Row, dialect: Dialect, document: Mapping[str, Any]) -> str:
    """The keys of a dialect by which what a parameter lacks may be found.

    Words for an end by which other curves are read are not among them.

    Args:
        row: the parameter.
        dialect: as read.
        document: of the record.
    """
    known = {word for words in dialect.meaning.words.parameters.values() for word in words}
    if not known:  # the format names its curves itself
        return f"{dialect.where}, [{dialect.format}]"
    if row.parameter not in known:
        return f"{dialect.where}, words.parameters.{row.parameter}"
    read = {of.get("end") for of in document.get("results", {}).get("sweeps", ())} - {None}
    if "end" in row.missing and len(read) < 2:
        return f"{dialect.where}, words.ends"
    two = parameters()[row.parameter].pairs == (2,)
    keys = [f"words.parameters.{row.parameter}", "words.pairs", *["crosstalk.between"] * two]
    listed = ", ".join(["the templates of names", *keys[:-1]])
    return f"{dialect.where}, {listed} and {keys[-1]}"
