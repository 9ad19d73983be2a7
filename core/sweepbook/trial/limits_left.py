"""What lacks for the limit of a test, and what its stated margins say of a table that may be it."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import TYPE_CHECKING, Any

from sweepbook.dialect.model import Dialect
from sweepbook.draft.document import quoted
from sweepbook.draft.field_times import Filled
from sweepbook.draft.limit_names import limit_table
from sweepbook.text import text_at
from sweepbook.trial.together import Edit

if TYPE_CHECKING:
    from sweepbook.judging.settings import JudgeSettings
    from sweepbook.limits.library import Library
    from sweepbook.record.model import Record

UNJUDGED = 1
"""Weight of that without which nothing is judged."""
_FLOATING_POINT = 1e-9

Margins = Callable[[str], tuple[int, int]]
"""By the path of a table: how many stated worst margins it yields, of how many."""


def limit(
    document: Mapping[str, Any],
    dialect: Dialect,
    library: "Library | None",
    margins: Margins | None = None,
) -> Iterator[Edit]:
    """What lacks for the limit of a test.

    Args:
        document: of the record.
        dialect: by which it was read.
        library: the limit tables at hand.
        margins: tells what a table makes of the margins that the test states.
    """
    stated = text_at(document, "test", "limit", "as_stated")
    resolved = document.get("resolved", {}).get("limit", {})
    if not stated:
        text = "no limit was found, so that nothing can be judged without --against"
        yield Edit(f"{dialect.where}, fields.test.limit", text, weight=UNJUDGED)
    elif "path" not in resolved:
        times = [text_at(document, "test", "started", name) for name in ("as_stated", "rfc3339")]
        paths = _paths(stated, [time for time in times if time], library)
        add = f'add "PATH" = {quoted(stated)}, the path out of `sweepbook limits list`'
        if paths:
            lines = " or ".join(f"{quoted(path)} = {quoted(stated)}" for path in paths)
            add = f"add {lines} if that is meant, or another path out of `sweepbook limits list`"
        why = str(resolved.get("how", "")).rstrip(".")
        told = "".join(_said(path, *margins(path)) for path in paths) if margins else ""
        alike = f"limit {stated} {paths}"
        yield Edit(f"{dialect.where}, limits", f"{why}; {add}{told}", weight=UNJUDGED, alike=alike)


def _said(path: str, yielded: int, of: int) -> str:
    """What the stated margins of a test say of a table, though it may differ where none is."""
    if not of:
        return ""
    return f". Of the worst margins that this test states {yielded} of {of} come out by {path}"


def margins_by(record: "Record", library: "Library", settings: "JudgeSettings") -> Margins:
    """What tells how many of the worst margins that a test states its curves yield by a table.

    A margin may be a whole last digit off, since an instrument may round value and limit before
    it subtracts.
    """

    def told(path: str) -> tuple[int, int]:
        from sweepbook.judging.judge import judge_with_working

        _, working = judge_with_working(record, library.tables[path], settings)
        found = [of for of in working.stated_figures if of.figure == "worst_margin"]
        apart = [max(of.low - of.stated, of.stated - of.high) - 2.0 * of.half_digit for of in found]
        return sum(one <= _FLOATING_POINT for one in apart), len(found)

    return told


def _paths(stated: str, times: Sequence[str], library: "Library | None") -> list[str]:
    """The tables that a draft offers for the name of a limit."""
    if library is None:
        return []
    filled = [Filled("test.limit", ("",), [stated]), Filled("test.started", ("",), times)]
    keys = [line.key.strip('"') for line in limit_table(filled, library).lines]
    return [key for key in keys if key in library.tables]
