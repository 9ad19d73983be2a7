"""A figure of each pair in a column of its own, and one verdict of the row beside them."""

from pathlib import Path

from tests.reading import called

from .reading import read

DIALECT = """
schema = "urn:sweepbook:dialect-0"
name = "pairs"
title = "pairs"
format = "csv"
[csv]
layout = "sections"
delimiter = ";"
test.first_line = "T;"
[[csv.sections]]
mark = "T"
columns = ["kind", "Cable"]
[[csv.sections]]
mark = ["LEN", "DLY", "SKW", "RES"]
columns = ["kind", "12", "36", "45", "78", "result"]
[[csv.sections.rows.figures]]
name = { kind = "{parameter}" }
value = "{pairs}"
verdict = "result"
[fields]
link.label = "Cable"
[words.parameters]
length = "LEN"
propagation_delay = "DLY"
delay_skew = "SKW"
dc_loop_resistance = "RES"
[words.pairs]
1-2 = "12"
3-6 = "36"
4-5 = "45"
7-8 = "78"
[words.verdicts]
pass = "PASS"
fail = "FAIL"
"""
ROWS = """\
T;A-17
LEN;29.1;29.5;29.3;29.9;PASS
DLY;143;145;144;147;PASS
SKW;0;2;1;4;PASS
RES;4.8;4.9;4.9;24.9;FAIL
"""


def test_one_form_takes_the_figures_of_pairs_and_the_verdict_of_all(tmp_path: Path) -> None:
    result = read(tmp_path, ROWS, DIALECT)
    assert result.problems == []
    document = result.records[0].document
    assert len(document["results"]["scalars"]) == 16
    stated = {called(item): item["verdict"] for item in document["stated"]["items"]}
    assert stated == {
        "length": "pass",
        "propagation_delay": "pass",
        "delay_skew": "pass",
        "dc_loop_resistance": "fail",
    }
    assert "extra" not in document


def test_a_value_that_names_no_pair_still_needs_one(tmp_path: Path) -> None:
    """Beside a column of values a row without its pair is unknown as a whole, and told."""
    text = DIALECT.replace('["LEN", "DLY", "SKW", "RES"]', '"DLY"')
    text = text.replace('"12", "36", "45", "78", "result"]', '"pair", "ns", "result"]')
    text = text.replace('kind = "{parameter}" }', 'kind = "{parameter}", pair = "{pairs}" }')
    text = text.replace('value = "{pairs}"', 'value = "ns"')
    result = read(tmp_path, "T;A-17\nDLY;12;143;PASS\nDLY;;145;PASS\n", text)
    assert "nothing is known by the name 'DLY'" in result.problems[0].message
