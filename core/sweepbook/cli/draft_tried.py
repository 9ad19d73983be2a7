"""A draft on the examples that it was made from: what it does not read of them."""

from collections.abc import Iterator, Sequence
from itertools import islice
from typing import TYPE_CHECKING

from sweepbook.cli.stand_ins import labelled, settled
from sweepbook.errors import ReadProblem

if TYPE_CHECKING:
    from sweepbook.cli.desk import Desk
    from sweepbook.source import Source

MOST_TESTS = 20
"""Tests of each file, and what else is read or not, that are looked at."""
_LONGEST = 240
"""Characters of what is told of the first that is not read."""


def tried(desk: "Desk", draft: str, sources: "Sequence[Source]") -> str:
    """Say what a draft does not read of its own examples, with stand-ins for what waits.

    Args:
        desk: takes the draft in place of its dialects.
        draft: its text.
        sources: the examples.

    Returns:
        one sentence or two; "" where all is read.
    """
    from sweepbook.dialect.load import BadDialect
    from sweepbook.draft.document import UNSETTLED

    try:
        dialect = labelled(settled(desk, draft.encode("utf-8"), "of this draft"))
    except BadDialect as error:
        waits = UNSETTLED in error.message  # which its head says by itself
        return "" if waits else f"It is NOT USABLE as it stands: {error.message}"
    desk.read_by(dialect)
    read, lost = 0, list[ReadProblem]()
    for item in _items(desk, sources):
        if not isinstance(item, ReadProblem):
            read += 1
        elif item.lost_record:
            lost.append(item)
    if not lost:
        return ""
    first = lost[0]
    where = f"{first.source}, {first.place}" if first.place else first.source
    said = f"{where}: {first.message}"
    short = said if len(said) <= _LONGEST else f"{said[: _LONGEST - 3]}..."
    tests = f"{read} test{'' if read == 1 else 's'}"
    return (
        f"Of its examples it reads {tests} as it stands, and NOT READ are {len(lost)} files or "
        f"tests, which `sweepbook dialect try` tells of; the first: {short}"
    )


def _items(desk: "Desk", sources: "Sequence[Source]") -> Iterator[object]:
    for source in sources:
        yield from islice(desk.pipeline.read_source(source, sources), MOST_TESTS)
