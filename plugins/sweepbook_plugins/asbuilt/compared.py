"""Which links of a job differ between two databases, table by table."""

import hashlib
import marshal
from collections import defaultdict
from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    import sqlalchemy as sa

    from sweepbook_plugins.asbuilt.schema import Schema

Thing = tuple[int | None, str | None]
"""A link by its number and None, or a place of the schedule that was never tested by its label."""

_OF_TEST = "JOIN test ON test.id = {table}.test_id JOIN link ON link.id = test.link_id"
_OF_LINK = "JOIN link ON link.id = {table}.link_id"
_OF_SET = (
    "JOIN set_finding_test ON set_finding_test.job_id = {table}.job_id "
    "AND set_finding_test.position = {table}.position "
    "JOIN test ON test.id = set_finding_test.test_id JOIN link ON link.id = test.link_id"
)
_OF_SCHEDULE = "LEFT JOIN link ON link.id = {table}.link_id"
_TABLES: Mapping[str, tuple[str, tuple[str, ...]]] = {
    "link": ("", ()),
    "test": (_OF_LINK, ("basis_id", "gathered", "limit_table_id")),
    "test_end": (_OF_TEST, ()),
    "test_source": (_OF_TEST, ()),
    "external_id": (_OF_TEST, ()),
    "figure": (_OF_TEST, ()),
    "result": (_OF_TEST, ()),
    "finding": (_OF_TEST, ()),
    "correction": (_OF_TEST, ()),
    "spelling": (_OF_TEST, ()),
    "rule_not_run": (_OF_TEST, ()),
    "end_said": (_OF_LINK, ()),
    "set_finding": (_OF_SET, ("position",)),
    "scheduled": (_OF_SCHEDULE, ("position", "schedule_line", "schedule_name", "schedule_sha256")),
}
"""By table, how its rows lead to links, and the columns that say nothing about a link.

Some of them are views now and were tables of the same columns in an earlier revision."""
_LABEL = {"scheduled": "CASE WHEN {table}.link_id IS NULL THEN {table}.label END"}
_NEEDS = {"set_finding": "set_finding_test"}
"""What leads from a table to links, where an earlier database may lack it."""
_CHUNK = 10_000
_PLAIN = 2
"""Version of `marshal` whose bytes follow from the values alone, not from who else holds them."""


def differences(
    before: "sa.Connection", after: "sa.Connection", schema: "Schema", job_id: int
) -> dict[Thing, list[str]]:
    """The tables in which each thing differs, by what both databases have columns for.

    Memory holds 16 bytes of digest a link and table, and one table at a time.

    Args:
        before: an earlier database, which may be of an earlier revision.
        after: a later one, of the newest revision.
        schema: the newest.
        job_id: the job that is compared.
    """
    import sqlalchemy as sa

    found: defaultdict[Thing, list[str]] = defaultdict(list)
    known = sa.inspect(before)
    there = {*known.get_table_names(), *known.get_view_names()}
    for table in (name for name in _TABLES if {name, _NEEDS.get(name, name)} <= there):
        names = _columns(before, schema, table)
        one, other = (_digests(connection, table, names, job_id) for connection in (before, after))
        for thing in one.keys() | other.keys():
            if one.get(thing) != other.get(thing):
                found[thing].append(table)
    return dict(found)


def _columns(before: "sa.Connection", schema: "Schema", table: str) -> list[str]:
    import sqlalchemy as sa

    there = {column["name"] for column in sa.inspect(before).get_columns(table)}
    idle = _TABLES[table][1]
    return [name for name in schema.fields()[table] if name in there and name not in idle]


def _digests(
    connection: "sa.Connection", table: str, names: list[str], job_id: int
) -> dict[Thing, int]:
    """A digest of the rows of each thing; their order does not count."""
    digests: defaultdict[Thing, int] = defaultdict(int)
    for row in map(tuple, _rows(connection, table, names, job_id)):
        digest = hashlib.blake2b(marshal.dumps(row, _PLAIN), digest_size=16).digest()
        digests[row[0], row[1]] += int.from_bytes(digest, "big")
    return digests


def _rows(
    connection: "sa.Connection", table: str, names: list[str], job_id: int
) -> "Iterator[sa.Row[Any]]":
    import sqlalchemy as sa

    cells = ", ".join(f"{table}.{name}" for name in names)
    label = _LABEL.get(table, "NULL").format(table=table)
    owner = table if table in ("link", "scheduled") else "link"
    question = (
        f"SELECT link.id, {label}, {cells} FROM {table} {_TABLES[table][0].format(table=table)} "
        f"WHERE {owner}.job_id = :job"
    )
    streamed = {"yield_per": _CHUNK}
    yield from connection.execute(sa.text(question), {"job": job_id}, execution_options=streamed)
