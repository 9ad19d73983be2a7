"""Links that turn out to be one once all tests are in, such as where one names its site only.

Tests go in by what each of them says of its link; which of these keys are of one link is known only
when all are there, and the same for every command: see `sweepbook.record.links`.
"""

import json
from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING

from sweepbook.record.links import Key, Links, own_site

if TYPE_CHECKING:
    import sqlalchemy as sa

_LINKS = """
    SELECT natural_key, id FROM link
    WHERE job_id = :job AND EXISTS (SELECT 1 FROM test WHERE test.link_id = link.id)
"""
_MOVED = (
    "UPDATE test SET link_id = :link, is_current = 0 WHERE link_id = :former",
    "UPDATE cable SET link_id = :link WHERE link_id = :former",
    "UPDATE external_id SET link_id = :link WHERE link_id = :former",
)


def bring_together(connection: "sa.Connection", job_id: int, site: str) -> Mapping[int, int]:
    """Give the tests of links that are one to one of them.

    Args:
        connection: within the transaction that wrote the tests, before they are settled.
        job_id: of the delivery.
        site: of the job, as its project file has it.

    Returns:
        The link that there is now, by each that it is no longer.
    """
    import sqlalchemy as sa

    moved = dict(_moved(connection, job_id, site))
    numbers = [{"link": link, "former": former} for former, link in sorted(moved.items())]
    for statement in _MOVED if numbers else ():
        connection.execute(sa.text(statement), numbers)
    return moved


def _moved(connection: "sa.Connection", job_id: int, site: str) -> Iterator[tuple[int, int]]:
    seen: set[str] = set()
    several: set[str] = set()
    own = ""
    for key, _ in _keys(connection, job_id):
        (several if key[-1] in seen else seen).add(key[-1])
        own = own or own_site([key], site)
    keys = {key: number for key, number in _keys(connection, job_id) if key[-1] in several}
    links = Links(keys, own)
    for key, number in keys.items():
        link = keys[links.of(key)]
        if link != number:
            yield number, link


def _keys(connection: "sa.Connection", job_id: int) -> Iterator[tuple[Key, int]]:
    """The keys of the job's links and their numbers, as they are asked for, since they are many."""
    import sqlalchemy as sa

    for natural_key, number in connection.execute(sa.text(_LINKS), {"job": job_id}):
        yield tuple(json.loads(natural_key)[1:]), number
