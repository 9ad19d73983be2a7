"""`sweepbook accept`: findings that somebody has looked at and lets stand."""

from pathlib import Path
from typing import TYPE_CHECKING

import click

from sweepbook.cli import options, table
from sweepbook.cli.faults import Exit
from sweepbook.cli.meant import by_one_form, is_meant, none_meant
from sweepbook.errors import SweepbookError
from sweepbook.text import printable

if TYPE_CHECKING:
    from sweepbook.book.layout import Book

HELP = """Let a finding stand, with who, when and why, or list those.

The finding of RULE about the tests of the link LABEL (or about one record id, or its beginning)
goes into project.toml of the book. It stays visible in every check and delivery, marked as
accepted, and no longer counts in the exit code. No judgement changes by it.

\b
    sweepbook accept BOOK REC003 1A-P1-02 \\
        --who "K. Orme" --why "the reference of that morning is in the paper log"

A finding about tests together, SET001 and on, takes the labels of all links that it is about:

\b
    sweepbook accept BOOK SET002 2A-P1-05 2A-P1-06 \\
        --who "K. Orme" --why "one cable, labelled twice in the drawing"

What `sweepbook reconcile` says of a link, PLN001 and on, likewise: a link that nobody asks for any
more, a lesser limit that the owner agreed to. No fail is let stand so: a link that nobody asks
for, and whose tests do not pass, stays open as what they leave it. Where it is said of several
links of one label, that label reaches none of them.

With --everywhere in place of LABEL it is about every test, and about each finding on all tests
together. project.toml may also be written by hand, may say what the job is, bring spellings
together, set practice figures and leave rules out; project-0.md, which is installed with the
schemas and lies in every bag, has all of it:

\b
    schema = "urn:sweepbook:project-0"
    [job]
    number = "TQ-2031"            # and contract, owner, site, installer, design_standard, ...
    owner = "Thornquay Borough"
    marginal_pass = "retest"    # what the quality plan makes of pass*; else "counts"
    [labels]
    form = "{room}-{panel}-{port:2 digits}"
    other_forms = ["{room}.{panel}.{port:digits}"]    # other ways to write the same label
    [places.floor]
    "1st" = "1"                   # the spelling of a test, and what it counts as
    [practice]
    field_reference_days = 7
    [rules]
    leave_out = ["SWP011"]

Without RULE what is accepted is listed.
"""


@click.command(
    "accept", help=HELP, short_help="Let a finding stand, with who, when and why, or list those."
)
@click.argument("book", type=options.EXISTING)
@click.argument("rule", required=False)
@click.argument("labels", metavar="[LABEL]...", nargs=-1)
@click.option("--who", help="The person who accepts it.")
@click.option("--why", help="The reason, for whoever asks in ten years.")
@click.option("--path", "place", help='Place in the record, as the finding has it ("$.link").')
@click.option("--everywhere", is_flag=True, help="About every test, in place of LABEL.")
def command(
    book: Path,
    rule: str | None,
    labels: tuple[str, ...],
    who: str | None,
    why: str | None,
    place: str | None,
    everywhere: bool,
) -> int:
    """Enter or list; see `HELP`."""
    from sweepbook.book.layout import open_book
    from sweepbook.cli.desk import Desk

    opened = open_book(book)
    if rule is None:
        return _list(opened)
    if bool(labels) == everywhere or not (who or "").strip() or not (why or "").strip():
        raise SweepbookError(
            "To accept a finding takes RULE, LABEL (or --everywhere), --who and --why.",
            "`sweepbook accept --help` shows an example.",
        )
    if rule not in Desk().rules:
        raise SweepbookError(
            f"No rule has the id {rule!r}.", "`sweepbook rules list` lists them all."
        )
    _enter(opened, rule, tuple(dict.fromkeys(labels)), place, (who or "", why or ""))
    return Exit.CLEAN


def _enter(
    book: "Book", rule: str, labels: tuple[str, ...], place: str | None, words: tuple[str, str]
) -> None:
    from sweepbook.book import lock
    from sweepbook.cli.accept_remarks import remarks
    from sweepbook.cli.decided import PROJECT
    from sweepbook.cli.desk import Desk
    from sweepbook.cli.progress import say_waiting
    from sweepbook.clock import now
    from sweepbook.corrections.model import check_value
    from sweepbook.findings import Accepted
    from sweepbook.project.model import Acceptance
    from sweepbook.project.write import accept
    from sweepbook.rules.catalogue import SCHEDULE

    for option, text in zip(("--who", "--why"), words, strict=True):
        check_value(option, text)
    planned = Desk().rules[rule].subject == SCHEDULE
    with lock.held(book.lock, on_wait=say_waiting):
        meant = [_scheduled(book, one) if planned else _meant(book, one) for one in labels]
        link, record = meant[0] if len(meant) == 1 else (None, None)
        together = tuple(name for name, _ in meant if name) if len(meant) > 1 else ()
        if len(meant) > 1 and len(set(together)) < len(meant):
            raise SweepbookError(
                "Several labels name one finding about tests together, and each is of another "
                "link.",
                "Give the labels of the links, each once, and no record ids.",
            )
        accepted = Accepted(words[0].strip(), now()[:10], words[1].strip())
        acceptance = Acceptance(rule, link, record, not labels, place, accepted, together)
        written = accept(book.root / PROJECT, acceptance)
    said = "accepted" if written else "accepted already"
    for line in table.paragraph(f"{said}: {acceptance.in_words()}", table.terminal_columns()):
        click.echo(line)
    for remark in remarks(book, acceptance):
        click.echo(f"To know: {printable(remark)}", err=True)


def _scheduled(book: "Book", label: str) -> tuple[str | None, str | None]:
    """The label of a link on the schedule, which may have no test, in the one form of the job."""
    from sweepbook.cli.decided import project_of

    project = project_of(None, [book.root])
    return (project.spellings.label(label) if project else label), None


def _meant(book: "Book", label: str) -> tuple[str | None, str | None]:
    """The label of a link, or the id of a record, of which the book has a test.

    Raises:
        SweepbookError: there is none.
    """
    from sweepbook.book import corrections, store
    from sweepbook.cli.decided import project_of
    from sweepbook.record.links import plain_label

    contents = store.contents_of(book)
    project = project_of(None, [book.root])
    label, named = by_one_form(project, label, corrections.labels(book, contents))
    meant = [record_id for record_id, its in named.items() if is_meant(label, its, record_id)]
    if not meant:
        raise none_meant(book.root, label, list(named.values()), contents.at_rest())
    if all(plain_label(named[record_id]) == plain_label(label) for record_id in meant):
        return named[meant[0]], None
    if len(meant) > 1:
        raise SweepbookError(
            f"{len(meant)} tests begin with {label}.", "Give more digits of the record id."
        )
    return None, meant[0]


def _list(book: "Book") -> int:
    from sweepbook.cli.decided import PROJECT
    from sweepbook.project.load import load

    path = book.root / PROJECT
    acceptances = load(path).acceptances if path.is_file() else ()
    for one in acceptances:
        said = f"{one.in_words()}: {one.accepted.in_words()}"
        for line in table.paragraph(said, table.terminal_columns()):
            click.echo(line)
    if not acceptances:
        click.echo(f"Nothing is accepted in {printable(str(book.root))}.")
    return Exit.CLEAN
