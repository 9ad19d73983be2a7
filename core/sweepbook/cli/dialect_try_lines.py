"""The lines of a trial of a dialect."""

import shlex
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from sweepbook.cli import table
from sweepbook.cli.wording import counted, sentence
from sweepbook.text import printable, text_at, utf8_safe
from sweepbook.trial import alike, counts, next_edits
from sweepbook.trial.looking import Look
from sweepbook.trial.together import Edit

if TYPE_CHECKING:
    from sweepbook.dialect.model import Dialect
    from sweepbook.trial.trial import Trial

MOST_EDITS = 12
MOST_LEFT = 12
MOST_ALIKE = 12
_LONGEST = 60


def shown(
    dialect: "Dialect",
    given: str,
    files: Sequence[Path],
    trial: "Trial",
    edits: Sequence[Edit],
) -> Iterator[str]:
    """Everything that a trial says, in lines.

    Args:
        dialect: the one tried.
        given: how it was named.
        files: what it was tried on.
        trial: what it made of them.
        edits: the changes worth making.
    """
    columns = table.terminal_columns()
    looks = trial.looks
    if not looks:
        named = ", ".join(file.name for file in files)
        head = f"No test of {named} could be read by the dialect {dialect.name}."
        yield from table.paragraph(printable(head), columns)
    for group in alike.groups(looks, each=trial.count > 1):
        yield from _of_group(dialect.name, group, len(files) > 1, columns)
    yield ""
    yield from _idle(dialect, trial, columns)
    yield from _edits(edits, columns)
    if looks and not edits:
        file = next((of for of in files if utf8_safe(of.name) == looks[0].source), files[0])
        label = text_at(looks[0].document, "link", "label")
        if len(label) > _LONGEST:
            label = text_at(looks[0].document, "record_id")
        words = (str(file), label, "--dialect", given)
        to_see = f"sweepbook show {' '.join(map(shlex.quote, words))}"
        yield f"{_nothing_to_change(looks)} Look at the numbers: {printable(to_see)}"


def _nothing_to_change(looks: Sequence[Look]) -> str:
    """That a dialect reads all it asks for, and how much of the export it does not ask for."""
    left = len({key for look in looks for key in look.left})
    if not left:
        return "Nothing to change is seen."
    lie = "lies" if left == 1 else "lie"
    return f"All that it asks for is read; {counted(left, 'key')} of the export {lie} in extra."


def _of_group(name: str, group: alike.Group, several: bool, columns: int) -> Iterator[str]:
    """The first of tests that are read alike, and a line for each of the others."""
    one = group.first
    if group.number > 1:
        yield ""
    which = "The first test" if group.number == 1 else f"Test {group.number}"
    if one.passed_over:
        which += " with curves"
    out_of = f", in {printable(one.source)}" if several else ""
    before = f"; {counted(one.passed_over, 'test')} without any" if one.passed_over else ""
    before += " before it" if before else ""
    yield from table.paragraph(f"{which} that {name} reads{out_of}{before}", columns)
    yield from _of_test(one, columns)
    if group.others:
        yield ""
        more = counted(len(group.others), "more test")
        said = f"{more} with the same curves, figures and keys left over; --json has their values:"
        yield from table.paragraph(said, columns)
        titles = ("label", "started", "stated", "file")
        cells = [_in_a_line(of) for of in group.others[:MOST_ALIKE]]
        layout = table.fitted(titles, cells, columns)
        yield from table.heading(layout)
        for texts in cells:
            yield from table.row(texts, layout)
    if len(group.others) > MOST_ALIKE:
        yield f"and {len(group.others) - MOST_ALIKE} more"


def _in_a_line(one: Look) -> tuple[str, str, str, str]:
    _, _, started, stated = (text for _, text in _head(one.document, one.limit))
    started = started.rpartition(" -> ")[2]
    return text_at(one.document, "link", "label"), started, stated, one.source


def _of_test(one: Look, columns: int) -> Iterator[str]:
    yield from table.facts(_head(one.document, one.limit), columns)
    yield ""
    yield from _rows(one.rows)
    for note in one.document.get("resolved", {}).get("notes", ()):
        yield from table.paragraph(f"note: {sentence(note)}", columns)
    for kind, text in one.doubts:
        yield from table.paragraph(f"{kind}: {sentence(text)}", columns)
    if one.steps:
        yield from table.paragraph(f"steps: {sentence(one.steps)}", columns)
    yield ""
    yield from _left(one.left, columns)


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
            row.missing if row.found or row.swept else (row.missing and "all"),
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
    shown = list(alike.keys(left))
    for key, more in shown[:MOST_LEFT]:
        text = left[key]
        short = text if len(text) <= _LONGEST else f"{text[: _LONGEST - 3]}..."
        yield from table.paragraph(f"{key}: {' | '.join(short.split(chr(10)))}", columns, 4)
        if more:
            last = key.rpartition("/")[2]
            yield from table.paragraph(f"and {len(more)} more that end in /{last}", columns, 8)
    if rest := sum(1 + len(more) for _, more in shown[MOST_LEFT:]):
        yield f"    and {rest} more; `sweepbook show --json` prints them all"


def _idle(dialect: "Dialect", trial: "Trial", columns: int) -> Iterator[str]:
    if trial.idle:
        of = "this test" if trial.read == 1 else f"any of the {trial.read} tests read"
        yield f"Keys of the dialect that found nothing in {of}:"
    for one in trial.idle:
        yield from table.paragraph(
            f"{next_edits.line_of(dialect, one.key)}: {one.text}", columns, 4
        )


def _edits(edits: Sequence[Edit], columns: int) -> Iterator[str]:
    if edits:
        yield "Next changes, the weightiest first:"
    for number, edit in enumerate(edits[:MOST_EDITS], 1):
        text = f"{number}. {edit.where}: {sentence(edit.what)}"
        yield from table.paragraph(text, columns, 2)
    if len(edits) > MOST_EDITS:
        yield f"  and {len(edits) - MOST_EDITS} more; make these first"
