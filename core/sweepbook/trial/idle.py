"""What a dialect says that found nothing in a record."""

from collections.abc import Iterator, Mapping
from typing import Any, NamedTuple

from sweepbook.dialect.model import Dialect
from sweepbook.dialect.unfilled import has_text


class Idle(NamedTuple):
    """A key of a dialect that found nothing.

    Attributes:
        key: of the dialect, e.g. "fields.test.operator".
        text: what stands at its right.
    """

    key: str
    text: str


def idle(dialect: Dialect, document: Mapping[str, Any]) -> Iterator[Idle]:
    """Keys of `fields` and words of `words` that nothing in the record comes from.

    A key whose text does not fit its field was found all the same.
    """
    meaning = dialect.meaning
    for path, keys in meaning.fields.items():
        if path not in meaning.defaults and not has_text(document, path, keys):
            yield Idle(f"fields.{path}", " or ".join(map(repr, keys)))
    yield from _words(dialect, document)


def _words(dialect: Dialect, document: Mapping[str, Any]) -> Iterator[Idle]:
    words = dialect.meaning.words
    results, stated = document.get("results", {}), document.get("stated", {})
    entries = [*results.get("sweeps", ()), *results.get("scalars", ()), *stated.get("items", ())]
    parameters = {entry["parameter"] for entry in (*entries, *document["test"].get("accuracy", ()))}
    declared: dict[str, list[str]] = {}
    for spelling, some in words.parameters.items():
        for parameter in some:
            declared.setdefault(parameter, []).append(spelling)
    for parameter, spellings in declared.items():
        if parameter not in parameters and parameter != "wire_map":
            yield Idle(f"words.parameters.{parameter}", " or ".join(map(repr, spellings)))
    held = {
        "ends": {entry.get("end") for entry in entries},
        "pairs": {pair for entry in entries for pair in entry.get("pairs", ())},
    }
    for table, spelt in (("ends", words.ends), ("pairs", words.pairs)):
        for spelling, word in spelt.items():
            if word not in held[table]:
                yield Idle(f"words.{table}.{word}", repr(spelling))
