"""How phrases of the trade are told in texts: each word list against its own other spellings."""

import re
import unicodedata
from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as some

from sweepbook.draft import phrases, spellings
from sweepbook.draft.trade_words import FIGURES, FREQUENCY, MARGIN, PARAMETERS, VERDICT_KEYS

_KNOWN = sorted(
    {
        phrase
        for words in (*PARAMETERS.values(), *FIGURES.values(), FREQUENCY, MARGIN, VERDICT_KEYS)
        for phrase in words
    }
)


def _without_marks(phrase: str) -> str:
    apart = unicodedata.normalize("NFD", phrase)
    kept = "".join(sign for sign in apart if not unicodedata.combining(sign))
    return unicodedata.normalize("NFC", kept)


_SPELT = [
    ("upper case", str.upper),
    ("first letters great", str.title),
    ("joined by a low line", lambda phrase: "_".join(phrase.split())),
    ("by a curly mark", lambda phrase: "\u2019".join(phrase.split())),
    ("by blank and hyphen", lambda phrase: " - ".join(phrase.split())),
    ("marks lost", _without_marks),
    ("umlauts in two", lambda phrase: phrase.replace("ä", "ae").replace("ö", "oe")),
    ("strokes in two", lambda phrase: phrase.replace("ø", "oe").replace("ß", "ss")),
]
"""Common practice, no source."""


@pytest.mark.parametrize(("how", "spelt"), _SPELT, ids=[how for how, _ in _SPELT])
def test_each_phrase_is_known_however_it_is_spelt(how: str, spelt: Callable[[str], str]) -> None:
    unknown = [
        (phrase, spelt(phrase)) for phrase in _KNOWN if not phrases.whole(spelt(phrase), (phrase,))
    ]
    assert not unknown, how


def test_no_letter_stands_beside_a_phrase() -> None:
    assert phrases.has("x next y", ("next",))
    assert phrases.has("localNext", ("next",))  # but where a great letter begins a word
    assert not phrases.has("xnext", ("next",))
    assert not phrases.has("nexty", ("next",))


def test_a_sign_of_words_begins_behind_one_of_sounds_alone() -> None:
    assert phrases.has("\u30da\u30a2\u9577", ("\u9577",))  # a kanji behind katakana
    assert phrases.has("\u30da\u30a2\u9577", ("\u30da\u30a2",))
    assert not phrases.has("\u9060\u9577", ("\u9577",))  # and behind another kanji it does not


@pytest.mark.parametrize("dotless", ["i", "I", "\u0131"])
def test_a_letter_that_has_lost_its_dot_is_the_same(dotless: str) -> None:
    assert phrases.has(f"l{dotless}m{dotless}t", ("limit",))


_WORDS = some.lists(some.sampled_from(["ab", "b", "abc", "bc", "\u00e4b", "d'a"]), min_size=1)


@given(
    text=some.lists(some.sampled_from(["ab", "AB", "b", "Abc", "bc", "aeb", "da", "1", "-"])),
    phrase_lists=some.lists(_WORDS, min_size=1, max_size=3),
)
def test_the_first_phrase_is_told_and_the_longest_that_begins_there(
    text: list[str], phrase_lists: list[list[str]]
) -> None:
    """Against each phrase asked for by itself."""
    said = " ".join(text)
    meanings = {f"m{at}": (" ".join(words),) for at, words in enumerate(phrase_lists)}
    found = phrases.find(said, meanings)
    each = [
        (match.start(), -len(phrase), phrase)
        for (phrase,) in meanings.values()
        if (match := spellings.expression([phrase]).search(said))
    ]
    assert (found is not None) == bool(each)
    if found is not None:
        start, _, phrase = min(each)
        assert (found.start, meanings[found.meaning]) == (start, (phrase,))


def test_a_phrase_in_a_pattern_is_taken_as_it_is_written() -> None:
    assert phrases.whole("dB.", ("db.",))
    assert not phrases.has("dBx", ("db.",))
    assert re.fullmatch(spellings.joined("a+b"), "a+b")
