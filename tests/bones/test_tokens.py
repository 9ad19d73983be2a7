"""Texts that are cut apart late are those that Python cuts apart at once."""

from hypothesis import given
from hypothesis import strategies as st

from sweepbook.tokens import Tokens, split

LISTS = st.text(" \n\t\r\x0b\x1f\x85\xa01234,;.<-", max_size=30)
TEXTS = st.lists(st.text("<>1.\xb0\ud800", max_size=3), min_size=1, max_size=8)


@given(LISTS, st.sampled_from([None, " ", "\t", ";", ",", ".", "\xb7", ", "]))
def test_a_list_is_cut_as_python_cuts_it(text: str, separator: str | None) -> None:
    if separator is None or separator.isspace():
        expected = text.split()
    else:
        expected = [piece.strip() for piece in text.split(separator)]
        expected = expected[:-1] if expected[-1] == "" else expected
    found = split(text, separator)
    assert list(found) == expected
    assert len(found) == len(expected)
    assert bool(found) == bool(expected)


@given(TEXTS, TEXTS)
def test_tokens_are_a_sequence_of_their_texts(texts: list[str], others: list[str]) -> None:
    tokens = Tokens.of(texts)
    assert list(tokens) == texts
    assert len(tokens) == len(texts)
    assert (tokens[0], tokens[-1], tokens[1:]) == (texts[0], texts[-1], texts[1:])
    assert (tokens == Tokens.of(others)) == (tokens == others) == (texts == others)


@given(TEXTS, st.data())
def test_some_are_found_and_changed(texts: list[str], data: st.DataObject) -> None:
    tokens = Tokens.of(texts)
    odd = [at for at, text in enumerate(texts) if set(text) - {"1", "."}]
    assert tokens.odd(b"1.") == odd
    assert tokens.at(tokens.cut(odd)) == [texts[at] for at in odd]
    assert tokens.equal_to("<1") == [at for at, text in enumerate(texts) if text == "<1"]
    news = data.draw(
        st.lists(st.sampled_from(["", "7", None]), min_size=len(odd), max_size=len(odd))
    )
    changes = dict(zip(odd, news, strict=True))
    expected = [changes.get(at, text) for at, text in enumerate(texts)]
    found = tokens.changed(tokens.cut(odd), news)
    assert list(found or ()) == [text for text in expected if text is not None]


def test_a_line_end_in_a_text_is_no_end_of_it() -> None:
    assert list(Tokens.of(["1\n2", "3"])) == ["1\x002", "3"]
    assert list(Tokens.of(["1", "?"]).changed([(2, 3)], ["1\n2"]) or ()) == ["1", "1\x002"]
