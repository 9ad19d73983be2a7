"""Figures that an export gives once for a link, where a record has one for each pair."""

import re
from collections.abc import Iterator, Mapping
from functools import lru_cache

from sweepbook.dialect.model import Dialect
from sweepbook.dialect.names import without_pairs
from sweepbook.dialect.unit_titles import is_number

_PAIR = re.compile(r"\s*\{(?:pairs|first_pair|second_pair)\}")


def pairless(dialect: Dialect, extra: Mapping[str, str]) -> Iterator[tuple[str, str]]:
    """Yield the key and a sentence for each number in `extra` that would be a figure of a pair.

    Args:
        dialect: its templates of values are asked, with and without what they say of pairs.
        extra: texts by key that nothing took.
    """
    known = _titles(dialect)
    for key, text in extra.items() if known else ():
        parameter = known.get(key)
        if parameter is not None and is_number(text, dialect):
            yield (
                key,
                f"{key!r} reads as {parameter} and names no pair, while a record has one of each "
                "pair; what stands there is kept in extra and not judged; if the export has the "
                "pair, see words.pairs and a template with {pairs}; if its handbook says that this "
                "is the worst of the pairs, take it with worst_value.value in place of value",
            )


@lru_cache(maxsize=64)
def _titles(dialect: Dialect) -> Mapping[str, str]:
    """Parameter by each text that would name a figure if it named a pair."""
    templates = dialect.meaning.figures.get("value", ())
    found: dict[str, str] = {}
    for template in dict.fromkeys([*templates, *_values(dialect.layout)]):
        bare = _PAIR.sub("", template).strip()
        if "{parameter}" in bare:
            found |= without_pairs(bare, dialect.meaning.grammar)
    return {text: parameter for text, parameter in found.items() if text not in _taken(dialect)}


def _taken(dialect: Dialect) -> frozenset[str]:
    return dialect.meaning.field_keys | dialect.meaning.figure_keys.keys()


def _values(part: object) -> Iterator[str]:
    """Every template of values of figures, anywhere in plain data."""
    if isinstance(part, Mapping):
        for name, inner in part.items():
            if name != "value":
                yield from _values(inner)
            elif isinstance(inner, str):
                yield inner
            elif isinstance(inner, list | tuple):
                yield from (text for text in inner if isinstance(text, str))
    elif isinstance(part, list | tuple):
        for inner in part:
            yield from _values(inner)
