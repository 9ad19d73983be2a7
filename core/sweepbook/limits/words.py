"""Whether a limit table uses the words of the vocabulary, and each in its sense and unit."""

from collections.abc import Iterator
from typing import Any

from sweepbook.limits.basing import perhaps

_NOT_SWEPT = {"psanext_average", "psaacr_f_average"}
"""Averages over the pairs that documents limit and no record holds."""


def word_faults(document: dict[str, Any]) -> Iterator[str]:
    """What of a table's own parameters is no word, or bounds the wrong side, or in a wrong unit."""
    from sweepbook.record import vocabulary

    known = vocabulary.load().parameters
    for word, limit in document.get("parameters", {}).items():
        place = f"$.parameters.{word}"
        if word == "wire_map":
            yield f"{place} is no curve or figure; what it must show stands in $.wire_map"
        elif word not in known:
            if word not in _NOT_SWEPT:
                yield f"{place} is no word of the vocabulary{perhaps(word, known)}"
        else:
            better, unit = known[word].better, known[word].unit
            sense = {"higher": "min", "lower": "max"}.get(better, limit["sense"])
            if limit["sense"] != sense:
                yield f"{place}.sense is {limit['sense']!r}; of {word} a {better} value is better"
            if limit["unit"] != unit:
                yield f"{place}.unit is {limit['unit']!r}; {word} is in {unit}"
