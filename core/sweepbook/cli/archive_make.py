"""`sweepbook archive make`: a book, and all that its judgements rest on, as a bag."""

from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click

from sweepbook.bag.layout import BOOK, INFO
from sweepbook.cli import options
from sweepbook.cli.asked import Asked
from sweepbook.cli.faults import Exit
from sweepbook.cli.planned import Planned
from sweepbook.cli.progress import Progress, say_waiting
from sweepbook.text import printable

if TYPE_CHECKING:
    from sweepbook.bag.before import Before
    from sweepbook.bag.sealing import Sealed
    from sweepbook.cli.archived import Archived

_PACKS = ("zip", "tar.zst")

HELP = """Make a bag of a book for the archive.

The bag holds the whole BOOK, the limit tables, readings of the standards, practice figures and
rules that its tests are judged by, the audit document, schemas and specifications, and a README
for somebody with a text editor alone; with --schedule also where each link stands. It is a BagIt
1.0 bag (RFC 8493). OUT is the folder to make, or the file where the bag is packed. For the same
book, options and SOURCE_DATE_EPOCH it is the same to the byte.

--info says whose bag it is, and may come several times:

\b
    --info Source-Organization="Mercer & Daughters, Cabling"
    --info External-Identifier="Contract 2291"

The labels that RFC 8493 has for this are Source-Organization, Organization-Address, Contact-Name,
Contact-Phone, Contact-Email, External-Description, External-Identifier, Bag-Group-Identifier,
Internal-Sender-Identifier, Internal-Sender-Description; any other of letters, digits and hyphens
is taken too. What is not given is taken from the job that the book's project.toml tells of.

Exit code 1 where something of the book's sources or of the schedule could not be read. A damaged
book gives no bag.
"""


@click.command("make", help=HELP, short_help="Make a bag of a book for the archive.")
@click.argument("book", type=options.EXISTING)
@click.argument("out", type=options.ANY_PATH)
@options.judging
@options.schedule(required=False)
@click.option(
    "--info",
    "infos",
    multiple=True,
    metavar="LABEL=TEXT",
    help="Whose bag it is and whom to ask, for bag-info.txt.",
)
@click.option(
    "--without-people",
    is_flag=True,
    help="Leave the names in people.csv out of the bag, and name nobody on its page for people; "
    "records, corrections and acceptances stay as they are, with whom they name.",
)
@click.option("--pack", type=click.Choice(_PACKS), help="Pack the bag into one file.")
@click.option("--replace", is_flag=True, help="Put the new bag in the place of one that is at OUT.")
@options.asked
def command(
    book: Path,
    out: Path,
    asked: Asked,
    schedule: Path | None,
    columns: tuple[str, ...],
    label_scheme: Path | None,
    infos: tuple[str, ...],
    without_people: bool,
    pack: str | None,
    replace: bool,
) -> int:
    """Make a bag; see `HELP`."""
    from sweepbook.bag import info, payload, place, sealing
    from sweepbook.bag.before import before
    from sweepbook.bag.pack import Pack
    from sweepbook.book.layout import open_book
    from sweepbook.cli.archived import judged, project_file
    from sweepbook.cli.desk import Desk
    from sweepbook.cli.emptiness import refuse_empty
    from sweepbook.cli.target import refuse_place

    refuse_place(out)
    told = tuple(map(info.told, infos))
    opened = open_book(book)
    planned = Planned(schedule, columns, label_scheme)
    planned.read(Desk(asked, (book,)))  # what is wrong with the options is told before all the work
    context = Desk(asked, (book,)).context
    form = Pack(pack) if pack else None
    with place.begun(out, form, replace=replace, tell=_remark) as root:
        with Progress("files copied and proved") as progress:
            payload.copy_book(
                opened, root, progress.step, say_waiting, without_people=without_people
            )
        copy = root / BOOK
        refuse_empty(copy, book)
        payload.write_judged_by(context, project_file(asked, copy), root)
        payload.write_specifications(root)
        desk = Desk(asked, (copy,))
        done = judged(desk, copy, root, opened.name, planned, without_people=without_people)
        people = _of_people(open_book(copy).people.is_file(), without_people)
        with Progress("files listed") as progress:
            about = (told, info.of_job(context.job.to_json()))
            sealed = sealing.seal(root, opened.name, about, done.facts, progress.step)
        gone = before(out, (root / INFO).read_bytes())
    _tell(done, sealed, out, (people, *_of_the_other(gone)))
    if done.crashes:
        return Exit.CRASHED
    return Exit.FINDINGS if done.unread else Exit.CLEAN


def _remark(text: str) -> None:
    """Say on stderr what is to be known."""
    from sweepbook.cli import table

    for line in table.paragraph(f"To know: {printable(text)}", table.terminal_columns()):
        click.echo(line, err=True)


def _of_people(named: bool, without_people: bool) -> str:
    """What to know of people's names in the bag; "" where no table of them was there."""
    if without_people:
        return (
            "The names in people.csv are not in the bag, and its page for people names nobody. "
            "Records, sources, corrections, acceptances and project.toml are in it as they are, "
            "with whom they name."
        )
    if named:
        return (
            f"The bag holds the names of people: {BOOK}/people.csv, and where its page for people "
            "shows them. Where they must not go, make it again with --without-people."
        )
    return ""


def _of_the_other(gone: "Before | None") -> Iterator[str]:
    """What to know of the bag whose place the new one took."""
    if gone is None:
        return
    yield f"It took the place of the bag with the digest {gone.digest or '(not known)'}."
    if gone.lost:
        told = " ".join(f'--info {name}="{text}"' for name, text in map(_printable, gone.lost))
        yield (
            "That one told what this one does not. To have it told, make it again with --replace "
            f"and what of this still holds: {told}"
        )


def _printable(field: tuple[str, str]) -> tuple[str, str]:
    return printable(field[0]), printable(field[1])


def _tell(done: "Archived", sealed: "Sealed", out: Path, notes: Sequence[str]) -> None:
    """Say what was made, and what to note of it."""
    from sweepbook.cli import table
    from sweepbook.cli.wording import counted

    for line in done.told:
        click.echo(line, err=True)
    said = (
        f"{counted(done.tests, 'test')} in {counted(sealed.files, 'file')} "
        f"({sealed.size / 1e6:.1f} MB) archived in {printable(str(out))}.",
        *filter(None, notes),
        f"Digest of the bag: {sealed.digest}. Note it in another place: it is the SHA-256 of "
        "tagmanifest-sha256.txt, and by it the whole bag can be proved later "
        "(archive verify --digest).",
        f"Run next: sweepbook archive verify {printable(str(out))}",
    )
    for text in said:
        for line in table.paragraph(text, table.terminal_columns()):
            click.echo(line)
