"""Looking into a document at many places at once, whatever shape it has."""

from collections.abc import Callable, Sequence
from itertools import groupby, repeat
from operator import itemgetter
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


def look_for_all(
    groups: Sequence[Sequence[str]], kinds: tuple[type, ...]
) -> Callable[[Any], list[tuple[Any, ...]]]:
    """A function that gives for each group of paths what `look_for` gives, looking but once.

    Args:
        groups: of two paths or more each.
        kinds: types of the values that are told; None stands for others.
    """
    distinct = {path for group in groups for path in group}
    paths = sorted(distinct, key=lambda path: (path.rpartition(".")[0], path))
    look, place = look_for(paths, kinds), {path: at for at, path in enumerate(paths)}
    picks = [itemgetter(*map(place.__getitem__, group)) for group in groups]

    def look_at_all(document: Any) -> list[tuple[Any, ...]]:  # noqa: ANN401 - any JSON value
        found = look(document)
        return [pick(found) for pick in picks]

    return look_at_all


def _steps(path: str) -> _Steps:
    steps = path.split(".") if path else ()
    return tuple(int(step) if step.isdigit() else step for step in steps)
