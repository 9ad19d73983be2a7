"""One test as a dialect read it: what was found, doubtful and left over, and what to change."""

from collections.abc import Iterable, Mapping, Sequence
from typing import TYPE_CHECKING, Any, NamedTuple

from sweepbook.draft.key_offers import FURTHER
from sweepbook.errors import ReadProblem
from sweepbook.source import Source
from sweepbook.text import text_at
from sweepbook.trial import counts, next_edits
from sweepbook.trial.limits_left import margins_by
from sweepbook.trial.together import Edit

if TYPE_CHECKING:
    from sweepbook.dialect.model import Dialect
    from sweepbook.formats import Format
    from sweepbook.judging.settings import JudgeSettings
    from sweepbook.limits.library import Library
    from sweepbook.record.model import Record


class Look(NamedTuple):
    """What a trial says of one test.

    Attributes:
        source: name of the file.
        document: the record.
        limit: path of its limit; None where none is known.
        rows: what was found beside what the limit asks for.
        doubts: kind and text of what physics says against it.
        steps: what is said of curves too coarse to prove a pass; "" for nothing.
        left: texts by key that nothing took.
        edits: the changes that it asks for, the weightiest first.
        passed_over: how many tests of its file before it have no curves.
    """

    source: str
    document: Mapping[str, Any]
    limit: str | None
    rows: Sequence[counts.Row]
    doubts: Sequence[tuple[str, str]]
    steps: str
    left: Mapping[str, str]
    edits: Sequence[Edit]
    passed_over: int


def look(
    dialect: "Dialect",
    source: Source,
    record: "Record",
    problems: Sequence[ReadProblem],
    library: "Library",
    settings: "JudgeSettings",
    reader: "Format | None" = None,
    passed_over: int = 0,
) -> Look:
    """Look at a record.

    Args:
        dialect: by which it was read.
        source: out of which.
        record: the record.
        problems: what was told of it.
        library: where its limit is.
        settings: how it is judged.
        reader: the format that reads by it.
        passed_over: how many tests of its file before it have no curves.
    """
    from sweepbook.judging.judge import judge_with_working
    from sweepbook.trial.steps import coarse

    document = record.document
    path = document.get("resolved", {}).get("limit", {}).get("path")
    limit = library.tables.get(path) if path else None
    _, working = judge_with_working(record, limit, settings)
    rows = counts.rows(document, working.measured_curves, limit)
    wiring = dialect.meaning.wiring.key  # read, and kept in extra besides
    left = {key: of for key, of in document.get("extra", {}).items() if key != wiring}
    edits = next_edits.edits(
        dialect,
        document,
        rows,
        problems,
        working.doubts,
        _places(source, left),
        reader,
        library,
        margins_by(record, library, settings),
    )
    return Look(
        source.name,
        document,
        path,
        rows,
        [(doubt.kind.value, doubt.text) for doubt in working.doubts],
        coarse(working),
        left,
        list(edits),
        passed_over,
    )


def to_json(one: Look) -> dict[str, Any]:
    """What a trial says of one test, as a member of `tests` of the schema trial-0."""
    document = one.document
    return {
        "source": one.source,
        "record_id": document["record_id"],
        "label": text_at(document, "link", "label"),
        "locator": document["origin"][0]["locator"],
        "limit": {"as_stated": text_at(document, "test", "limit", "as_stated"), "path": one.limit},
        "started": {
            "as_stated": text_at(document, "test", "started", "as_stated"),
            "rfc3339": text_at(document, "test", "started", "rfc3339"),
        },
        "verdict": {
            "as_stated": text_at(document, "stated", "overall", "as_stated"),
            "read_as": text_at(document, "stated", "overall", "verdict"),
        },
        "parameters": [
            {
                "parameter": row.parameter,
                "found": row.found,
                "expected": row.expected,
                "missing": row.missing,
                "frequencies": row.frequency,
                "values": row.values,
            }
            for row in one.rows
        ],
        "doubts": [{"kind": kind, "text": text} for kind, text in one.doubts],
        "steps": one.steps,
        "left_over": dict(one.left),
        "changes": changes(one.edits),
    }


def changes(edits: Iterable[Edit]) -> list[dict[str, str]]:
    """Changes worth making, as in the schema trial-0."""
    return [{"where": edit.where, "what": edit.what} for edit in edits]


def _places(source: Source, keys: Iterable[str]) -> dict[str, str]:
    """The first line of a file that holds each key, of those that a text table has as they are."""
    lines = source.head.decode("utf-8", "replace").splitlines()
    found = {}
    for key in keys:
        last = FURTHER.sub("", key).rpartition("/")[2]
        number = next((n for n, line in enumerate(lines, 1) if last and last in line), None)
        if number is not None:
            found[key] = f"line {number} of {source.name}"
    return found
