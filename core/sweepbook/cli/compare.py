"""`sweepbook compare`: the tests of one link held against each other."""

import json
from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator
from functools import cache, partial
from pathlib import Path
from typing import TYPE_CHECKING

import click

from sweepbook.cli import options, table
from sweepbook.cli.asked import Asked
from sweepbook.cli.faults import Exit
from sweepbook.cli.meant import by_one_form, is_meant, none_meant
from sweepbook.cli.progress import Progress
from sweepbook.cli.table import Column
from sweepbook.cli.wording import counted, decibel, megahertz, signed

if TYPE_CHECKING:
    from sweepbook.audit.context import Context
    from sweepbook.book.contents import Contents
    from sweepbook.book.corrections import Corrections
    from sweepbook.book.layout import Book
    from sweepbook.compare.curves import Difference
    from sweepbook.compare.figures import Figure
    from sweepbook.compare.tests import Comparison

_COLUMNS = (
    Column("curve of the earlier test", 28),
    Column("later less earlier", 18, right=True),
    Column("MHz", 6, right=True),
    Column("accuracy of both", 16, right=True),
    Column("", 7),
)
_FIGURES = (
    Column("figure that differs most", 28),
    Column("earlier", 18, right=True),
    Column("later", 6, right=True),
    Column("unit", 4),
    Column("", 13),
)


@click.command("compare", short_help="Hold the tests of a link against each other, end by end.")
@click.argument("book", type=options.EXISTING)
@click.argument("label", required=False)
@options.judging
@options.as_json
@options.asked
def command(book: Path, label: str | None, asked: Asked, as_json: bool) -> int:
    """Hold the tests of a link against each other, end by end.

    In BOOK each later test of the link LABEL is held against the one before it; without LABEL
    those of every link that was tested more than once. Ends are matched by what they are connected
    to, so that exchanged testers do no harm. Where both tests declare an accuracy (or --accuracy
    works one out), a curve that differs by more than both together has changed. Lengths, delays and
    resistances stand beside each other; where they are too far apart for one cable, that is said.

    Exit code 1 where something calls for a question: other ends under one label, an order that is
    not known, another cable, a fail that became a pass though nothing changed.
    """
    from sweepbook.book.layout import open_book
    from sweepbook.cli.desk import Desk
    from sweepbook.compare import document

    desk = Desk(asked, (book,))
    found = list(_found(open_book(book), label, desk.context))
    if as_json:
        click.echo(json.dumps(document.of(found), ensure_ascii=False, indent=2))
    else:
        _print(found, modelled=asked.accuracy is not None)
    return Exit.FINDINGS if any(one.remarks for one in found) else Exit.CLEAN


def _found(book: "Book", label: str | None, context: "Context") -> "Iterator[Comparison]":
    """The comparisons of each link that is meant, link by link.

    Raises:
        SweepbookError: no link is called so.
    """
    from sweepbook.book import corrections, store
    from sweepbook.record.links import plain_label

    contents = store.contents_of(book)
    label, named = by_one_form(context.project, label, corrections.labels(book, contents))
    by_label: dict[str, list[str]] = defaultdict(list)
    for record_id, its in named.items():
        if label is None or is_meant(label, its, record_id):
            by_label[plain_label(its) or record_id].append(record_id)
    if label is not None and not by_label:
        raise none_meant(book.root, label, list(named.values()), contents.at_rest())
    held = corrections.load(book, contents)
    several = [ids for ids in by_label.values() if len(ids) > 1]
    own_site = cache(partial(_own_site, book, context))
    with Progress("links compared") as progress:
        for ids in progress.over(several):
            yield from _of_link(book, ids, held, contents, context, own_site)


def _own_site(book: "Book", context: "Context") -> str:
    """The job's own site; records are read until one of them names it."""
    from sweepbook.book import corrections
    from sweepbook.record.links import key_of, own_site
    from sweepbook.record.model import Record

    found = (one for one in corrections.records(book) if isinstance(one, Record))
    return own_site((key_of(context.spelled(one)) for one in found), context.job.site)


def _of_link(
    book: "Book",
    ids: Iterable[str],
    held: "Corrections",
    contents: "Contents",
    context: "Context",
    own_site: "Callable[[], str]",
) -> "Iterator[Comparison]":
    from sweepbook.audit.run import case_of
    from sweepbook.book import store
    from sweepbook.compare.tests import Judged, comparisons

    records = (held.of(store.load(book, one, contents.file_sha256[one])) for one in ids)
    cases = [case_of(record, context) for record in records]
    tests = [Judged.of(c.assessment, c.working) for c in cases if c.working is not None]
    return comparisons(tests, own_site)


