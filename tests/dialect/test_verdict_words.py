"""What words for a verdict say by themselves: common practice and memory, no source."""

import pytest

from sweepbook.dialect.verdict_words import ANSWERS, VERDICTS, plainly


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("PASS", "pass"),
        ("passed*", "pass"),
        ("  * Ok * ", "pass"),
        ("[FAIL]", "fail"),
        ("Not-OK", "fail"),
        ("NOT  OK*", "fail"),
        ("Nicht bestanden.", "fail"),
        ("n.i.O.", "fail"),
        ("不合格", "fail"),
        ("合格", "pass"),
    ],
)
def test_a_plain_word_says_its_verdict_whatever_marks_stand_around_it(text: str, said: str) -> None:
    assert plainly(text) == said


@pytest.mark.parametrize(
    "text", ["", "*", "no", "F", "!pass", "pass/fail", "fail 0", "good enough"]
)
def test_an_answer_and_an_unknown_text_say_nothing(text: str) -> None:
    assert plainly(text) is None


def test_every_word_says_what_it_stands_for_unless_it_is_an_answer() -> None:
    """So that no word of one language is the opposite of one of another."""
    for word, texts in VERDICTS.items():
        for text in texts:
            assert plainly(text.upper()) == (None if text in ANSWERS else word.rstrip("*")), text
