"""The words of an export: each spelling stands for one word of the record, or it is an error."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

PAIR_WORDS = ("1-2", "3-6", "4-5", "7-8")
SCHEMES = {
    "T568A": {"pair-1": "4-5", "pair-2": "3-6", "pair-3": "1-2", "pair-4": "7-8"},
    "T568B": {"pair-1": "4-5", "pair-2": "1-2", "pair-3": "3-6", "pair-4": "7-8"},
}
"""Contacts of each numbered pair, by the scheme that a job is wired to (ANSI/TIA-568, recalled)."""
COLOURS = {"blue": "pair-1", "orange": "pair-2", "green": "pair-3", "brown": "pair-4"}
"""Number of the pair of each colour, the same under both schemes (ANSI/TIA-568, recalled)."""
LISTS = ("ends", "verdicts", "purposes", "configurations", "screens", "screened")


class Ambiguous(ValueError):
    """One spelling is declared for two words that nothing tells apart."""


@dataclass(frozen=True, slots=True)
class Words:
    """Spellings of the export, each with the record's word.

    Attributes:
        parameters: candidates by spelling; more than one where the number of pairs decides.
        pairs: pair by spelling.
        ends: near or far by spelling.
        verdicts: pass, pass*, fail* or fail by spelling; "none" where the word states none.
        purposes: by spelling.
        configurations: by spelling.
        screens: continuous, open, none or not-tested by spelling.
        screened: yes or no by spelling, for connectors.
    """

    parameters: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    pairs: Mapping[str, str] = field(default_factory=dict)
    ends: Mapping[str, str] = field(default_factory=dict)
    verdicts: Mapping[str, str] = field(default_factory=dict)
    purposes: Mapping[str, str] = field(default_factory=dict)
    configurations: Mapping[str, str] = field(default_factory=dict)
    screens: Mapping[str, str] = field(default_factory=dict)
    screened: Mapping[str, str] = field(default_factory=dict)


def as_list(value: str | Sequence[str]) -> list[str]:
    """A word or a list of words, as a list."""
    return [value] if isinstance(value, str) else list(value)


def build(table: Mapping[str, Mapping[str, str | Sequence[str]]], scheme: str = "") -> Words:
    """Turn the dialect's `words` (word = spellings) round.

    Args:
        table: spellings by word, by table.
        scheme: T568A or T568B, where pairs are declared by number or colour.

    Raises:
        Ambiguous: a spelling stands for two words.
        ValueError: pairs are declared by number or colour, and no scheme says what they are.
    """
    pairs = _by_contacts(table.get("pairs", {}), scheme) or {pair: pair for pair in PAIR_WORDS}
    singles = {name: invert(table.get(name, {}), f"words.{name}") for name in LISTS}
    return Words(
        parameters=_candidates(table.get("parameters", {})),
        pairs=invert(pairs, "words.pairs"),
        **singles,
    )


def invert(table: Mapping[str, str | Sequence[str]], key: str) -> dict[str, str]:
    """Word by spelling out of spellings by word.

    Raises:
        Ambiguous: a spelling stands for two words.
    """
    found: dict[str, str] = {}
    for word, spelling in _each(table):
        if found.setdefault(spelling, word) != word:
            raise Ambiguous(
                f"{key}: {spelling!r} stands for {found[spelling]!r} and for {word!r}; keep one"
            )
    return found


def _by_contacts(table: Mapping[str, str | Sequence[str]], scheme: str) -> dict[str, Sequence[str]]:
    """Spellings by contacts, out of spellings by contacts, numbers and colours."""
    found: dict[str, list[str]] = {}
    for word, spellings in table.items():
        number = COLOURS.get(word, word)
        if number in PAIR_WORDS:
            contacts = number
        elif scheme in SCHEMES:
            contacts = SCHEMES[scheme][number]
        else:
            raise ValueError(
                f"wiring.scheme: is missing. words.pairs names {word}, and pairs 2 and 3, orange "
                "and green, go to other contacts under T568A than under T568B; say which of the "
                "two the tested links are wired to"
            )
        found.setdefault(contacts, []).extend(as_list(spellings))
    return dict(found)


def _candidates(table: Mapping[str, str | Sequence[str]]) -> dict[str, tuple[str, ...]]:
    found: dict[str, tuple[str, ...]] = {}
    for word, spelling in _each(table):
        found[spelling] = (*found.get(spelling, ()), word)
    return found


def _each(table: Mapping[str, str | Sequence[str]]) -> Iterable[tuple[str, str]]:
    for word, spellings in table.items():
        for spelling in as_list(spellings):
            yield word, spelling.strip()