def _print(found: "list[Comparison]", *, modelled: bool) -> None:
    columns = table.terminal_columns()
    for comparison in found:
        for line in _of(comparison, columns, modelled=modelled):
            click.echo(line)
        click.echo("")
    said = f"{counted(len(found), 'later test')} held against the one before."
    if not found:
        said = "Nothing is to be compared: no link that was asked for was tested more than once."
    for line in table.paragraph(said, columns):
        click.echo(line)


def _of(comparison: "Comparison", columns: int, *, modelled: bool) -> Iterator[str]:
    from sweepbook.compare.figures import telling

    first, second = comparison.first, comparison.second
    yield from table.paragraph(first.label or "(no label)", columns)
    yield from table.facts(
        [
            *((what, f"{one.started or 'at no known time'}, stated {one.stated or 'nothing'}, "
               f"recomputed {one.recomputed}, {one.record_id[:16]}")
              for what, one in (("earlier", first), ("later", second))),
            ("ends", comparison.ends.value),
        ],
        columns,
    )  # fmt: skip
    yield ""
    if comparison.figures:
        yield from table.heading(_FIGURES)
        for figure in telling(comparison.figures):
            yield from table.row(_figure(figure), _FIGURES)
        yield ""
    if comparison.differences:
        yield from table.heading(_COLUMNS)
        for difference in _telling(comparison):
            yield from table.row(_cells(difference), _COLUMNS)
        for text in _summary(comparison, modelled=modelled):
            yield from table.paragraph(text, columns)
    for remark in comparison.remarks:
        yield from table.paragraph(remark, columns)


def _summary(comparison: "Comparison", *, modelled: bool) -> Iterator[str]:
    """What the rows amount to.

    Args:
        comparison: of two tests.
        modelled: whether an accuracy is modelled for tests that declare none.
    """
    from sweepbook.compare.curves import DEEPEST_DB

    every = comparison.differences
    unknown = sum(one.agrees is None for one in every)
    yield "Shown is the curve of each parameter that differs most, and each that has changed."
    if unknown:
        more = (
            "for tests that declare an accuracy of some curves none is modelled for the others."
            if modelled
            else "--accuracy works one out for tests that declare none."
        )
        yield (
            f"Of {counted(unknown, 'curve')} no accuracy is known, so nothing is said of them; "
            f"{more}"
        )
    if unknown < len(every):
        known = counted(len(every) - unknown, f"{'other ' if unknown else ''}curve")
        by = "more than the accuracy of both tests together"
        yield f"Of {known} {len(comparison.changed)} changed by {by}."
    if deep := sum(bool(one.deeper_points) for one in every):
        yield (
            f"What is read deeper than {DEEPEST_DB:g} dB counts as {DEEPEST_DB:g} dB, since the "
            f"noise of the tester decides there: so it is at some frequencies of "
            f"{counted(deep, 'curve')}."
        )
    if comparison.mended and not comparison.other_cable:
        named = ", ".join(_name(one) for one in comparison.mended)
        yield f"Of the curves that failed these have changed: {named}."


def _telling(comparison: "Comparison") -> "Iterator[Difference]":
    """Of each parameter the curve that differs most, and each that has changed."""
    most: dict[str, Difference] = {}
    for one in comparison.differences:
        best = most.get(one.key.parameter)
        if best is None or abs(one.largest_db) > abs(best.largest_db):
            most[one.key.parameter] = one
    for one in comparison.differences:
        if one.agrees is False or one is most[one.key.parameter]:
            yield one


def _cells(one: "Difference") -> tuple[str, ...]:
    word = {True: "agrees", False: "changed", None: ""}[one.agrees]
    return _name(one), signed(one.largest_db), megahertz(one.at_mhz), decibel(one.allowed_db), word


def _figure(one: "Figure") -> tuple[str, ...]:
    name = " ".join(filter(None, (one.parameter, one.pairs)))
    word = "another cable" if one.of_another_cable else ""
    return name, f"{one.earlier:g}", f"{one.later:g}", one.unit, word


def _name(one: "Difference") -> str:
    return " ".join(filter(None, (one.key.parameter, "/".join(one.key.pairs), one.key.end)))
