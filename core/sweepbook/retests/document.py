"""The retest list as a JSON document and as rows of a table."""

from collections.abc import Iterator, Sequence
from dataclasses import asdict
from typing import TYPE_CHECKING, Any

from sweepbook import __version__
from sweepbook.errors import ReadProblem
from sweepbook.retests.collect import Retest
from sweepbook.retests.suspect import words

if TYPE_CHECKING:
    from sweepbook.schedule.reconcile import Item

SCHEMA = "urn:sweepbook:retests-0"
LEVELS = ("site", "building", "floor", "space", "cabinet", "unit", "panel", "port")
TITLES = (
    *LEVELS, "label", "state", "reason", "remarks", "look first", "limit", "record"
)  # fmt: skip


def of(
    found: Sequence[Retest],
    problems: Sequence[ReadProblem] = (),
    besides: "Sequence[Item] | None" = None,
    withdrawn: str = "",
) -> dict[str, Any]:
    """The document: one entry a link, in the order of the list.

    Args:
        found: the list.
        problems: in reading.
        besides: what a schedule leaves open besides; None where there is no schedule.
        withdrawn: what of the book is not counted, when and why; "" for nothing.
    """
    return {
        "schema": SCHEMA,
        "tool": {"name": "sweepbook", "version": __version__},
        "retests": [_entry(retest) for retest in found],
        "open_besides": None if besides is None else [_besides(item) for item in besides],
        "problems": [
            {"source": problem.source, "place": problem.place, "message": problem.message}
            for problem in problems
        ],
        **({"withdrawn": withdrawn} if withdrawn else {}),
    }


def rows(found: Sequence[Retest]) -> Iterator[tuple[str, ...]]:
    """One row a link, a text for each of `TITLES`."""
    for retest in found:
        levels = dict(retest.place)
        yield (
            *(levels.get(level, "") for level in LEVELS),
            retest.label,
            retest.state,
            retest.reason,
            " ".join(retest.remarks),
            " ".join(looks(retest)),
            retest.limit_path,
            retest.record_id,
        )


def looks(retest: Retest) -> tuple[str, ...]:
    """All suspects of a link, a sentence each."""
    return tuple(f"{said[:1].upper()}{said[1:]}." for said in map(words, retest.suspects))


def _besides(item: "Item") -> dict[str, Any]:
    return {
        "label": item.label,
        "state": item.state.value,
        "reason": item.reason,
        "place": dict(item.place),
        "line": item.scheduled.line if item.scheduled else None,
    }


def _entry(retest: Retest) -> dict[str, Any]:
    entry = asdict(retest)
    entry["place"] = dict(retest.place)
    entry["remarks"] = list(retest.remarks)
    entry["limit"] = entry.pop("limit_path") or None
    entry["suspects"] = [
        {**asdict(suspect), "end": suspect.end or None, "pairs": list(suspect.pairs)}
        for suspect in retest.suspects
    ]
    return entry
