"""A worst frequency where no worst value is stated is that of the worst margin."""

from collections.abc import Iterable
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from sweepbook.draft.reading import Understood

_OF_VALUE, _OF_MARGIN = "worst_value.frequency", "worst_margin.frequency"


def settle(found: "Understood") -> None:
    """Give the frequencies of parameters that have worst margins alone to these.

    Args:
        found: what names are made of; its figures are changed.
    """
    valued, judged, told = (
        set(_parameters(_keys(role, found), found))
        for role in ("worst_value.value", "worst_margin.margin", _OF_MARGIN)
    )
    for template, keys in [*found.figures.get(_OF_VALUE, {}).items()]:
        named = set(_parameters(keys, found))
        if named & judged and not named & (valued | told):
            del found.figures[_OF_VALUE][template]
            found.figures.setdefault(_OF_MARGIN, {})[template] = keys
    found.figures = {role: some for role, some in found.figures.items() if some}


def _keys(role: str, found: "Understood") -> list[str]:
    return [key for keys in found.figures.get(role, {}).values() for key in keys]


def _parameters(keys: Iterable[str], found: "Understood") -> Iterable[str | None]:
    return (found.naming.together([found.naming.parse(key)]).parameter for key in keys)
