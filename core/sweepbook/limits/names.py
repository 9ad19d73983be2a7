"""A limit's name as people spell it, led back to a table by the spellings the tables list."""

import re
import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass, fields
from functools import lru_cache

from sweepbook.limits.model import LimitTable, Names

Spellings = Mapping[str, frozenset[str]]

_PLUS = re.compile(r"(?<=\w)\+|\+\W*$")
"""A plus that belongs to the word before it; one between two words is punctuation."""


@dataclass(frozen=True, slots=True)
class Match:
    """Which groups of a table's spellings a name is made of."""

    groups: frozenset[str]

    @property
    def names_edition(self) -> bool:
        """Whether the name says which edition."""
        return "edition" in self.groups

    @property
    def names_configuration(self) -> bool:
        """Whether the name says which configuration."""
        return "configuration" in self.groups


@lru_cache(maxsize=4096)
def letters(spelling: str) -> str:
    """Letters and digits alone, in lower case: spaces and punctuation do not count."""
    plain = unicodedata.normalize("NFKC", spelling).casefold()
    return "".join(char for char in plain if char.isalnum())


@lru_cache(maxsize=4096)
def name_letters(spelling: str) -> str:
    """The same of the name of a limit, where a plus makes another name: "Cat 6+" is not Cat 6."""
    return "+".join(letters(part) for part in _parts(spelling))


def without_plus(spelling: str) -> str:
    """The name without a plus that makes it another; as it is where it has none."""
    parts = _parts(spelling)
    return " ".join(parts) if len(parts) > 1 else spelling


def _parts(spelling: str) -> list[str]:
    return _PLUS.split(unicodedata.normalize("NFKC", spelling))


def spellings(table: LimitTable) -> Spellings:
    """The spellings of a table, letters and digits alone, by group."""
    return spellings_of(table.names)


def spellings_of(names: Names) -> Spellings:
    """Spellings, letters and digits alone, by group."""
    return {
        field.name: frozenset(name_letters(word) for word in getattr(names, field.name))
        for field in fields(Names)
    }


def match(spelling: str, groups: Spellings) -> Match | None:
    """Take a name apart into spellings of a table.

    Args:
        spelling: the name as people write it.
        groups: the table's spellings.

    Returns:
        The groups it is made of, each taken once at most and nothing left over, or None. Where
        several ways lead through, the one that names the most.
    """
    ways = _ways(name_letters(spelling), groups, frozenset())
    best = max(ways, key=lambda way: ("edition" in way, len(way), sorted(way)), default=None)
    return Match(best) if best else None


def _ways(rest: str, groups: Spellings, used: frozenset[str]) -> set[frozenset[str]]:
    if not rest:
        return {used}
    ways: set[frozenset[str]] = set()
    for group, words in groups.items():
        if group not in used:
            for word in words:
                if rest.startswith(word):
                    ways |= _ways(rest[len(word) :], groups, used | {group})
    return ways
