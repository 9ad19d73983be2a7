"""Text from outside: nothing acts on a terminal, and labels sort as people count."""

import string
from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from sweepbook.text import natural_key, printable, utf8_safe, width


def test_what_a_terminal_acts_on_becomes_an_escape() -> None:
    assert printable("\x1b[31mred\x07\r\n") == r"\x1b[31mred\x07\r\n"
    assert printable("a\u202eb\u200bc\u2028d\x9be") == r"a\u202eb\u200bc\u2028d\x9be"
    assert printable("caf\u00e9 \u7dad") == "caf\u00e9 \u7dad"


@given(st.text())
def test_printable_text_is_printable_and_stays_so(text: str) -> None:
    once = printable(text)
    assert once.isprintable()
    assert printable(once) == once


def test_a_file_name_that_is_no_unicode_can_be_written_down() -> None:
    assert utf8_safe(b"x\xff.csv".decode("utf-8", "surrogateescape")) == r"x\udcff.csv"


def test_wide_letters_take_two_columns_and_accents_none() -> None:
    assert width("ab") == 2
    assert width("\u7dad\u6301") == 4
    assert width("e\u0301") == 1


def test_labels_sort_as_people_count() -> None:
    labels = ["A-10", "a-2", "A-1", "B-1", "A-02", "A", "10", "9"]
    assert sorted(labels, key=lambda label: (natural_key(label), label)) == [
        "9", "10", "A", "A-1", "A-02", "a-2", "A-10", "B-1",
    ]  # fmt: skip


def test_a_label_of_ten_thousand_digits_sorts_too() -> None:
    """Python refuses to make a number of more than 4300 digits."""
    assert natural_key("9" * 10_000) < natural_key("1" + "0" * 10_000)


@given(st.lists(st.text(string.ascii_letters + string.digits + "-/. ", max_size=8)))
def test_any_labels_can_be_compared(labels: list[str]) -> None:
    keys = sorted(natural_key(label) for label in labels)
    assert all(left <= right for left, right in pairwise(keys))


@given(st.integers(0, 10**9), st.integers(0, 10**9))
def test_numbers_in_labels_compare_by_value(left: int, right: int) -> None:
    keys = natural_key(f"P{left}"), natural_key(f"P{right:012}")
    assert (keys[0] < keys[1]) == (left < right)
