"""Looking into a document at many places at once, whatever shape it has."""

from collections.abc import Callable, Sequence
from itertools import groupby, repeat
from typing import Any

Look = Callable[[Any], list[Any]]
_Steps = tuple[str | int, ...]


def look_for(paths: Sequence[str], kinds: tuple[type, ...], missing: object = None) -> Look:
    """A function that gives the values at dotted paths of a document, as one list.

    Paths that lie side by side and lead into the same part of the document look for it once. A
    number as a step counts within a list.

    Args:
        paths: "link.near.termination", "origin.0.name".
        kinds: types of the values that are told.
        missing: stands for a value that is not there or is of another type.
    """
    parts = [
        (_steps(part), tuple(path.rpartition(".")[2] for path in several))
        for part, several in groupby(paths, lambda path: path.rpartition(".")[0])
    ]

    absent = repeat(missing)
    told = frozenset((*kinds, type(missing)))

    def look(document: Any) -> list[Any]:  # noqa: ANN401 - any JSON value
        found: list[Any] = []
        for steps, names in parts:
            part = document
            try:
                for step in steps:
                    part = part[step]
                found += map(part.get, names, absent)
            except (KeyError, IndexError, TypeError, AttributeError):  # another shape than agreed
                found += [missing] * len(names)
        if told.issuperset(map(type, found)):
            return found
        return [value if isinstance(value, kinds) else missing for value in found]

    return look


def _steps(path: str) -> _Steps:
    steps = path.split(".") if path else ()
    return tuple(int(step) if step.isdigit() else step for step in steps)
