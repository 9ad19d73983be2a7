"""Fields of a dialect that no test of a run had a text for: left out there, or misspelt here."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from sweepbook.dialect.fields import EXTERNAL_IDS, FIELDS
from sweepbook.dialect.model import Dialect

if TYPE_CHECKING:
    from sweepbook.record.model import Record

MOST_NAMED = 5
_HOLDERS = {path: "results.wire_map" for path, kind in FIELDS.items() if kind == "wires"}
"""Members that are there, in another form, where a text was found that did not fit its field."""


@dataclass
class _Tally:
    """How many tests were read by a dialect, and what none of them has, keys by path."""

    left: dict[str, Sequence[str]]
    tests: int = 0


@dataclass
class Unfilled:
    """A tally over the records of a run.

    One test may well lack what others have, and an export may lack throughout what its dialect
    provides for. So this is for people to know, and no fault.
    """

    _tallies: dict[Dialect, _Tally] = field(default_factory=dict)

    def see(self, record: "Record", dialect: Dialect) -> None:
        """Count a record that was read by a dialect."""
        tally = self._tallies.get(dialect)
        if tally is None:
            tally = self._tallies[dialect] = _Tally(_expected(dialect))
        tally.tests += 1
        has = [path for path, keys in tally.left.items() if has_text(record.document, path, keys)]
        for path in has:
            del tally.left[path]

    def remarks(self) -> Iterator[str]:
        """Yield a sentence for each dialect that has such fields."""
        for dialect, tally in self._tallies.items():
            if not tally.left:
                continue
            named = [
                f"{' or '.join(map(repr, keys))} (fields.{path})"
                for path, keys in tally.left.items()
            ]
            more = len(named) - MOST_NAMED
            rest = f" and {more} more" if more > 0 else ""
            tests = f"any of {tally.tests} tests" if tally.tests > 1 else "the one test"
            yield (
                f"nothing stands under {', '.join(named[:MOST_NAMED])}{rest} in {tests} read by "
                f"the dialect {dialect.name}. If the export has it by another name, change the "
                "dialect."
            )


def _expected(dialect: Dialect) -> dict[str, Sequence[str]]:
    """The keys of each field for which the dialect has no text of its own."""
    meaning = dialect.meaning
    found: dict[str, Sequence[str]] = {
        path: keys for path, keys in meaning.fields.items() if path not in meaning.defaults
    }
    if meaning.external_ids:
        found[EXTERNAL_IDS] = tuple(meaning.external_ids.values())
    return found


def has_text(document: Mapping[str, Any], path: str, keys: Sequence[str]) -> bool:
    """Whether a record has a text that was found for a field, one that did not fit it included."""
    if any(_at(document, ("extra", key)) is not None for key in keys):
        return True
    return _at(document, _HOLDERS.get(path, path).split(".")) is not None


def _at(document: object, names: Sequence[str]) -> object:
    for name in names:
        document = document.get(name) if isinstance(document, Mapping) else None
    return document
