"""`sweepbook dialect draft`: what example files say of themselves, as a dialect to finish."""

import shlex
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click

from sweepbook.cli import options
from sweepbook.errors import SweepbookError
from sweepbook.text import utf8_safe

if TYPE_CHECKING:
    from sweepbook.cli.desk import Desk
    from sweepbook.formats import Format
    from sweepbook.source import Source


MOST_OF_ARCHIVE = 8
"""Files of one archive that are looked at."""
MOST_OF_FOLDER = 64
"""Files of one folder that are looked at."""
MOST_NAMED = 4
"""Files that are named one by one."""


@click.command("draft", short_help="Work out a dialect from example files of one make.")
@click.argument(
    "files",
    nargs=-1,
    required=True,
    metavar="FILE...",
    type=click.Path(exists=True, path_type=Path),
)
@click.option(
    "-o", "--output", "target", metavar="PATH", type=options.ANY_PATH,
    help="File to write, which must not be there yet; the terminal if left out.",
)  # fmt: skip
def command(files: tuple[Path, ...], target: Path | None) -> int:
    """Work out a dialect from example files of one make.

    FILE... are exports of one make and kind, best several links of different verdicts, or the
    folder that they are in. The draft says beside each key what it rests on: what the examples
    show, what is assumed, and what only a person can tell. Finish it in a text editor, then
    `sweepbook dialect try` it.
    """
    from sweepbook.cli.desk import Desk
    from sweepbook.cli.draft_tried import tried
    from sweepbook.cli.named_files import named_files
    from sweepbook.cli.target import refuse_place
    from sweepbook.draft.document import said_of_itself, with_head
    from sweepbook.draft.examples import chosen
    from sweepbook.files import write_bytes

    if target is not None:
        refuse_place(target, "Without -o the draft is printed.")
        if target.exists():
            raise SweepbookError(
                f"{utf8_safe(str(target))} is there already, and what is in it would be lost.",
                "Name another file after -o, or remove it first.",
            )
    every = named_files(files, lambda names: chosen(names, MOST_OF_FOLDER))
    desk, sources = Desk(), _sources(every)
    text = _drafted(desk, sources)
    text = with_head(text, tried(desk, text, sources))
    if target is None:
        click.echo(text, nl=False)
        return 0
    write_bytes(target, text.encode("utf-8"))
    shown = files[:1] if len(files) > MOST_NAMED else files
    named = utf8_safe(shlex.join(map(str, (target, *shown))))
    more = f" ... (with the {len(files) - 1} other files)" if len(shown) < len(files) else ""
    said = said_of_itself(text)
    click.echo(
        f"A draft is written to {utf8_safe(str(target))}. {said}{' ' if said else ''}"
        f"Look at its marked lines, then: sweepbook dialect try {named}{more}"
    )
    return 0


def _sources(files: Sequence[Path]) -> "list[Source]":
    """The files, and of those in archives the first of each kind and the first of all.

    Raises:
        SweepbookError: an archive cannot be opened.
    """
    from sweepbook.archive import sources_of
    from sweepbook.draft.examples import chosen
    from sweepbook.source import Source

    found: list[Source] = []
    for file in files:
        inside: list[Source] = []
        for at, item in enumerate(sources_of([file])):
            if isinstance(item, Source):
                inside.append(item)
            elif at < MOST_OF_ARCHIVE:
                message = f"{utf8_safe(item.source)}: {item.message}"
                raise SweepbookError(message, "Unpack it first.")
        archive = f"{utf8_safe(file.name)}!"
        names = [source.name.removeprefix(archive) for source in inside]
        found += [inside[at] for at in chosen(names, MOST_OF_ARCHIVE)]
    return found


def _drafted(desk: "Desk", sources: "Sequence[Source]") -> str:
    """The draft by the first format that knows files of this kind.

    Of files of two formats that with the curves is drafted, and how to join the others is told.

    Raises:
        SweepbookError: none does.
    """
    from sweepbook.draft.document import compose, listed
    from sweepbook.draft.mixed import join_lines

    able = [entry for entry in desk.registry.formats.values() if entry.draft is not None]
    able.sort(key=lambda entry: entry.name, reverse=True)
    formats = [_format_of(source, able) for source in sources]
    mixed = len({*formats}) > 1 and "" not in formats
    for entry in able:
        assert entry.draft is not None
        kinds = zip(sources, formats, strict=True)
        own = [source for source, of in kinds if not mixed or of == entry.name]
        tables = entry.draft(own, desk.library) if own else None
        if tables is not None:
            others = [
                (source.file_name, of)
                for source, of in zip(sources, formats, strict=True)
                if source not in own
            ]
            joins = join_lines([source.file_name for source in own], others) if others else []
            return compose(entry.name, [source.name for source in own], [*joins, *tables])
    names = listed([source.name for source in sources], MOST_NAMED)
    raise SweepbookError(
        f"No table of sweeps was found in {names}.",
        "Give text tables or XML of one make; `sweepbook formats --guide` shows how to write a "
        "dialect by hand.",
    )


def _format_of(source: "Source", formats: "Sequence[Format]") -> str:
    """The format that the ending of a name speaks for; "" for none."""
    name = source.file_name.casefold()
    return next((of.name for of in formats if name.endswith(of.suffixes)), "")
