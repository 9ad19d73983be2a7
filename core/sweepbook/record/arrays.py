"""Where a record holds arrays of numbers, and the one way they get in and out of it.

On disk they are plain JSON arrays. In memory they are float64, in one dimension and read-only, so
that no number ever becomes a Python object on its way to a verdict.
"""

from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

F64 = NDArray[np.float64]
Places = Mapping[str, Any]
EACH = "*"
HERE: Places = MappingProxyType({})

_COMPLEX = dict.fromkeys(("real", "imaginary", "magnitude", "magnitude_db", "phase_deg"), HERE)
BALANCED_LINK: Places = {
    "test": {"accuracy": {EACH: {"curve": {"frequency_mhz": HERE, "value_db": HERE}}}},
    "results": {
        "grids": {EACH: {"frequency_mhz": HERE}},
        "sweeps": {EACH: {"value_db": HERE, "delay_ns": HERE, "complex": _COMPLEX}},
    },
}
"""Members that lead to number arrays; `EACH` stands for every item of a list."""

_NEVER_NEGATIVE = (".frequency_mhz", ".magnitude")
_BY_KIND = {"balanced-link": BALANCED_LINK}


def places(document: Mapping[str, Any]) -> Places:
    """Where a document of its kind holds number arrays; nowhere for an unknown kind."""
    kind = document.get("kind")
    return _BY_KIND.get(kind, {}) if isinstance(kind, str) else {}


def replaced(
    value: Any,  # noqa: ANN401 - any JSON value
    where: Places,
    change: Callable[[Any, str], Any],
    path: str = "$",
) -> Any:  # noqa: ANN401 - any JSON value
    """A copy with every number array changed; what leads to none is shared, not copied.

    Args:
        value: a JSON value, arrays allowed.
        where: the places below it.
        change: called with the array, or whatever stands in its place, and its JSON path.
        path: JSON path of the value.
    """
    if where is HERE:
        return change(value, path)
    if isinstance(value, dict):
        return {
            name: replaced(item, where[name], change, f"{path}.{name}") if name in where else item
            for name, item in value.items()
        }
    if isinstance(value, list | tuple) and EACH in where:
        below = where[EACH]
        return [
            replaced(item, below, change, f"{path}[{position}]")
            for position, item in enumerate(value)
        ]
    return value


def is_signed(path: str) -> bool:
    """Whether numbers of the array at a JSON path may be negative."""
    return not path.endswith(_NEVER_NEGATIVE) and not path.startswith("$.test.accuracy")


def with_arrays(document: Mapping[str, Any]) -> dict[str, Any]:
    """A copy whose number arrays are read-only float64[n]; anything else there stays as it is."""
    made: dict[str, Any] = replaced(dict(document), places(document), as_array)
    return made


class Aside(NamedTuple):
    """A document, and its arrays beside it.

    Attributes:
        skeleton: a copy whose arrays are short lists; empty ones stay so.
        arrays: by JSON path.
        ready: whether every array is as `with_arrays` makes it.
    """

    skeleton: dict[str, Any]
    arrays: dict[str, F64]
    ready: bool


def set_aside(document: Mapping[str, Any]) -> Aside:
    """Set the arrays of a document aside; lists in the place of arrays stay where they are."""
    found: dict[str, F64] = {}
    ready = True

    def take(value: Any, path: str) -> Any:  # noqa: ANN401 - any JSON value
        nonlocal ready
        if not isinstance(value, np.ndarray):
            ready = False
            return value
        ready &= value.ndim == 1 and value.dtype == np.float64 and not value.flags.writeable
        found[path] = value
        return [0] if value.size else []

    skeleton: dict[str, Any] = replaced(dict(document), places(document), take)
    return Aside(skeleton, found, ready)


def as_array(value: Any, _path: str) -> Any:  # noqa: ANN401 - any JSON value
    """What stands in the place of an array: read-only float64[n], or itself if no list of numbers.

    Minus zero becomes zero: no measurement means the difference, and JSON's canonical text has
    none either.
    """
    if isinstance(value, np.ndarray):
        if value.ndim != 1 or value.dtype.kind not in "iuf":
            return value.tolist()
        if value.dtype == np.float64 and not value.flags.writeable:
            return value
    elif not isinstance(value, list | tuple) or not _are_numbers(value):
        return value
    try:
        array = np.array(value, dtype=np.float64) + 0.0
    except OverflowError:
        return value
    array.setflags(write=False)
    return array


def _are_numbers(values: list[Any] | tuple[Any, ...]) -> bool:
    kinds = set(map(type, values))
    return kinds <= {int, float} or all(
        issubclass(kind, int | float | np.number) and kind is not bool for kind in kinds
    )
