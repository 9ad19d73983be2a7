"""The words for what is measured, from vocabulary-1.json."""

import json
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from importlib.resources import files
from typing import Any

COUNT = {"none": 0, "single": 1, "unordered": 2, "ordered": 2}
"""How many pairs each kind of pairs has."""


@dataclass(frozen=True, slots=True)
class Parameter:
    """One thing that is measured or computed.

    Attributes:
        parameter: the word.
        title: what people call it.
        unit: dB, ns, m, ohm, percent, or 1 for a count.
        values: members of a record that may hold its value, the usual one first.
        pairs: none, single, unordered or ordered (disturbing, disturbed).
        end: none, optional, or each where a sweep must say which.
        better: higher, lower or none.
        obtained_from: parameters that it can be computed from.
        definition, formula, source: in words.
    """

    parameter: str
    title: str
    unit: str
    values: tuple[str, ...]
    pairs: str
    end: str
    better: str
    obtained_from: tuple[str, ...]
    definition: str
    formula: str
    source: str

    @property
    def value_name(self) -> str:
        """The member that usually holds its value, e.g. `value_db`; "" for the wire map."""
        return self.values[0] if self.values else ""

    @property
    def pair_count(self) -> int:
        """How many pairs a sweep of it has."""
        return COUNT[self.pairs]


@dataclass(frozen=True, slots=True)
class Vocabulary:
    """All words.

    Attributes:
        parameters: by word, in the order in which people expect them.
    """

    parameters: Mapping[str, Parameter]

    def get(self, word: str) -> Parameter | None:
        """The parameter of a word; None for a word that is not in the vocabulary."""
        return self.parameters.get(word)


@lru_cache(maxsize=1)
def load() -> Vocabulary:
    """Read the vocabulary that is installed with the program."""
    text = files("sweepbook_schemas").joinpath("vocabulary-1.json").read_text(encoding="utf-8")
    entries: list[dict[str, Any]] = json.loads(text)["parameters"]
    return Vocabulary({entry["parameter"]: _parameter(entry) for entry in entries})


def _parameter(entry: dict[str, Any]) -> Parameter:
    lists = {name: tuple(entry[name]) for name in ("values", "obtained_from")}
    return Parameter(**{**entry, **lists})
