"""Columns that are called as a key line is, whose field they would fill too."""

from collections.abc import Iterable, Sequence

from sweepbook.draft import fields
from sweepbook.draft.document import FOUND, Note, Table, one_of
from sweepbook.draft.evidence import Evidence

_WHY = "a key is called so too and fills a field, which these columns are not to fill"


def keep_apart(
    top: Table, titles: Sequence[str], naming: Iterable[str], evidence: Evidence
) -> None:
    """Say of which columns the texts go to `extra`, where there are such.

    Args:
        top: the table of the dialect for the rows.
        titles: of the columns.
        naming: those that name a row or tell tests apart.
        evidence: with the keys of all lines.
    """
    known = [title for title in titles if title in evidence.lines and title not in set(naming)]
    if not known:
        return
    filled = {key for one in fields.guess(evidence.properties, None) for key in one.keys}
    if others := [title for title in known if title in filled]:
        top.add("other_columns", one_of(others), Note(FOUND, _WHY))
