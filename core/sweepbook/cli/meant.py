"""Which record a person means by a label or the beginning of an id."""

from collections.abc import Mapping
from difflib import get_close_matches
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar

from sweepbook.errors import SweepbookError
from sweepbook.record.links import plain_label
from sweepbook.text import utf8_safe

if TYPE_CHECKING:
    from sweepbook.book.events import Listed
    from sweepbook.project.model import Project

MOST_NAMED = 12
Asked = TypeVar("Asked", str, None, str | None)
_NONE: "Mapping[str, Listed]" = {}


def is_meant(asked: str | None, label: str, record_id: str) -> bool:
    """Whether a label, or the beginning of a record id, asks for this record; None asks for any."""
    if asked is None:
        return True
    return plain_label(asked) == plain_label(label) or (
        asked.startswith("sb0-") and record_id.startswith(asked)
    )


def by_one_form(
    project: "Project | None", asked: Asked, labels: Mapping[str, str]
) -> tuple[Asked, dict[str, str]]:
    """What was asked for, and labels by record id, in the one form of a job.

    Args:
        project: of the job; None where labels stay as they are.
        asked: a label, or the beginning of a record id; None for any.
        labels: of records.
    """
    if project is None:
        return asked, dict(labels)
    one = project.spellings.label
    told = {record_id: one(label) for record_id, label in labels.items()}
    return (one(asked) if isinstance(asked, str) else asked), told


def _more(labels: list[str]) -> str:
    more = len(labels) - MOST_NAMED
    return f" and {more} more" if more > 0 else ""


def none_meant(
    path: Path, asked: str | None, labels: list[str], at_rest: "Mapping[str, Listed]" = _NONE
) -> SweepbookError:
    """The fault that nothing, or too much, goes by what was asked for.

    Args:
        path: where it was looked for.
        asked: for, None for the one test that there is.
        labels: of the tests there.
        at_rest: tests there whose sources are withdrawn, by record id.
    """
    resting = [one for one in at_rest.values() if is_meant(asked, one.label, one.record_id)]
    if asked and resting:
        from sweepbook.book.layout import open_book

        see = utf8_safe(str(open_book(path).record(resting[0].record_id)))
        return SweepbookError(
            f"{path.name}: {asked!r} was tested, and the file that it came in is withdrawn.",
            f"`sweepbook withdraw {utf8_safe(str(path))}` says who withdrew it and why. "
            f"To see it all the same: sweepbook show {see}",
        )
    if not labels:
        return SweepbookError(
            f"{path.name}: there is no test in it.", "Run `sweepbook check` on it."
        )
    if asked is None:
        named = ", ".join(labels[:MOST_NAMED]) + _more(labels)
        return SweepbookError(f"{path.name} has several tests.", f"Add a label: {named}.")
    near = get_close_matches(asked, labels, n=3, cutoff=0.5)
    hint = f"Near it: {', '.join(near)}." if near else "`sweepbook check` lists every label."
    return SweepbookError(f"{path.name}: no test has the label {asked!r}.", hint)
