"""Files made to harm, or broken: each gives one clear line, and what stood before it stays."""

import gzip
import time
from pathlib import Path

import pytest

from .reading import CURVE, HEAD, POINTS, TEST, read

LAUGHS = "".join(f'<!ENTITY l{n} "{f"&l{n - 1};" * 10}">' for n in range(1, 10))
MANY = " ".join(f"a{n}=''" for n in range(1500))
WHOLE_FILE: dict[str, tuple[str | bytes, str]] = {
    "a DOCTYPE": (f"<!DOCTYPE r><r>{TEST}</r>", "line 1: the file has a DOCTYPE"),
    "entities": (
        f'<?xml version="1.0"?>\n<!-- a --><!DOCTYPE r [<!ENTITY l0 "ha">{LAUGHS}]><r>&l9;</r>',
        "line 2: the file has a DOCTYPE",
    ),
    "an outer entity": (
        '<!DOCTYPE r [<!ENTITY x SYSTEM "file:///etc/passwd">]><r><t label="&x;"/></r>',
        "the file has a DOCTYPE",
    ),
    "a DOCTYPE in UTF-16": (f"<!DOCTYPE r><r>{TEST}</r>".encode("utf-16"), "has a DOCTYPE"),
    "an encoding that hides": (
        b'<?xml version="1.0" encoding="UTF-7"?>+ADw-r/+AD4-',
        "the encoding 'UTF-7' is not taken",
    ),
    "another encoding than it names": (
        f'<?xml version="1.0" encoding="UTF-16"?><r>{TEST}</r>',
        "the file says it is in UTF-16, but it is not",
    ),
    "nothing": ("", "the file is empty"),
    "no XML": ("Link;A\n", "here should begin an element"),
    "another root": ("<x/>", "the root of this file is x, expected is r without a namespace"),
    "a namespace": ('<r xmlns="urn:x"/>', "the root of this file is {urn:x}r"),
    "a root far off": (f"<!--{'x' * 70_000}--><r>{TEST}</r>", "no element begins in the first"),
    "depth": (f"<r>{'<a>' * 3000}", "Excessive depth"),
    "much around the tests": (f"<r>{'<a/>' * 10_001}{TEST}</r>", "more than 10,000 elements stand"),
    "elements without end": (f"<r><t>{'<a/>' * 1_600_000}", "within 1,500,000 tags and attributes"),
    "attributes without end": (
        f"<r><t>{f'<a {MANY}/>' * 1_050}",
        "no test ends within 1,500,000 tags and attributes",
    ),
    "attributes of the root": (
        f"<r {MANY}>{TEST}</r>",
        "more than 1,000 attributes",
    ),
}


@pytest.mark.parametrize("what", WHOLE_FILE)
def test_a_file_is_refused_in_one_line(what: str, tmp_path: Path) -> None:
    content, message = WHOLE_FILE[what]
    begun = time.process_time()
    assert message in read(tmp_path, content, POINTS).lost
    assert time.process_time() - begun < 5.0


BROKEN = {
    "cut off": ('<t label="B"><c of="IL" pair="1-2"><p f="1">1', "Premature end of data", True),
    "cut off between tests": ("", "Premature end of data", False),
    "an unknown entity": ('<t label="&x;"/></r>', "Entity 'x' not defined", False),
    "a missing end": ('<t label="B"><c></t></r>', "Opening and ending tag mismatch", True),
    "more than one root": ("</r><r/>", "Extra content", False),
    "a NUL": ("\0</r>", "Invalid character", False),
    "a long text": (f'<t label="B"><c>{"1 " * (6 << 20)}', "Text node too long", True),
}


@pytest.mark.parametrize("what", BROKEN)
def test_what_stood_before_the_break_stays(what: str, tmp_path: Path) -> None:
    rest, message, breaks_a_test = BROKEN[what]
    result = read(tmp_path, f"<r>\n{TEST}\n{rest}", POINTS)
    assert [record.label for record in result.records] == ["A"]
    assert len(result.problems) == 1
    told = result.problems[0].message
    assert message in told
    assert ("the test that begins in line 3 is lost" in told) == breaks_a_test
    assert "what comes after is not read" in told


def test_bytes_of_another_encoding_are_told(tmp_path: Path) -> None:
    content = f"<r>{TEST}<t label='Caf".encode() + b"\xe9'/></r>"
    result = read(tmp_path, content, POINTS)
    assert [record.label for record in result.records] == ["A"]
    assert "not in the encoding that it names" in result.problems[0].message


BAD_TESTS = {
    "depth": ("<a>" * 100 + "</a>" * 100, "nested deeper than 64"),
    "attributes": (
        f"<a {MANY}/>",
        "more than 1,000 attributes",
    ),
    "a long field": (f"<who>{'x' * (2 << 20)}</who>", "the text has 2,097,152 characters"),
    "very many texts": ("<a/>" * 500_001, "more than 500,000 texts"),
}


@pytest.mark.parametrize("what", BAD_TESTS)
def test_a_bad_test_does_not_end_the_file(what: str, tmp_path: Path) -> None:
    inner, message = BAD_TESTS[what]
    result = read(tmp_path, f'<r>{TEST}<t label="B">{inner}{CURVE}</t>{TEST}</r>', POINTS)
    assert [record.label for record in result.records] == ["A", "A"]
    assert len(result.problems) == 1
    assert result.problems[0].place == "t 2, lines 1-1"
    assert message in result.problems[0].message


def test_attributes_of_a_row_take_time_by_their_number(tmp_path: Path) -> None:
    """Four times as many take about four times the time, not sixteen times."""
    curve = '[[xml.curves]]\npath = "c"\nname = { "@of" = "{parameter}" }\n'
    row = 'point = { path = "p", frequency = "@f", value = "@v{pairs}" }\n'
    dialect = f'{HEAD}[xml]\ntest = "/r/t"\n{curve}{row}'
    spent = []
    for many in (1_001, 10_000, 40_000):
        others = " ".join(f'a{number}="1"' for number in range(many))
        begun = time.process_time()
        content = f'<r><t><c of="IL"><p f="1" v1-2="2" {others}/></c></t></r>'
        result = read(tmp_path, content, dialect)
        spent.append(time.process_time() - begun)
        assert "more than 1,000 attributes" in result.problems[0].message
    assert spent[2] < 10 * spent[1]


def test_inclusion_is_a_name_like_any_other(tmp_path: Path) -> None:
    include = (
        '<xi:include xmlns:xi="http://www.w3.org/2001/XInclude" href="/etc/passwd" parse="text"/>'
    )
    document = read(tmp_path, f'<r><t label="A">{include}{CURVE}</t></r>', POINTS).document
    name = "{http://www.w3.org/2001/XInclude}include"
    assert document["extra"] == {f"{name}/@href": "/etc/passwd", f"{name}/@parse": "text"}


def test_a_test_without_an_end_is_not_held(tmp_path: Path) -> None:
    content = f'<r>{TEST}<t label="B">' + f"<a>{'x' * 100}</a>" * 400_000
    packed = gzip.compress(content.encode(), 1)
    result = read(tmp_path, packed, POINTS)
    assert [record.label for record in result.records] == ["A"]
    assert "no test ends within 32 MiB" in result.problems[0].message
