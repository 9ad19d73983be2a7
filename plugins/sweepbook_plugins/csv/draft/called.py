"""Files with curves whose names hold the texts of a column of another table, a test a file."""

from collections.abc import Collection, Mapping, Sequence
from typing import NamedTuple

from sweepbook.draft.joins import SHARED
from sweepbook.draft.legend import Legend
from sweepbook.draft.names_of_files import by_form, offers, with_folder
from sweepbook.draft.naming import settle
from sweepbook.source import Source
from sweepbook_plugins.csv.draft import tests
from sweepbook_plugins.csv.draft.curves import are_curves
from sweepbook_plugins.csv.draft.figures import states_worst
from sweepbook_plugins.csv.draft.join import Part
from sweepbook_plugins.csv.draft.layouts import rows_of
from sweepbook_plugins.csv.draft.rows import RowsTable
from sweepbook_plugins.csv.draft.sections import Looked
from sweepbook_plugins.csv.draft.shape import Seen
from sweepbook_plugins.csv.draft.text import Text

_MOST_ROWS = 2_000
"""So many show whether they are points of curves."""


class Called(NamedTuple):
    """Such files.

    Attributes:
        form: of their names, with {} for the text.
        told: the text of each, by the position of its file.
        at: position of the file with the table.
        column: of the table.
        heads: whether each row of the table is a test.
    """

    form: str
    told: dict[int, str]
    at: int
    column: str
    heads: bool


def find(
    sources: Sequence[Source], curves: Collection[int], parts: Mapping[int, Part]
) -> Called | None:
    """The files that are called so; None where most of those with curves are not.

    A table with a row a test goes ahead of others, then what most files have, then what most tables
    hold, then names that hold least besides.

    Args:
        sources: all files.
        curves: positions of those with curves.
        parts: the tables of those that hold one and no curves, by position.
    """
    names = {at: list(offers(sources[at])) for at in curves}
    found: list[Called] = []
    for at, part in parts.items():
        heads = not part.wide and tests.are_tests(part.titles, part.rows)
        for title, texts in part.texts.items():
            told_apart = len(texts) == sum(map(bool, part.column(title)))  # one may have no file
            if (heads and not told_apart) or not (heads or tell_tests(texts)):
                continue
            for form, told in by_form({*texts}, names).items():
                whole = form.rpartition("/")[2].startswith(f"{SHARED}.")
                some = len(told) * 2 > len(curves) and (len(told) > 1 or whole)
                if some and (heads or len({*told.values()}) * 2 > len(texts)):
                    found.append(Called(form, told, at, title, heads))
    best = max(
        found,
        key=lambda of: (of.heads, len(of.told), _held(of, parts.values()), -len(of.form)),
        default=None,
    )
    if best is None:
        return None
    files = [sources[at] for at in best.told]
    return best._replace(form=with_folder(best.form, files, sources[best.at]))


def _held(called: Called, parts: Collection[Part]) -> int:
    """In how many tables a column holds what the names of files tell."""
    told = {*called.told.values()}
    columns = (part.texts.values() for part in parts)
    return sum(any(not told.isdisjoint(texts) for texts in some) for some in columns)


def hold_curves(looked: Looked) -> bool:
    """Whether a file holds a table of curves."""
    text, shape = looked
    return any(_are_curves(text, seen, shape.legend) for seen in shape.tables)


def _are_curves(text: Text, seen: Seen, legend: Legend) -> bool:
    rows = rows_of(text, seen)[:_MOST_ROWS]
    if seen.wide or are_curves(seen.titles, rows, legend):
        return True
    if states_worst(seen.titles, rows):
        return False
    table = RowsTable(seen.titles, rows, legend=legend)
    points = None not in (table.roles.frequency, table.roles.value)
    return points and table.can_name() and table.may_hold_curves()


def tell_tests(texts: Sequence[str]) -> bool:
    """Whether the texts of a column may be those of tests, and are no pairs, ends or parameters."""
    naming = settle(texts)
    parsed = list(map(naming.parse, texts))
    return not any(part.pairs or part.end or part.parameter for part in parsed)
