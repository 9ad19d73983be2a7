"""A limit table that is based on another one and gives only what differs, made whole."""

import copy
from collections.abc import Iterable, Iterator
from difflib import get_close_matches
from typing import Any

Document = dict[str, Any]

_OWN = (
    "based_on",
    "adjustments",
    "without",
    "parameters",
    "names",
    "sources",
    "notes",
    "not_usable",
)
_NOT_TAKEN = ("variants", "configuration_note")
_GROUPS = ("body", "document", "edition", "class_or_category", "configuration")


def whole(document: Document, base: Document) -> Document:
    """Make a table whole.

    Args:
        document: follows the schema, has no `basing_faults`.
        base: the whole table that it is based on.

    Returns:
        A document as if it gave everything itself; `based_on` stays.
    """
    made = {key: copy.deepcopy(value) for key, value in base.items() if key not in _NOT_TAKEN}
    made.pop("based_on", None)
    made |= {key: value for key, value in document.items() if key not in _OWN}
    made["based_on"] = document["based_on"]
    made["series"] = document.get("series", document["document"])
    own = document.get("parameters", {})
    gone = {*document.get("without", ()), *own}
    kept = {word: limit for word, limit in made["parameters"].items() if word not in gone}
    made["parameters"] = {**kept, **own}
    doubtful = document.get("not_usable", [])
    gone |= {entry["parameter"] for entry in doubtful}
    made["not_usable"] = [x for x in made["not_usable"] if x["parameter"] not in gone] + doubtful
    made["names"] = _names(document, base)
    made["sources"] = {**made["sources"], **document.get("sources", {})}
    made["notes"] = [*made["notes"], *document.get("notes", ())]
    for adjustment in document.get("adjustments", ()):
        for word in adjustment["parameters"]:
            made["parameters"][word] = _adjusted(made["parameters"][word], adjustment)
    return made


def _names(document: Document, base: Document) -> dict[str, list[str]]:
    if "names" not in document:
        return {group: [] for group in _GROUPS}
    return {**base["names"], **document["names"]}


def _adjusted(limit: Document, adjustment: Document) -> Document:
    changed = {**limit}
    if "obligation" in adjustment:
        changed["obligation"] = adjustment["obligation"]
        changed.pop("required_when", None)
    if "tighter_by" in adjustment:
        before = limit.get("tightened", {"by": 0})["by"]
        by = before + adjustment["tighter_by"]
        changed["tightened"] = {"by": by, "source": adjustment["source"]}
    if "note" in adjustment:
        changed["notes"] = " ".join(filter(None, (limit.get("notes"), adjustment["note"])))
    return changed


def basing_faults(document: Document, base: Document) -> list[str]:
    """What a table says of the one it is based on that is not so, one line each."""
    return [
        *_without_faults(document, base),
        *_adjustment_faults(document, base),
        *_source_faults(document, base),
    ]


def _without_faults(document: Document, base: Document) -> Iterator[str]:
    for i, word in enumerate(document.get("without", ())):
        listed = {entry["parameter"] for entry in base["not_usable"]}
        if word not in base["parameters"] and word not in listed:
            yield f"$.without[{i}] is {word!r}, {_lacking(base, word)}"
        elif word in document.get("parameters", {}):
            yield f"$.without[{i}] is {word!r}, for which $.parameters gives a limit"


def _adjustment_faults(document: Document, base: Document) -> Iterator[str]:
    tightened: set[str] = set()
    for i, adjustment in enumerate(document.get("adjustments", ())):
        for word in adjustment["parameters"]:
            place = f"$.adjustments[{i}] names {word!r}"
            if word in document.get("without", ()):
                yield f"{place}, which $.without leaves out"
            elif word in document.get("parameters", {}):
                yield f"{place}, for which $.parameters gives a limit of its own; change it there"
            elif word not in base["parameters"]:
                yield f"{place}, {_lacking(base, word)}"
            elif "tighter_by" in adjustment:
                yield from _tightening_faults(place, adjustment, base["parameters"][word])
                if word in tightened:
                    yield f"{place}, which another adjustment has tightened already"
                tightened.add(word)


def _tightening_faults(place: str, adjustment: Document, limit: Document) -> Iterator[str]:
    if adjustment["unit"] != limit["unit"]:
        yield f"{place} in {adjustment['unit']}, but its limit is in {limit['unit']}"


def _source_faults(document: Document, base: Document) -> Iterator[str]:
    known = {**base["sources"], **document.get("sources", {})}
    for i, adjustment in enumerate(document.get("adjustments", ())):
        if adjustment["source"] not in known:
            yield (
                f"$.adjustments[{i}] names the source {adjustment['source']!r}, which $.sources "
                "does not have; add it there, with the clause of your contract as its text"
            )
    for id_, text in document.get("sources", {}).items():
        if base["sources"].get(id_, text) != text:
            yield (
                f"$.sources.{id_} is the name of another source in {base['path']}; "
                "give yours another name"
            )


def _lacking(base: Document, word: str) -> str:
    """That the base has no limit for a word, with what is near."""
    if any(entry["parameter"] == word for entry in base["not_usable"]):
        return (
            f"whose limit in {base['path']} is too doubtful to be used; "
            "give a limit of your own in $.parameters"
        )
    return f"for which {base['path']} sets no limit{perhaps(word, base['parameters'])}"


def perhaps(word: str, known: Iterable[str]) -> str:
    """A hint at what may be meant, or ""."""
    near = get_close_matches(word, list(known), n=1, cutoff=0.6)
    return f"; perhaps {near[0]} is meant" if near else ""
