"""`sweepbook correct`: what people know better than the tester did."""

from pathlib import Path
from typing import TYPE_CHECKING

import click

from sweepbook.cli import options, table
from sweepbook.cli.faults import Exit
from sweepbook.cli.meant import by_one_form, is_meant, none_meant
from sweepbook.cli.progress import say_waiting
from sweepbook.errors import SweepbookError
from sweepbook.text import printable, text_at

if TYPE_CHECKING:
    from sweepbook.book.contents import Contents
    from sweepbook.book.corrections import Corrections
    from sweepbook.book.layout import Book
    from sweepbook.corrections.model import Correction
    from sweepbook.record.model import Corrected, Record

HELP = """Enter a correction beside the evidence, or list those there are.

In the test of the link LABEL (or of a record id, or the beginning of one) the field FIELD shall be
NEW. The record itself stays as it is: the correction goes into corrections.csv in the book, with
who, when and why, is applied whenever the book is read, and is shown wherever it tells. Without
LABEL the corrections of the book are listed.

\b
    sweepbook correct BOOK 1A-P1-O4 label 1A-P1-04 \\
        --who "K. Orme" --why "letter O typed for a zero; seen on the panel"

FIELD is what somebody typed in or chose before the test; the end of its name is enough where it
is plain: label, limit, configuration, purpose, operator; near.place.floor and so on down to port,
far.termination, near.connector.category, cable.part, cable.reel, cable.construction,
near.instrument.serial, far.adaptor.part and their like. What was measured, when, and what the
tester made of it cannot be corrected. An empty NEW ("") takes the field out.

To take a correction back, correct the field again.

Exit code 1 where a listed correction is not in use.
"""


@click.command(
    "correct",
    help=HELP,
    short_help="Enter a correction beside the evidence, or list those there are.",
)
@click.argument("book", type=options.EXISTING)
@click.argument("label", required=False)
@click.argument("field", required=False)
@click.argument("new", required=False)
@click.option("--who", help="The person who knows.")
@click.option("--why", help="How that is known.")
@click.option("--from", "old", help="What the record must say now; else nothing is entered.")
def command(
    book: Path,
    label: str | None,
    field: str | None,
    new: str | None,
    who: str | None,
    why: str | None,
    old: str | None,
) -> int:
    """Enter or list; see `HELP`."""
    from sweepbook.book.layout import open_book

    if label is None:
        return _list(open_book(book))
    if field is None or new is None or not (who or "").strip() or not (why or "").strip():
        raise SweepbookError(
            "A correction needs LABEL, FIELD, NEW, --who and --why.",
            "`sweepbook correct --help` shows an example.",
        )
    _enter(open_book(book), label, field, new, (who or "", why or "", old))
    return Exit.CLEAN


def _enter(
    book: "Book", label: str, name: str, new: str, words: tuple[str, str, str | None]
) -> None:
    from sweepbook.book import corrections, lock, store
    from sweepbook.corrections.model import check_value, field_of

    who, why, _ = words
    field = field_of(name)
    for path, text in ((field, new), ("--who", who), ("--why", why)):
        check_value(path, text)
    if field == "test.configuration":
        _check_configuration(new)
    with lock.held(book.lock, on_wait=say_waiting):
        contents = store.contents_of(book)
        corrections.finish(book, contents)
        record = _record(book, contents, label)
        correction = _correction(book, record, field, new, words)
        corrections.enter(book, correction)
    said = f'corrected: {record.label}: {field} from "{correction.old}" to "{new}"'
    for line in table.paragraph(said, table.terminal_columns()):
        click.echo(line)


def _correction(
    book: "Book", record: "Record", field: str, new: str, words: tuple[str, str, str | None]
) -> "Correction":
    """The correction of a record as corrected so far.

    Raises:
        SweepbookError: the field says that already, says something else than the person takes it
            for, or shall be a limit that is none.
    """
    from sweepbook.clock import now
    from sweepbook.corrections.apply import value_of
    from sweepbook.corrections.model import Correction

    who, why, expected = words
    if field == "test.limit":
        _check_limit(book, new, value_of(record.document, "test.configuration"))
    old = value_of(record.document, field)
    if expected is not None and old != expected:
        raise SweepbookError(
            f"{field} of {record.label} is {old!r}, not {expected!r}.", "Look at the record again."
        )
    if old == new:
        raise SweepbookError(f"{field} of {record.label} is {old!r} already.", "Nothing is to do.")
    return Correction(record.record_id, field, old, new.strip(), who.strip(), now(), why.strip())


