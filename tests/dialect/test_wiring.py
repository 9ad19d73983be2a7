"""Pairs by number and by colour go to contacts by the scheme that the dialect declares.

ANSI/TIA-568 assigns the four pairs to the contacts of an eight-position outlet in two ways, T568A
and T568B; which contacts and colours those are is recalled here, no text of it was at hand.
"""

import pytest

from sweepbook.dialect.words import build

NUMBERS = {"pair-1": "P1", "pair-2": "P2", "pair-3": "P3", "pair-4": "P4"}
COLOURS = {"blue": "BU", "orange": ["OG", "OR"], "green": "GN", "brown": "BN"}


@pytest.mark.parametrize(
    ("scheme", "table", "contacts"),
    [
        ("T568A", NUMBERS, {"P1": "4-5", "P2": "3-6", "P3": "1-2", "P4": "7-8"}),
        ("T568B", NUMBERS, {"P1": "4-5", "P2": "1-2", "P3": "3-6", "P4": "7-8"}),
        ("T568A", COLOURS, {"BU": "4-5", "OG": "3-6", "OR": "3-6", "GN": "1-2", "BN": "7-8"}),
        ("T568B", COLOURS, {"BU": "4-5", "OG": "1-2", "OR": "1-2", "GN": "3-6", "BN": "7-8"}),
    ],
)
def test_a_scheme_says_which_contacts(
    scheme: str, table: dict[str, str | list[str]], contacts: dict[str, str]
) -> None:
    assert build({"pairs": table}, scheme).pairs == contacts


def test_number_and_colour_may_stand_for_one_pair() -> None:
    words = build({"pairs": {"pair-2": "2", "orange": "orange"}}, "T568B")
    assert words.pairs == {"2": "1-2", "orange": "1-2"}


@pytest.mark.parametrize("word", ["pair-2", "green"])
def test_without_a_scheme_nothing_is_guessed(word: str) -> None:
    with pytest.raises(ValueError, match=r"wiring\.scheme: is missing.*T568A than under T568B"):
        build({"pairs": {word: "x"}})


def test_one_spelling_for_two_pairs_is_refused() -> None:
    with pytest.raises(ValueError, match="stands for"):
        build({"pairs": {"orange": "x", "1-2": "x", "green": "x"}}, "T568B")
