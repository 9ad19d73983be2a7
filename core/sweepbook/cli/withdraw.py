"""`sweepbook withdraw`: sources that count no more, with who and why."""

from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence
from pathlib import Path, PurePath
from typing import TYPE_CHECKING

import click

from sweepbook.cli import options, table
from sweepbook.cli.faults import Exit
from sweepbook.cli.progress import say_waiting
from sweepbook.cli.wording import counted
from sweepbook.errors import SweepbookError
from sweepbook.text import natural_key, printable, utf8_safe

if TYPE_CHECKING:
    from sweepbook.book.layout import Book
    from sweepbook.book.withdraw import Done, Known

HELP = """Let sources of a book count no more, or take them back in.

For what was gathered by mistake: files of another job, or a wrong folder. Each SOURCE is the name
of a file, its path, the path of a folder or an archive as it was gathered, or the beginning of a
digest; a name or path in quotes may have * and ?. What was read from them counts no more in any
check, list or delivery; lists, pages, workbooks, databases and bags say so themselves, other
formats only on the screen as they are written. The files and records stay in the book, and a line
of its journal says who withdrew them, when and why. Gathering such a file again leaves it out,
until it is taken back in. A file that came from another place too, byte for byte the same, counts
on where only one of its places is named.

\b
    sweepbook withdraw BOOK exports/depot-west \\
        --who "K. Orme" --why "folder of another building"
    sweepbook withdraw BOOK exports/depot-west --back \\
        --who "K. Orme" --why "it belongs to this contract after all"

Without SOURCE it lists what is withdrawn, and the folders that sources came from.

A test is not to be withdrawn for what it shows: a failed test that was repeated stays, and the
last test of a link speaks for it.
"""
_MOST_SHOWN = 20


@click.command(
    "withdraw",
    help=HELP,
    short_help="Let sources of a book count no more, or take them back in.",
)
@click.argument("book", type=options.EXISTING)
@click.argument("sources", metavar="[SOURCE]...", nargs=-1)
@click.option("--who", help="The person who says so.")
@click.option("--why", help="The reason, for whoever asks in ten years.")
@click.option("--back", is_flag=True, help="Take them back in.")
def command(
    book: Path, sources: tuple[str, ...], who: str | None, why: str | None, back: bool
) -> int:
    """Withdraw, take back in, or list; see `HELP`."""
    from sweepbook.book.layout import open_book
    from sweepbook.book.withdraw import withdraw
    from sweepbook.corrections.model import check_value

    opened = open_book(book)
    if not sources:
        _print(_listed(opened))
        return Exit.CLEAN
    if not (who or "").strip() or not (why or "").strip():
        raise SweepbookError(
            "To withdraw a source, or take one back in, takes --who and --why.",
            "`sweepbook withdraw --help` shows an example.",
        )
    words = (who or "").strip(), (why or "").strip()
    for option, text in zip(("--who", "--why"), words, strict=True):
        check_value(option, text)
    done = withdraw(opened, sources, *words, back=back, on_wait=say_waiting)
    _print(_done(done, book, back=back))
    return Exit.CLEAN


def _print(texts: Iterator[str]) -> None:
    for text in texts:
        for line in table.paragraph(printable(text), table.terminal_columns()):
            click.echo(line)


def _done(done: "Done", book: Path, *, back: bool) -> Iterator[str]:
    """What became of it."""
    word = "taken back in" if back else "withdrawn"
    for one in done.changed[:_MOST_SHOWN]:
        yield f"{word}: {one.name} ({one.sha256[:12]}): {counted(len(one.records), 'test')}"
    if len(done.changed) > _MOST_SHOWN:
        yield f"and {len(done.changed) - _MOST_SHOWN} more"
    before = "counted already" if back else "withdrawn already"
    if done.as_before:
        names = ", ".join(one.name for one in done.as_before[:_MOST_SHOWN])
        more = len(done.as_before) - _MOST_SHOWN
        yield f"{before}: {names}{f' and {more} more' if more > 0 else ''}"
    yield from _stay(done, book)
    shown = utf8_safe(str(book))
    nothing = f"No test counts now in {shown}: everything in it is withdrawn."
    if not done.changed:
        yield "Nothing was to be done." if done.left or back else nothing
        return
    said = f"{counted(len(done.changed), 'file')} {word}; {counted(done.records, 'test')} "
    if back:
        yield f"{said}count{'s' if done.records == 1 else ''} again.{_failing(done)}"
        return
    said += f"count{'s' if done.records == 1 else ''} no more.{_failing(done)}"
    if done.stating_fail:
        said += " A test is not to be withdrawn for what it shows: see that it is of another job."
    if done.elsewhere:
        said += (
            f" Of the tests in {'it' if len(done.changed) == 1 else 'them'}, {done.elsewhere} came "
            "in another file too and count on."
        )
    yield (
        f"{said} Files and records stay in the book. To take them back in: sweepbook withdraw "
        f"{shown} SOURCE ... --back --who ... --why ..."
    )
    if not done.left:
        yield nothing


def _failing(done: "Done") -> str:
    """The sentence, with a blank before it, that some of the tests state a fail; "" for none."""
    from sweepbook.book.withdraw import listed

    labels = [label or "(no label)" for label in done.stating_fail]
    return f" {counted(len(labels), 'stated fail')} among them: {listed(labels)}." if labels else ""


def _stay(done: "Done", book: Path) -> Iterator[str]:
    """What was asked for by one place, and came from another too."""
    for one, others in done.stay[:_MOST_SHOWN]:
        yield (
            f"counts on: {one.name} ({one.sha256[:12]}): it came from {' and '.join(others)} too"
        )
    if len(done.stay) > _MOST_SHOWN:
        yield f"and {len(done.stay) - _MOST_SHOWN} more"
    if done.stay:
        yield (
            "To withdraw such a file altogether, name its digest, or all of its places at once: "
            f"sweepbook withdraw {utf8_safe(str(book))} {done.stay[0][0].sha256[:12]} --who ... "
            "--why ..."
        )


def _listed(book: "Book") -> Iterator[str]:
    """What is withdrawn, and where sources came from."""
    from sweepbook.book import store
    from sweepbook.book.withdraw import known

    every = known(store.contents_of(book))
    gone = [one for one in every if one.withdrawal is not None]
    for one in gone:
        assert one.withdrawal is not None  # chosen so
        by = one.withdrawal
        yield (
            f"withdrawn: {one.name} ({one.sha256[:12]}, from {' and '.join(one.came_from)}): "
            f"{counted(len(one.records), 'test')} ({by.who}, {by.when}: {by.why})"
        )
    if not gone:
        yield f"Nothing is withdrawn in {utf8_safe(str(book.root))}."
    yield from _folders([one for one in every if one.withdrawal is None])


def _folders(every: "Sequence[Known]") -> Iterator[str]:
    """Where the sources that count came from, a line a folder."""
    files, tests = Counter[str](), defaultdict[str, set[str]](set)
    for one in every:
        for folder in {str(PurePath(place).parent) for place in one.came_from}:
            files[folder] += 1
            tests[folder] |= one.records  # a test that several files make together is one
    for folder in sorted(files, key=natural_key):
        count = len(tests[folder])
        yield f"from {folder}: {counted(files[folder], 'file')}, {counted(count, 'test')}"
