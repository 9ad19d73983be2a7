"""Columns that are called as a key of the same test is, which they would fill too."""

from collections.abc import Collection, Sequence
from dataclasses import replace

from sweepbook.draft import fields
from sweepbook.draft.evidence import Evidence
from sweepbook_plugins.csv.draft.shape import Seen
from sweepbook_plugins.csv.draft.text import Text, split


def taken(evidence: Evidence) -> frozenset[str]:
    """Keys that fill a member of a record."""
    return frozenset(key for one in fields.guess(evidence.properties, None) for key in one.keys)


def apart(seen: Seen, text: Text, keys: Collection[str]) -> Seen:
    """A table whose columns have names that are no keys; the same one where none is.

    It is known by its line of titles then, as by a heading, and the dialect names its columns.

    Args:
        seen: the table.
        text: the file that it is in.
        keys: that fill a member of a record.
    """
    at = seen.start - 1
    known = set(keys).intersection(seen.titles)
    if not known or seen.given or seen.units or at < 0 or text.turned:
        return seen
    line = text.lines[at].strip()
    if tuple(split(line, text.delimiter)) != tuple(seen.titles):
        return seen
    titles = tuple(_other(title, seen.titles) if title in known else title for title in seen.titles)
    return replace(seen, titles=titles, heading=line, outer=seen.heading, given=True)


def _other(title: str, titles: Sequence[str]) -> str:
    """A name for a column that is neither a key nor another column."""
    name = f"{title} (column)"
    while name in titles:
        name += "*"
    return name
