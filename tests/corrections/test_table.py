"""corrections.csv: what the program writes and what people write."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sweepbook.corrections.model import Correction
from sweepbook.corrections.table import TITLES, delimiter, parse, row
from sweepbook.errors import ReadProblem

HEAD = ",".join(TITLES).encode() + b"\n"
LINE = b"sb0-1,link.label,A,B,K. Orme,2024-05-02,seen\n"
TEXT = st.text(st.characters(codec="utf-8", exclude_categories=["Cc", "Zs", "Zl", "Zp"]))


@given(old=TEXT, new=TEXT.filter(bool), why=TEXT.filter(bool))
def test_what_is_written_is_read(old: str, new: str, why: str) -> None:
    entered = Correction("sb0-1", "link.label", old, new, "K. Orme", "2024-05-02", why, line=2)
    assert list(parse(HEAD + row(entered))) == [entered]


@pytest.mark.parametrize("text", ["=1+1", "'quoted", "-5", "+4", "@x"])
def test_a_text_that_looks_like_a_formula_is_kept_and_guarded(text: str) -> None:
    entered = Correction("sb0-1", "link.label", text, text, "K. Orme", "2024-05-02", text, line=2)
    raw = HEAD + row(entered)
    assert list(parse(raw)) == [entered]
    assert f",'{text}".encode() in raw


@pytest.mark.parametrize("head", [HEAD, b"\xef\xbb\xbf" + HEAD, HEAD.replace(b"\n", b"\r\n")])
def test_a_table_that_a_spreadsheet_saved_is_read(head: bytes) -> None:
    (found,) = parse(head + b"\n" + LINE)
    assert isinstance(found, Correction)
    assert found.line == 3


@pytest.mark.parametrize(
    ("raw", "line", "told"),
    [
        (b"record;field\n", 1, "first line"),
        (HEAD + b"sb0-1,link.label,A\n", 2, "3 cells where 7"),
        (HEAD + LINE.replace(b"K. Orme", b" "), 2, "under who"),
        (HEAD + LINE.replace(b"link.label", b"link.colour"), 2, "No field that"),
        (HEAD + LINE.replace(b",B,", b",,"), 2, "cannot be empty"),
        (HEAD + b"caf\xe9\n", 2, "not UTF-8"),
        (HEAD + b'sb0-1,"link\n', 2, "cannot be taken apart"),
    ],
)
def test_a_line_that_cannot_be_used_is_told(raw: bytes, line: int, told: str) -> None:
    (problem,) = parse(raw)
    assert isinstance(problem, ReadProblem)
    assert problem.place == f"line {line}"
    assert told in problem.message
    assert not problem.lost_record


def test_a_table_saved_with_semicolons_is_read_and_goes_on_with_them() -> None:
    raw = (HEAD + LINE).replace(b",", b";")
    (found,) = parse(raw)
    assert isinstance(found, Correction)
    assert list(parse(raw + row(found, delimiter(raw)))) == [found, replace(found, line=3)]


def test_a_bad_line_stops_nothing() -> None:
    found = list(parse(HEAD + b"x\n" + LINE))
    assert [type(item) for item in found] == [ReadProblem, Correction]
