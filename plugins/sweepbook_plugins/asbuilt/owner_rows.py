"""The rows that an owner's table gets, each value as its column takes it."""

from collections.abc import Collection, Iterator, Sequence
from typing import TYPE_CHECKING, Any

from sweepbook.errors import SweepbookError
from sweepbook_plugins.asbuilt.fitting import Misfit, Value

if TYPE_CHECKING:
    from sweepbook_plugins.asbuilt.aside import Aside
    from sweepbook_plugins.asbuilt.changes import Change
    from sweepbook_plugins.asbuilt.mapping import Into
    from sweepbook_plugins.asbuilt.owner_tables import Bound
    from sweepbook_plugins.asbuilt.schema import Schema

CHUNK = 1_000
MOST_NAMED = 5
_NAMES = ("label", "record_id", "id")


def link_column(into: "Into", schema: "Schema") -> str | None:
    """The field of a mapping's rows that tells their link; None where none does."""
    if into.source == "link":
        return "id"
    return "link_id" if "link_id" in schema.fields()[into.source] else None


def rows_of(whole: "Aside", bound: "Bound", schema: "Schema") -> Iterator[dict[str, Value]]:
    """The rows as the owner's columns take them.

    Raises:
        SweepbookError: a value does not fit its column.
    """
    import sqlalchemy as sa

    into, link = bound.into, link_column(bound.into, schema)
    fields = list(dict.fromkeys((*into.columns.values(), *([link] if link else []))))
    shown = [name for name in _NAMES if name in schema.fields()[into.source]]
    asked = ", ".join(dict.fromkeys((*fields, *shown)))
    question = sa.text(f"SELECT {asked} FROM {into.source}")
    changed = None if whole.changes is None else set(_numbers(whole.changes))
    for row in whole.connection.execute(question, execution_options={"yield_per": CHUNK}):
        cells = row._mapping
        if changed is None or (link is not None and cells[link] in changed):
            yield dict(_fitted(bound, cells, shown))


def _numbers(changes: "Sequence[Change]") -> "Iterator[int | None]":
    """Of the links that changed; None, as the row of a place has it that no test is of."""
    for one in changes:
        yield one.link_id
        if one.untested:
            yield None


def _fitted(bound: "Bound", cells: Any, shown: Sequence[str]) -> Iterator[tuple[str, Value]]:  # noqa: ANN401
    for column, name in bound.into.columns.items():
        try:
            yield column, bound.fits[column](cells[name])
        except Misfit as why:
            which = next((cells[one] for one in shown if cells[one] is not None), "a row")
            raise SweepbookError(
                f"{bound.into.into}.{column} does not take the {name} of {which}: {why}.",
                "Change the mapping, or the column, which is yours; nothing was kept.",
            ) from why


def refuse_doubles(
    into: "Into", rows: Collection[dict[str, Value]], seen: set[tuple[Value, ...]]
) -> None:
    """Refuse two rows of one key, of which the second would silently take the first one's place.

    Raises:
        SweepbookError: there are.
    """
    double = []
    for row in rows:
        key = tuple(row[name] for name in into.key)
        if key in seen:
            double.append(", ".join(map(str, key)))
        seen.add(key)
    if double:
        raise SweepbookError(
            f"{into.into} would get several rows of one key ({', '.join(into.key)}): "
            f"{'; '.join(double[:MOST_NAMED])}.",
            "Add a column to the key that tells them apart, such as a building; nothing was kept.",
        )
