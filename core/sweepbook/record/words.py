"""Figures and sweeps against the vocabulary: pairs, end and unit that each parameter has."""

from collections.abc import Iterator, Mapping
from functools import lru_cache
from typing import Any

from sweepbook.record.checks import Fault
from sweepbook.record.vocabulary import COUNT, Parameter, load

_PLACES = {"scalars": "single figure", "sweeps": "sweep"}


def faults(results: Mapping[str, Any], skipped: frozenset[str]) -> Iterator[Fault]:
    """Yield figures and sweeps of known parameters that have other pairs, ends or units.

    Args:
        results: of a document.
        skipped: paths of figures and sweeps that do not follow the schema and are left out.
    """
    vocabulary = load()
    for place in _PLACES:
        for position, figure in enumerate(results.get(place, ())):
            if not skipped and _is_fine(
                place == "sweeps", figure["parameter"], len(figure["pairs"]), frozenset(figure)
            ):
                continue
            path = f"$.results.{place}[{position}]"
            parameter = None if path in skipped else vocabulary.get(figure["parameter"])
            if parameter is not None:
                yield from _faults(figure, parameter, path, place == "sweeps")


@lru_cache(maxsize=1024)
def _is_fine(swept: bool, word: str, pairs: int, members: frozenset[str]) -> bool:
    """Whether a figure with so many pairs and these members is as its parameter has it."""
    parameter = load().get(word)
    like_it = {**dict.fromkeys(members), "pairs": range(pairs)}
    return parameter is None or not any(_faults(like_it, parameter, "", swept))


def _faults(
    figure: Mapping[str, Any], parameter: Parameter, path: str, swept: bool
) -> Iterator[Fault]:
    word, count = parameter.parameter, len(figure["pairs"])
    right = (COUNT[parameter.pairs],) if swept else (0, COUNT[parameter.pairs])
    if count not in right:
        yield f"{path}.pairs", f"{word} has {parameter.pair_count} pairs here, not {count}"
    if parameter.end == "none" and "end" in figure:
        yield f"{path}.end", f"{word} has no end"
    if parameter.end == "each" and swept and "end" not in figure:
        yield path, f"a sweep of {word} says at which end it was measured, near or far"
    allowed = set(parameter.values)
    if swept and "value_db" in allowed:
        allowed.add("complex")
    if not allowed & figure.keys():
        unit = parameter.unit if parameter.values else "a place of its own"
        yield path, f"{word} is given in {unit}: {', '.join(parameter.values) or 'see record-1.md'}"
