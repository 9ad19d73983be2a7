"""A record as corrections make it: a view beside the evidence, which stays as it is."""

from collections.abc import Iterable, Mapping
from dataclasses import replace
from typing import Any

from sweepbook.corrections.model import Correction, Unfit
from sweepbook.record.model import Corrected, Record

_HOLDER = {"test.limit": "as_stated", "test.configuration": "kind"}
"""Fields that are an object of the record, with the member that holds what is corrected."""


def apply(record: Record, corrections: Iterable[Correction]) -> Record:
    """Apply corrections in their order; each starts from what those before it made.

    Args:
        record: the evidence; it is not changed.
        corrections: of this record.

    Returns:
        The record as corrected, which knows the evidence and what was applied; the record itself
        where there are no corrections.
    """
    document, applied, unfit = record.document, [], []
    for correction in corrections:
        found = value_of(document, correction.field)
        if found == correction.old:
            document = _with(document, correction.field, correction.new)
            applied.append(correction)
        else:
            unfit.append(Unfit(correction, found))
    if not applied and not unfit:
        return record
    corrected = Corrected(record, tuple(applied), tuple(unfit))
    limit = any(correction.field == "test.limit" for correction in applied)
    if limit and "test.limit" not in corrected.taken_back:
        document = _without_resolved_limit(document)
    return replace(record, document=document, corrected=corrected)


def value_of(document: Mapping[str, Any], field: str) -> str:
    """What a record says in a field that can be corrected; "" where it says nothing."""
    holder: Any = document
    for name in field.split("."):
        holder = holder.get(name) if isinstance(holder, Mapping) else None
    if field in _HOLDER and isinstance(holder, Mapping):
        holder = holder.get(_HOLDER[field], holder.get("as_stated"))
    return holder if isinstance(holder, str) else ""


def _with(document: Mapping[str, Any], field: str, value: str) -> dict[str, Any]:
    """The document with another value in a field; what is not on the way to it is shared."""
    new: Any = value or None
    if new is not None and field in _HOLDER:
        new = {_HOLDER[field]: value}
    return _set(document, field.split("."), new)


def _set(tree: Mapping[str, Any], path: list[str], value: object) -> dict[str, Any]:
    name, *rest = path
    found = tree.get(name)
    if rest:
        value = _set(found if isinstance(found, Mapping) else {}, rest, value) or None
    others = {key: part for key, part in tree.items() if key != name or value is not None}
    return others if value is None else {**others, name: value}


def _without_resolved_limit(document: Mapping[str, Any]) -> dict[str, Any]:
    """What the reader made of the limit's name no longer holds once another one is meant."""
    left = {name: part for name, part in document.get("resolved", {}).items() if name != "limit"}
    others = {name: part for name, part in document.items() if name != "resolved"}
    return {**others, "resolved": left} if left else others
