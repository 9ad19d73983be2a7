"""Tests of sources that count no more: a database that had them before lets them go."""

from collections.abc import Collection, Iterator
from datetime import datetime
from typing import TYPE_CHECKING

from sweepbook import clock

if TYPE_CHECKING:
    import sqlalchemy as sa

    from sweepbook.delivery import Delivery, Recount
    from sweepbook_plugins.asbuilt.schema import Schema
    from sweepbook_plugins.asbuilt.since import Since

_OF_SOURCE = """
    SELECT test.id, test.link_id FROM test
    JOIN test_source ON test_source.test_id = test.id
    JOIN source ON source.id = test_source.source_id
    WHERE test.job_id = :job AND source.sha256 = :sha256
"""
_TEST = "test"


def since_then(delivery: "Delivery", since: "Since | None") -> list[str]:
    """What was withdrawn or taken back in from a moment on, and that the moment is still to come.

    An earlier export tells the links of that by what it has of them.
    """
    said = []
    if isinstance(since, datetime) and since > (now := clock.moment()):
        said.append(
            f"--since {since.isoformat()} is still to come: by the clock here it is "
            f"{now:%Y-%m-%dT%H:%M:%S}+00:00. Name a day or time that is past."
        )
    told = "; ".join(one.told for one in recounts(delivery, since))
    return [*said, f"In that is what was {told}."] if told else said


def recounts(delivery: "Delivery", since: "Since | None") -> "Iterator[Recount]":
    """The withdrawals and returns from a moment on; none since an earlier export."""
    if isinstance(since, datetime):
        yield from (one for one in delivery.recounts if _time(one.when) >= since)


def _time(text: str) -> datetime:
    return datetime.fromisoformat(text)


def let_go(
    connection: "sa.Connection",
    schema: "Schema",
    job_id: int,
    withdrawn: Collection[str],
    seen: Collection[int],
) -> set[int]:
    """Take out the tests that were read from sources which are withdrawn now.

    A test that came in another file too is in the delivery, and stays. The rows of the sources
    stay as well.

    Args:
        connection: within the transaction that wrote the tests.
        schema: the tables, the referring ones after those to which they refer.
        job_id: of the delivery.
        withdrawn: digests of the sources.
        seen: numbers of the delivery's tests.

    Returns:
        The links that they were of.
    """
    import sqlalchemy as sa

    question = sa.text(_OF_SOURCE)
    link_of = {
        number: link_id
        for sha256 in sorted(withdrawn)
        for number, link_id in connection.execute(question, {"job": job_id, "sha256": sha256})
        if number not in seen
    }
    numbers = [{"number": number} for number in sorted(link_of)]
    for statement in _statements(schema) if numbers else ():
        connection.execute(sa.text(statement), numbers)
    return set(link_of.values())


def _statements(schema: "Schema") -> Iterator[str]:
    """What takes one test out: what refers to it first, then itself."""
    for name, table in reversed([*schema.tables.items()]):
        for column in table.columns:
            if column.refers != f"{_TEST}.id":
                continue
            here = f"{column.column} = :number"
            if column.column in table.key:
                yield f"DELETE FROM {name} WHERE {here}"
            else:
                yield f"UPDATE {name} SET {column.column} = NULL WHERE {here}"
    yield f"DELETE FROM {_TEST} WHERE id = :number"