def _check_configuration(new: str) -> None:
    """Refuse a word that no limit table knows.

    Raises:
        SweepbookError: it is none of theirs.
    """
    from sweepbook.cli.desk import Desk

    known = {table.configuration for table in Desk().library.tables.values()}
    if new and new not in known:
        raise SweepbookError(
            f"{new!r} is no configuration.", f"Known are {', '.join(sorted(known))}."
        )


def _check_limit(book: "Book", new: str, configuration: str) -> None:
    """Refuse a limit that leads to no one table.

    A class or category of the standards whose limits are too doubtful to judge by is taken: what
    a link was tested to is true, whether anybody can judge by it or not.

    Raises:
        SweepbookError: no table goes by it, or several do.
    """
    from sweepbook.cli.desk import Desk
    from sweepbook.limits.library import AmbiguousLimit, UnknownLimit
    from sweepbook.limits.not_usable import meant

    library = Desk(paths=(book.root,)).library
    if not new.strip() or meant(new):
        return
    try:
        library.resolve(new, configuration=configuration or None)
    except AmbiguousLimit as error:
        raise SweepbookError(error.message, "Give the one that is meant.") from error
    except UnknownLimit as error:
        near = library.near(new)
        hint = f"Perhaps {' or '.join(near)} is meant. " if near else ""
        raise SweepbookError(
            error.message,
            f"{hint}`sweepbook limits list` shows every table; put one of your own into the folder "
            "`limits` of the book.",
        ) from error


def _record(book: "Book", contents: "Contents", label: str) -> "Record":
    """The one record that is meant, as corrected so far.

    Raises:
        SweepbookError: none is, or several are.
    """
    from sweepbook.book import corrections, store
    from sweepbook.cli.decided import project_of

    project = project_of(None, [book.root])
    label, named = by_one_form(project, label, corrections.labels(book, contents))
    meant = [record_id for record_id, its in named.items() if is_meant(label, its, record_id)]
    if not meant:
        raise none_meant(book.root, label, list(named.values()), contents.at_rest())
    held = corrections.load(book, contents)
    found = [held.of(store.load(book, one, contents.file_sha256[one])) for one in meant]
    if len(found) > 1:
        told = "; ".join(f"{record.record_id[:16]} {_tested(record)}" for record in found)
        raise SweepbookError(
            f"{len(found)} tests are of {label}: {told}.",
            "Give the beginning of the record id in place of the label.",
        )
    return found[0]


def _tested(record: "Record") -> str:
    return text_at(record.document, "test", "started", "as_stated") or "at no known time"


def _list(book: "Book") -> int:
    """Print the corrections, in the order in which they were entered."""
    from sweepbook.book import corrections, store

    contents = store.contents_of(book)
    held, named = corrections.load(book, contents), corrections.labels(book, contents)
    every = sorted(
        (one for its in held.by_record.values() for one in its), key=lambda one: one.line
    )
    became = {record_id: _corrected(book, held, record_id) for record_id in held.by_record}
    used = {one.line: one in became[one.record].applied for one in every}
    columns = table.terminal_columns()
    for one in every:
        mark = "taken back: " if one.field in became[one.record].taken_back else ""
        mark = mark if used[one.line] else "not in use: "
        said = (
            f'{mark}{named[one.record]}: {one.field} from "{one.old}" to "{one.new}" '
            f"({one.who}, {one.when}: {one.why})"
        )
        for line in table.paragraph(said, columns):
            click.echo(line)
    for one in held.at_rest:
        said = (
            f'of a withdrawn file: {one.record[:16]}: {one.field} from "{one.old}" to "{one.new}" '
            f"({one.who}, {one.when}: {one.why})"
        )
        for line in table.paragraph(said, columns):
            click.echo(line)
    for problem in held.problems:
        said = f"not in use: {problem.source}, {problem.place}: {problem.message}"
        for line in table.paragraph(said, columns):
            click.echo(line)
    if not (every or held.problems or held.at_rest):
        click.echo(f"No corrections in {printable(str(book.root))}.")
    return Exit.CLEAN if all(used.values()) and not held.problems else Exit.FINDINGS


def _corrected(book: "Book", held: "Corrections", record_id: str) -> "Corrected":
    """What became of a record that has corrections."""
    from sweepbook.book import store

    corrected = held.of(store.load(book, record_id)).corrected
    assert corrected is not None  # it has some
    return corrected
