"""Pieces of tests that one file holds come together, or a line says why they do not."""

from pathlib import Path

import pytest

from sweepbook.dialect.model import Meaning
from sweepbook.dialect.pieces import together
from sweepbook.dialect.raw import Cell, RawTest
from tests.guide import job, told
from tests.joined.test_join import WORDS, document, read
from tests.reading import sweep

FILES, DIALECT, LINES = job("example-pieces", "wing-c.txt")

XML = """<traces>
<trace run="1" cable="A-17"><of>IL</of><pair>1-2</pair><p f="1" v="1.9"/><p f="2" v="2.7"/></trace>
<trace run="2" cable="A-18"><of>IL</of><pair>1-2</pair><p f="1" v="2.0"/></trace>
<trace run="1"><of>RL</of><pair>1-2</pair><end>A</end><p f="1" v="30.5"/></trace>
<trace run="1" cable="A-17"><of>RL</of><pair>3-6</pair><end>A</end><p f="1" v="29.5"/></trace>
</traces>
"""
OF_XML = f"""
schema = "urn:sweepbook:dialect-0"
name = "flat"
title = "An element a curve"
format = "xml"
pieces_by = "@run"
[xml]
test = "/traces/trace"
[[xml.curves]]
path = "."
name = {{ of = "{{parameter}}", pair = "{{pairs}}", end = "{{end}}" }}
point = {{ path = "p", frequency = "@f", value = "@v" }}
{WORDS.replace('"Cable"', '"@cable"')}
[units]
frequency = "MHz"
"""


def test_the_example_of_the_guide_reads_as_it_says(tmp_path: Path) -> None:
    records, problems = read(tmp_path, FILES, DIALECT)
    assert problems == []
    assert [record.label for record in records] == ["C-07", "C-08"]
    first = document(records, "C-07")
    assert told(first) == LINES


def test_elements_with_one_curve_each_are_the_tests_that_they_name(tmp_path: Path) -> None:
    records, problems = read(tmp_path, {"flat.xml": XML}, OF_XML)
    assert problems == []
    assert [record.label for record in records] == ["A-17", "A-18"]
    first = document(records, "A-17")
    assert sweep(first, "insertion_loss 1-2")["value_db"].tolist() == [1.9, 2.7]
    assert sweep(first, "return_loss near 1-2")["value_db"].tolist() == [30.5]
    assert sweep(first, "return_loss near 3-6")["value_db"].tolist() == [29.5]
    assert first["origin"][0]["locator"] == "trace 1, lines 2-2 and 2 more"
    unit = {"flat.xml": XML.replace("<of>", "<unit>dB</unit><of>")}
    records, _ = read(tmp_path, unit, OF_XML)
    assert document(records, "A-17")["extra"] == {"unit": "dB"}


@pytest.mark.parametrize(
    ("old", "new", "labels", "message"),
    [
        ('run="1"><of>RL', 'run=""><of>RL', ["A-17", "A-18"], "nothing stands under '@run' here"),
        (
            'run="1" cable="A-17"><of>RL',
            'run="1" cable="A-18"><of>RL',
            ["A-18"],
            "'A-17' stands under '@cable' here, and 'A-18'",
        ),
        (
            "<pair>3-6</pair><end>A",
            "<pair>1-2</pair><end>A",
            ["A-18"],
            "the curve 'return_loss 1-2 near' comes a second time",
        ),
        ("29.5", "29.x", ["A-18"], "'29.x'"),
    ],
    ids=["no key", "two labels", "a curve twice", "a fault in one piece"],
)
def test_pieces_that_cannot_be_of_one_test_lose_it(
    old: str, new: str, labels: list[str], message: str, tmp_path: Path
) -> None:
    assert XML.count(old) == 1
    records, problems = read(tmp_path, {"flat.xml": XML.replace(old, new)}, OF_XML)
    assert [record.label for record in records] == labels
    assert any(message in problem for problem in problems), problems


def test_a_second_text_of_a_field_is_kept_and_of_a_figure_is_refused(tmp_path: Path) -> None:
    fields = OF_XML.replace("link.label", 'test.operator = "@by"\nlink.label')
    figures = f'{fields}\n[figures]\nvalue = "{{parameter}}_{{pairs}}"\n'
    by = XML.replace('<trace run="1"', '<trace by="P" run="1"', 1)
    by = by.replace('<trace run="1"><of>RL', '<trace by="Q" run="1"><of>RL')
    records, _ = read(tmp_path, {"flat.xml": by}, fields)
    assert document(records, "A-17")["test"]["operator"] == "P"
    assert "Q" in document(records, "A-17")["extra"].values()
    twice = XML.replace("<of>", "<Length_1-2>62</Length_1-2><of>", 1)
    twice = twice.replace('<trace run="1"><of>', '<trace run="1"><Length_1-2>63</Length_1-2><of>')
    records, problems = read(tmp_path, {"flat.xml": twice}, figures)
    assert [record.label for record in records] == ["A-18"]
    assert any("comes a second time in this test ('63', and '62'" in of for of in problems)


def test_as_many_pieces_as_there_are_take_so_much_longer_only() -> None:
    """Each is taken once: what is known of its test is not copied for it."""
    count = 20_000
    pieces = (
        RawTest(f"line {at}", {"No": Cell("1", f"line {at}")}, extra={f"k{at}": "x"})
        for at in range(count)
    )
    (test,) = together(pieces, "No", Meaning())
    assert isinstance(test, RawTest)
    assert (len(test.extra), test.locator) == (count, f"line 0 and {count - 1} more")
