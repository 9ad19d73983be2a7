"""Looking into a record's document, whatever shape it has, and naming what is found there."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from itertools import groupby
from typing import Any

from sweepbook.record import vocabulary
from sweepbook_plugins.xlsx.layout import Cell

Getter = Callable[[Any], Cell]
SINGLE = (str, float, int)
"""Types of a value that is one text or number; a tuple made once, since it is asked for often."""


def field(path: str) -> Getter:
    """A function that gives the text or number at a dotted path of a document.

    It gives None where there is none, also in a document that does not follow its schema. A number
    as a step counts within a list.
    """
    steps = _steps(path)

    def look(document: Any) -> Cell:  # noqa: ANN401 - any JSON value
        value = document
        try:
            for step in steps:
                value = value[step]
        except (KeyError, IndexError, TypeError):  # no such member, or another type than agreed
            return None
        return value if isinstance(value, SINGLE) else None

    return look


def fields(paths: Sequence[str]) -> Callable[[Any], list[Cell]]:
    """A function that gives what `field` gives for each path.

    Paths that lie side by side and lead into the same part of the document look for it once.
    """
    parts = [
        (_steps(part), tuple(path.rpartition(".")[2] for path in several))
        for part, several in groupby(paths, lambda path: path.rpartition(".")[0])
    ]

    def look(document: Any) -> list[Cell]:  # noqa: ANN401 - any JSON value
        found: list[Any] = []
        for steps, names in parts:
            part = document
            try:
                for step in steps:
                    part = part[step]
                found += map(part.get, names)
            except (KeyError, IndexError, TypeError, AttributeError):
                found += [None] * len(names)
        return [value if isinstance(value, SINGLE) else None for value in found]

    return look


def _steps(path: str) -> tuple[str | int, ...]:
    return tuple(int(step) if step.isdigit() else step for step in path.split("."))


def part_at(document: object, *path: str) -> Mapping[str, Any]:
    """The part at a place of a document; an empty one where there is none."""
    for name in path:
        document = document.get(name) if isinstance(document, dict) else None
    return document if isinstance(document, dict) else {}


def shortest_length_m(document: Mapping[str, Any]) -> float | None:
    """The length of the shortest pair as the source states it, in m."""
    return min(_lengths(document), default=None)


def title(parameter: str) -> str:
    """A parameter as people write it; a word that the vocabulary lacks stays as it is."""
    known = vocabulary.load().get(parameter)
    return known.title if known else parameter


def unit(parameter: str) -> str:
    """The unit of a curve of this parameter."""
    known = vocabulary.load().get(parameter)
    return known.unit if known else "dB"


def _lengths(document: Mapping[str, Any]) -> Iterator[float]:
    scalars = part_at(document, "results").get("scalars")
    for scalar in scalars if isinstance(scalars, list) else ():
        if isinstance(scalar, dict) and scalar.get("parameter") == "length":
            length = scalar.get("length_m")
            if isinstance(length, float | int):
                yield length
