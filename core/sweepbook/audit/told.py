"""What a record says of its test, as people look for it on a test sheet.

Everything here bears a document that does not follow its schema: what is not there gives no text.
"""

from collections.abc import Iterator, Mapping
from typing import Any

from sweepbook.judging.curves import UNORDERED
from sweepbook.people.names import NOBODY, People


def head(document: Mapping[str, Any], people: People = NOBODY) -> Iterator[tuple[str, str]]:
    """What a reader looks for at the top of a sheet; what is not there gives no line."""
    link, test = _part(document, "link"), _part(document, "test")
    for end in ("near", "far"):
        there = _part(link, end)
        place = ", ".join(f"{word} {text}" for word, text in _part(there, "place").items())
        yield f"{end} end", "; ".join(filter(None, (_text(there, "termination"), place)))
    yield "cable", _joined(_part(link, "cable"), "maker", "part", "category", "construction")
    yield "limit as stated", _text(_part(test, "limit"), "as_stated")
    yield "configuration", _text(_part(test, "configuration"), "kind")
    yield "purpose", _text(test, "purpose")
    yield "tested", _text(_part(test, "started"), "as_stated")
    yield "operator", people.shown(_text(test, "operator"))
    for end in ("near", "far"):
        there = _part(test, end)
        unit = _joined(_part(there, "instrument"), "maker", "model", "serial", "firmware")
        adaptor = _joined(_part(there, "adaptor"), "part", "serial")
        yield f"{end} unit", " with adaptor ".join(filter(None, (unit, adaptor)))
    performed = _part(_part(test, "field_reference"), "performed")
    yield "field reference", _text(performed, "as_stated")
    origins = document.get("origin")
    for origin in origins if isinstance(origins, list) else []:
        yield "source", _place(origin)
        joined = origin.get("joined") if isinstance(origin, dict) else None
        for part in joined if isinstance(joined, list) else []:
            yield "joined with", _place(part)
    yield "record", _text(document, "record_id")


def _place(origin: object) -> str:
    """A file, and where in it."""
    return ", ".join(filter(None, (_text(origin, "name"), _text(origin, "locator"))))


def stated_margins(document: Mapping[str, Any]) -> dict[tuple[object, ...], float]:
    """The source's own worst margins in dB by parameter, end and pairs."""
    stated: dict[tuple[object, ...], float] = {}
    items = _part(document, "stated").get("items")
    for item in items if isinstance(items, list) else []:
        margin = _part(item, "worst_margin").get("margin_db")
        pairs = item.get("pairs", []) if isinstance(item, dict) else []
        if isinstance(margin, int | float) and isinstance(pairs, list):
            named = sorted(pairs) if item.get("parameter") in UNORDERED else pairs
            key = (_text(item, "parameter"), item.get("end"), tuple(map(str, named)))
            stated[key] = float(margin)
    return stated


def stated_verdicts(document: Mapping[str, Any]) -> dict[str, str]:
    """The source's own verdict on each parameter, the first where it states several."""
    words: dict[str, str] = {}
    items = _part(document, "stated").get("items")
    for item in items if isinstance(items, list) else []:
        if verdict := _text(item, "verdict"):
            words.setdefault(_text(item, "parameter"), verdict)
    return words


def _part(document: object, name: str) -> Mapping[str, Any]:
    """A member that is an object; an empty one where it is not."""
    part = document.get(name) if isinstance(document, Mapping) else None
    return part if isinstance(part, Mapping) else {}


def _text(part: object, name: str) -> str:
    value = part.get(name) if isinstance(part, Mapping) else None
    return value if isinstance(value, str) else ""


def _joined(part: Mapping[str, Any], *names: str) -> str:
    return " ".join(filter(None, (_text(part, name) for name in names)))
