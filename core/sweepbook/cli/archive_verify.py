"""`sweepbook archive verify`: a bag proved, and its audit repeated."""

import json
import re
from pathlib import Path

import click

from sweepbook.cli import options
from sweepbook.cli.faults import Exit
from sweepbook.cli.progress import Progress
from sweepbook.errors import SweepbookError

_SHA256 = re.compile("[0-9a-f]{64}")


@click.command("verify", short_help="Prove a bag, and repeat its audit from the bag alone.")
@click.argument("bag", type=options.EXISTING)
@click.option(
    "--digest",
    metavar="SHA256",
    help="The digest of the bag that `archive make` printed, as it was noted then.",
)
@click.option(
    "--unpack-up-to",
    "most_gib",
    metavar="GIB",
    type=click.FloatRange(min=0, min_open=True),
    help="How far a packed bag that you trust may expand; 4 GiB, and 200 times its size, unless "
    "told otherwise.",
)
@options.as_json
def command(bag: Path, digest: str | None, most_gib: float | None, as_json: bool) -> int:
    """Prove a bag, and repeat its audit from the bag alone.

    BAG is the folder of a bag, or the .zip or .tar.zst that it is packed in. Every file that is
    changed, missing or extra is named, those beside the payload included; of many the first hundred
    of each kind, and with --json all. Then every test is judged
    anew by the limit tables, readings, figures and rules that lie in the bag, not by those that are
    installed, and each difference from the bag's audit document is told; where the bag has a cable
    schedule, it is held against the tests again, too. Nothing is written to BAG.

    The lists of a bag prove its files, and --digest proves the lists: who changes a bag can write
    its lists anew, but not so that the digest stays what it was. Only the audit document and the
    reconciliation are made anew; the page, the README and what they rest on (the book, the limits
    and rules, the schedule) rest on the digest.

    Exit code 0 where all is as it was; 1 where anything is not; 3 where BAG is no bag. Other words
    for the same judgement and the same figures, as another version may have them, are told and
    are no difference.
    """
    from sweepbook.bag.unpack import bounds_of
    from sweepbook.bag.verify import verify
    from sweepbook.cli import archive_lines, table
    from sweepbook.cli.desk import Desk

    noted = _noted(digest)
    plugins = Desk().registry
    with Progress("files and tests proved") as progress:
        steps = progress.step, progress.step
        bounds = None if most_gib is None else bounds_of(most_gib)
        found = verify(bag, plugins.rules, plugins.formats, *steps, noted, bounds)
    if as_json:
        document = archive_lines.document(found)
        click.echo(json.dumps(document, ensure_ascii=False, indent=2))
    else:
        for text in archive_lines.of(found):
            for line in table.paragraph(text, table.terminal_columns()):
                click.echo(line)
    return Exit.CLEAN if found.fine else Exit.FINDINGS


def _noted(digest: str | None) -> str:
    """The digest as given, in small digits; "" where none is.

    Raises:
        SweepbookError: it is no SHA-256.
    """
    if digest is None:
        return ""
    small = digest.strip().casefold()
    if not _SHA256.fullmatch(small):
        raise SweepbookError(
            f"--digest {digest!r} is no SHA-256, which has 64 digits from 0 to 9 and a to f.",
            "Give the whole digest of the bag, as `sweepbook archive make` printed it.",
        )
    return small
