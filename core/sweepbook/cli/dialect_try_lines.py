"""The lines of a trial of a dialect."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from sweepbook.cli import table
from sweepbook.cli.wording import counted, sentence
from sweepbook.errors import ReadProblem
from sweepbook.source import Source
from sweepbook.text import text_at
from sweepbook.trial import counts, idle, next_edits
from sweepbook.trial.next_edits import Edit

if TYPE_CHECKING:
    from sweepbook.cli.desk import Desk
    from sweepbook.dialect.model import Dialect
    from sweepbook.record.model import Record

MOST_EDITS = 12
MOST_LEFT = 12
_LONGEST = 60


class Shown(NamedTuple):
    """The lines, and how many changes they ask for."""

    lines: list[str]
    edits: int


def shown(
    desk: "Desk",
    dialect: "Dialect",
    file: Path,
    record: "Record | None",
    problems: Sequence[ReadProblem],
    waiting: Sequence[Edit],
) -> Shown:
    """Everything that a trial says.

    Args:
        desk: for limits and settings.
        dialect: the one tried.
        file: the file it was tried on.
        record: the first record, or None where no test could be read.
        problems: what was told until then.
        waiting: what in the dialect waits for a person.
    """
    columns = table.terminal_columns()
    if record is None:
        edits = [*waiting, *next_edits.told(problems)]
        head = f"No test of {file.name} could be read by the dialect {dialect.name}."
        return Shown([*table.paragraph(head, columns), "", *_edits(edits, columns)], len(edits))
    lines, edits = _of_record(desk, dialect, file, record, problems)
    every = [*waiting, *edits]
    return Shown([*lines, "", *_edits(every, columns)], len(every))


def _of_record(
    desk: "Desk",
    dialect: "Dialect",
    file: Path,
    record: "Record",
    problems: Sequence[ReadProblem],
) -> tuple[list[str], list[Edit]]:
    from sweepbook.judging.judge import judge_with_working

    document = record.document
    path = document.get("resolved", {}).get("limit", {}).get("path")
    limit = desk.library.tables.get(path) if path else None
    _, working = judge_with_working(record, limit, desk.context.settings)
    rows = counts.rows(document, working.measured_curves, limit)
    columns = table.terminal_columns()
    lines = list(table.paragraph(f"The first test that {dialect.name} reads", columns))
    lines += table.facts(_head(document, path), columns)
    lines += ["", *_rows(rows)]
    for note in document.get("resolved", {}).get("notes", ()):
        lines += table.paragraph(f"note: {sentence(note)}", columns)
    for doubt in working.doubts:
        lines += table.paragraph(f"{doubt.kind.value}: {sentence(doubt.text)}", columns)
    left: Mapping[str, str] = document.get("extra", {})
    lines += ["", *_left(left, columns), *_idle(dialect, record, columns)]
    edits = next_edits.edits(dialect, document, rows, problems, working.doubts, _places(file, left))
    return lines, list(edits)


def _head(document: Mapping[str, object], path: str | None) -> Iterator[tuple[str, str]]:
    yield "label", text_at(document, "link", "label")
    stated = text_at(document, "test", "limit", "as_stated")
    yield "limit", f"{stated or 'none stated'} -> {path or 'no table'}"
    started = text_at(document, "test", "started", "as_stated")
    read = text_at(document, "test", "started", "rfc3339") or "not read"
    yield "started", f"{started} -> {read}" if started else ""
    verdict = text_at(document, "stated", "overall", "as_stated")
    yield "stated", f"{verdict} -> {text_at(document, 'stated', 'overall', 'verdict')}"


def _rows(rows: Sequence[counts.Row]) -> Iterator[str]:
    titles = ("parameter", "found", "of", "MHz", "from least to greatest", "missing")
    cells = [
        (
            row.parameter,
            str(row.found),
            str(row.expected or "-"),
            row.frequency.removesuffix(" MHz"),
            row.values,
            row.missing if row.found else (row.missing and "all"),
        )
        for row in rows
    ]
    layout = table.fitted(titles, cells, table.terminal_columns())
    yield from table.heading(layout)
    for texts in cells:
        yield from table.row(texts, layout)


def _left(left: Mapping[str, str], columns: int) -> Iterator[str]:
    if not left:
        yield "Nothing was left over."
        return
    yield f"Left over, {counted(len(left), 'key')} in extra:"
    for key, text in list(left.items())[:MOST_LEFT]:
        short = text if len(text) <= _LONGEST else f"{text[: _LONGEST - 3]}..."
        yield from table.paragraph(f"{key}: {' | '.join(short.split(chr(10)))}", columns, 4)
    if len(left) > MOST_LEFT:
        yield f"    and {len(left) - MOST_LEFT} more; `sweepbook show --json` prints them all"


def _idle(dialect: "Dialect", record: "Record", columns: int) -> Iterator[str]:
    found = list(idle.idle(dialect, record.document))
    if found:
        yield "Keys of the dialect that found nothing in this test:"
    for one in found:
        yield from table.paragraph(
            f"{next_edits.line_of(dialect, one.key)}: {one.text}", columns, 4
        )


def _edits(edits: Sequence[Edit], columns: int) -> Iterator[str]:
    if not edits:
        yield "Nothing to change is seen. Look at the numbers: sweepbook show --dialect."
        return
    yield "Next changes, the weightiest first:"
    for number, edit in enumerate(edits[:MOST_EDITS], 1):
        text = f"{number}. {edit.where}: {sentence(edit.what)}"
        yield from table.paragraph(text, columns, 2)
    if len(edits) > MOST_EDITS:
        yield f"  and {len(edits) - MOST_EDITS} more; make these first"


def _places(file: Path, keys: Iterable[str]) -> dict[str, str]:
    """The first line of a file that holds each key, of those that a text table has as they are."""
    lines = Source(file).head.decode("utf-8", "replace").splitlines()
    found = {}
    for key in keys:
        last = key.rpartition("/")[2]
        number = next((n for n, line in enumerate(lines, 1) if last and last in line), None)
        if number is not None:
            found[key] = f"line {number} of {file.name}"
    return found
