"""Whether a record follows record-1, and where it does not."""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import islice
from typing import Any

from sweepbook.record import acceptance, arrays, canonical, checks, identity, skeleton, words
from sweepbook.record.schema import NAME as SCHEMA

__all__ = ["MOST", "SCHEMA", "SchemaProblem", "problems"]

MOST = 100
"""Problems of one record that are listed; a damaged one may have thousands."""

_LISTS = frozenset(f"$.results{name}" for name in ("", ".grids", ".sweeps", ".scalars"))
_TIMED = ("$.test", "$.provenance")
_ITEM = re.compile(r"\$\.results\.(?:grids|sweeps|scalars)\[[0-9]+\]")


@dataclass(frozen=True, slots=True)
class SchemaProblem:
    """One place where a record does not follow record-1.

    Attributes:
        path: JSON path, e.g. `$.results.sweeps[3].value_db`.
        message: what is wrong there.
    """

    path: str
    message: str


def problems(
    document: Mapping[str, Any],
    most: int = MOST,
    proven_id: str = "",
    skeleton: dict[str, Any] | None = None,
) -> tuple[SchemaProblem, ...]:
    """Every place where a document does not follow record-1; none where it does.

    The schema is asked about the document without its number arrays; these are checked by array
    operations. What the schema cannot say (lengths, grids, calendar days, words of the vocabulary,
    the identity) is checked where the schema found nothing wrong.

    Args:
        document: of a record, arrays as float64[n] or as plain lists.
        most: problems that are listed; one more is given then, which says that there are others.
        proven_id: the identity, where it was worked out from the document already.
        skeleton: as a `Record` that was just read has it.
    """
    faults = _faults(document, proven_id, skeleton)
    found = [SchemaProblem(*fault) for fault in islice(faults, most + 1)]
    if len(found) > most:
        found[most] = SchemaProblem("$", f"has more than {most} problems; no more are listed")
    return tuple(found)


def _faults(
    document: Mapping[str, Any], proven_id: str, read: dict[str, Any] | None
) -> Iterator[tuple[str, str]]:
    whole = dict(document)
    by_schema: list[str] = []
    if read is None or not acceptance.accepts(read, plain=True):
        aside = arrays.set_aside(document)
        if not aside.ready:
            whole = arrays.with_arrays(document)
            aside = arrays.set_aside(whole)
        for fault in skeleton.faults(aside.skeleton):
            by_schema.append(fault[0])
            yield fault
        yield from checks.arrays(aside.arrays)
    if whole.get("kind") == "balanced-link":
        yield from _beyond_the_schema(whole, by_schema)
    if not by_schema:
        yield from _identity(whole, proven_id)


def _beyond_the_schema(document: dict[str, Any], wrong: list[str]) -> Iterator[tuple[str, str]]:
    """Check what the schema cannot say, wherever it has found nothing wrong."""
    items = [_ITEM.match(path) for path in wrong]
    skipped = frozenset(item.group() for item in items if item)
    others = [path for path, item in zip(wrong, items, strict=True) if not item]
    if "results" in document and not _LISTS.intersection(others):
        yield from checks.sweeps(document["results"], skipped)
        yield from words.faults(document["results"], skipped)
    if "test" in document and not any(path.startswith(_TIMED) for path in others):
        yield from checks.days(document)


def _identity(document: dict[str, Any], proven_id: str) -> Iterator[tuple[str, str]]:
    try:
        rightly = proven_id or identity.record_id(document)
    except canonical.NoCanonicalText as error:
        yield "$", error.message
        return
    if document["record_id"] != rightly:
        yield "$.record_id", f"does not follow from what the record says, which gives {rightly}"
