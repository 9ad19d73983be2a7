"""`sweepbook archive verify`: a bag proved, and its audit repeated."""

import json
from pathlib import Path

import click

from sweepbook.cli import options
from sweepbook.cli.faults import Exit
from sweepbook.cli.progress import Progress


@click.command("verify", short_help="Prove a bag, and repeat its audit from the bag alone.")
@click.argument("bag", type=options.EXISTING)
@options.as_json
def command(bag: Path, as_json: bool) -> int:
    """Prove a bag, and repeat its audit from the bag alone.

    BAG is the folder of a bag, or the .zip or .tar.zst that it is packed in. Every file that is
    changed, missing or extra is named, those beside the payload included. Then every test is judged
    anew by the limit tables, readings, figures and rules that lie in the bag, not by those that are
    installed, and each difference from the bag's audit document is told. Nothing is written to BAG.

    Exit code 0 where all is as it was; 1 where anything is not; 3 where BAG is no bag. Other words
    for the same judgement and the same figures, as another version may have them, are told and
    are no difference.
    """
    from sweepbook.bag.verify import verify
    from sweepbook.cli import archive_lines, table
    from sweepbook.cli.desk import Desk

    contributed = Desk().registry.rules
    with Progress("files and tests proved") as progress:
        found = verify(bag, contributed, progress.step, progress.step)
    if as_json:
        document = archive_lines.document(found)
        click.echo(json.dumps(document, ensure_ascii=False, indent=2))
    else:
        for text in archive_lines.of(found):
            for line in table.paragraph(text, table.terminal_columns()):
                click.echo(line)
    return Exit.CLEAN if found.fine else Exit.FINDINGS
