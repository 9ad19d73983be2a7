"""Tables: one element a frequency, several curves in it. What is read was written by hand."""

from pathlib import Path
from typing import Any
from xml.sax.saxutils import escape

import pytest
from hypothesis import given
from hypothesis import strategies as st
from lxml import etree

from sweepbook.dialect.load import BadDialect, parse
from sweepbook_plugins.xml import sweeps as xml_sweeps
from sweepbook_plugins.xml import table as xml_table
from sweepbook_plugins.xml.forms import UNKNOWN_COLUMNS
from sweepbook_plugins.xml.plan import plan_of
from tests.reading import axis, sweep

from .reading import HEAD, read

COLUMNS = (
    HEAD
    + """
[xml]
test = "/r/t"
[[xml.curves]]
path = "c"
name = { "@of" = "{parameter}", "@end" = "{end}" }
point = { path = "p", frequency = "@f", value = "@v{pairs}" }
"""
)
POINT = 'point = { path = "p", frequency = "@f", value = "@v{pairs}" }'


def dialect(curves: str, more: str = "") -> str:
    return f'{HEAD}\n[xml]\ntest = "/r/t"\n{more}\n[[xml.curves]]\n{curves}\n'


NAMED = 'path = "c"\nname = { "@of" = "{parameter}", "@end" = "{end}" }\n'
LAYOUTS = {
    "columns are attributes": (
        COLUMNS,
        '<c of="IL"><p f="1" v1-2="1.9" v3-6="1.8"/>\n<p f="100" v1-2="19.4" v3-6="--"/></c>'
        '<c of="NEXT" end="A"><p f="1" v1-2_3-6="&gt;80"/><p f="100" v1-2_3-6="41.0"/></c>',
    ),
    "in another order in each row": (
        COLUMNS,
        '<c of="IL"><p f="1" v1-2="1.9" v3-6="1.8"/>\n<p v3-6="--" f="100" v1-2="19.4"/></c>'
        '<c of="NEXT" end="A"><p v1-2_3-6="&gt;80" f="1"/><p f="100" v1-2_3-6=" 41.0 "/></c>',
    ),
    "columns are elements that say it all, in the test itself": (
        dialect(
            'path = "."\npoint = { path = "p", frequency = "f", '
            'value = ["{parameter}_{pairs}", "{parameter}.{pairs}.{end}"] }'
        ),
        "<p><f>1</f><IL_1-2>1.9</IL_1-2><IL_3-6>1.8</IL_3-6><NEXT.1-2_3-6.A>>80</NEXT.1-2_3-6.A>"
        "</p><p><f> 100</f><IL_1-2>19.4</IL_1-2><IL_3-6>--</IL_3-6><NEXT.1-2_3-6.A>41.0"
        "</NEXT.1-2_3-6.A></p>",
    ),
    "an attribute tells elements apart": (
        dialect(NAMED + 'point = { path = "p", frequency = "@f", value = "v[@of={pairs}]" }'),
        '<c of="IL"><p f="1"><v of="1-2">1.9</v><v of="3-6">1.8</v></p>'
        '<p f="100"><v of="1-2">19.4</v><v of="3-6">--</v></p></c><c of="NEXT" end="A">'
        '<p f="1"><v of="1-2_3-6">>80</v></p><p f="100"><v of="1-2_3-6">41.0</v></p></c>',
    ),
    "an attribute of an element that another tells": (
        dialect(NAMED + 'point = { path = "g/p", frequency = "@f", value = "v[@of={pairs}]/@dB" }'),
        '<c of="IL"><g><p f="1"><v of="1-2" dB="1.9"/><v of="3-6" dB="1.8"/></p>'
        '<p f="100"><v of="1-2" dB="19.4"/><v of="3-6" dB="--"/></p></g></c>'
        '<c of="NEXT" end="A"><g><p f="1"><v of="1-2_3-6" dB="&gt;80"/></p>'
        '<p f="100"><v of="1-2_3-6" dB="41.0"/></p></g></c>',
    ),
    "the frequencies are those of a shared axis": (
        dialect(
            NAMED + 'point = { path = "p", value = "@v{pairs}" }',
            '[[xml.axes]]\npath = "ax"\nlist = "."',
        ),
        '<ax>1 100</ax><c of="IL"><p v1-2="1.9" v3-6="1.8"/><p v1-2="19.4" v3-6="--"/></c>'
        '<c of="NEXT" end="A"><p v1-2_3-6="&gt;80"/><p v1-2_3-6="41.0"/></c>',
    ),
    "what means nothing beside them": (
        COLUMNS.replace('test = "/r/t"', 'test = "/r/t"\nskip = ["c/p/@lim{pairs}", "c/p/n"]'),
        '<c of="IL"><p f="1" v1-2="1.9" lim1-2="3" v3-6="1.8" lim3-6="3"/>\n'
        '<p f="100" v1-2="19.4" lim1-2="20" v3-6="--" lim3-6="20"/></c>'
        '<c of="NEXT" end="A"><p f="1" v1-2_3-6="&gt;80"><n>1</n></p>'
        '<p f="100" v1-2_3-6="41.0"><n>2</n></p></c>',
    ),
}


@pytest.mark.parametrize("layout", LAYOUTS)
def test_the_same_numbers(layout: str, tmp_path: Path) -> None:
    written, text = LAYOUTS[layout]
    written = written.replace('between = "/"', 'between = "_"')
    result = read(tmp_path, f'<r><t label="A">{text}</t></r>', written)
    assert result.problems == []
    document = result.document
    assert len(document["results"]["sweeps"]) == 3
    for name, values in (
        ("insertion_loss 1-2", [1.9, 19.4]),
        ("insertion_loss 3-6", [1.8]),
        ("next near 1-2/3-6", [80.0, 41.0]),
    ):
        entry = sweep(document, name)
        assert axis(document, entry) == [1.0, 100.0]
        assert entry["value_db"].tolist() == values
        assert entry["decimals"] == 1
    gap = {"from": 1, "to": 1, "as_stated": "--", "reason": "no value in the source"}
    assert sweep(document, "insertion_loss 3-6")["gaps"] == [gap]
    clipped = {"from": 0, "to": 0, "bound": "at_least", "as_stated": ">80"}
    assert sweep(document, "next near 1-2/3-6")["bounds"] == [clipped]
    assert "extra" not in document


TEXTS = st.text("0123456789.-<>&\"' ", min_size=1, max_size=5).filter(lambda text: text.strip())
FORMS = {
    "@v{pairs}": '<p f="{0}" v1-2="{1}" q="{2}" v3-6="{2}"/>',
    "v{pairs}": '<p f="{0}">\n<v1-2>{1}</v1-2> <v3-6 q="{0}">{2}</v3-6></p>',
    "v[@of={pairs}]": '<p q="" f="{0}"><v of="1-2">{1}</v><v of="3-6">{2}</v></p>',
}


@pytest.mark.parametrize("value", FORMS)
@given(
    rows=st.lists(st.tuples(TEXTS, TEXTS, TEXTS), min_size=1, max_size=4),
    gap=st.sampled_from(["", "\n", " "]),
)
def test_rows_taken_at_once_are_those_found_one_by_one(
    value: str, rows: list[tuple[str, str, str]], gap: str
) -> None:
    written = COLUMNS.replace("@v{pairs}", value).replace(
        'test = "/r/t"', 'test = "/r/t"\nskip = ["c/p/@q", "c/p/v3-6/@q"]'
    )
    (named,) = plan_of(parse(written.encode(), "d.toml")).forms
    quoted = [[escape(text, {'"': "&quot;"}) for text in row] for row in rows]
    inner = gap.join(FORMS[value].format(*row) for row in quoted)
    table = etree.fromstring(f'<c a="&gt;">{gap}{inner}{gap}</c>')
    form = named.form.table  # type: ignore[union-attr]
    assert form is not None
    found = xml_table._quick(table, form, named.held)
    slow = xml_table._one_by_one(table, form, named.held, str)
    assert found is not None
    assert found.alone
    assert list(slow.others) == []
    first, second = (value.replace("{pairs}", pair) for pair in ("1-2", "3-6"))
    for way in (found, slow):
        assert list(way.frequency) == [row[0].strip() for row in rows]
        assert list(way.columns[first]) == [row[1].strip() for row in rows]
        assert list(way.columns[second]) == [row[2].strip() for row in rows]


def table(rows: str, of: str = "IL") -> str:
    return f'<r>\n<t label="A"><c of="{of}">{rows}</c></t></r>'


HEALTHY = '<p f="1" v1-2="1.9" v3-6="1.8"/>\n<p f="100" v1-2="19.4" v3-6="19.2"/>'
LOST = {
    "a row lacks a value": (
        HEALTHY.replace(' v3-6="19.2"', ""),
        "line 3, /r/t[1]/c[@of=IL], point 2, @v3-6: the cell is empty where a number was expected",
    ),
    "a row lacks its frequency": (
        HEALTHY.replace('f="100" ', ""),
        "line 3, /r/t[1]/c[@of=IL], point 2: the cell is empty where a number was expected",
    ),
    "a row within another element": (
        HEALTHY.replace("\n", '\n<x><p f="50" v1-2="1.9" v3-6="80.0"/></x>'),
        "line 3, /r/t[1]/c/x/p: this is called like the points of the curve around it and does not",
    ),
    "no number": (
        HEALTHY.replace("19.2", "19,2"),
        "line 3, /r/t[1]/c[@of=IL], point 2, @v3-6: '19,2' is no number",
    ),
    "the wrong sign": (
        HEALTHY.replace('v3-6="', 'v3-6="-'),
        "most values of 'insertion_loss 3-6' would be below 0 dB",
    ),
    "the wrong unit": (
        HEALTHY.replace('f="1', 'f="1000000'),
        "the highest frequency would be 1e+08 MHz",
    ),
    "a decimal mark gone": (HEALTHY.replace("19.2", "1920"), "would reach 1920 dB"),
}


@pytest.mark.parametrize("what", LOST)
def test_a_test_is_lost_and_the_place_is_told(what: str, tmp_path: Path) -> None:
    rows, message = LOST[what]
    assert message in read(tmp_path, table(rows), COLUMNS).lost


def test_an_element_that_stands_twice_in_a_row_is_refused(tmp_path: Path) -> None:
    written = COLUMNS.replace("@v{pairs}", "v{pairs}")
    row = '<p f="{0}"><v1-2>1.9</v1-2></p>\n'
    rows = row.format(1) + row.format(10).replace("</p>", "<v1-2>2.0</v1-2></p>")
    message = read(tmp_path, table(rows), written).lost
    assert "line 3, /r/t[1]/c[@of=IL], point 2: v1-2 stands there twice" in message


def test_a_table_and_its_axis_of_other_length_are_refused(tmp_path: Path) -> None:
    written = COLUMNS.replace(' frequency = "@f",', "").replace(
        "[[xml.curves]]", '[[xml.axes]]\npath = "/r/ax"\nlist = "."\n[[xml.curves]]'
    )
    text = table('<p v1-2="1.9"/><p v1-2="19.4"/>').replace("<t ", "<ax>1 50 100</ax><t ")
    message = read(tmp_path, text, written).lost
    assert "'insertion_loss 1-2' has 2 values where the axis (line 2, /r/ax) has 3" in message


def test_a_value_that_is_missing_is_a_gap_where_the_dialect_says_so(tmp_path: Path) -> None:
    written = COLUMNS.replace('missing = ["--"]', 'missing = [""]')
    text = table(HEALTHY.replace(' v3-6="19.2"', ""))
    entry = sweep(read(tmp_path, text, written).document, "insertion_loss 3-6")
    assert entry["value_db"].tolist() == [1.8]
    assert entry["gaps"] == [{"from": 1, "to": 1, "reason": "no value in the source"}]


def test_a_falling_axis_is_told_with_its_row(tmp_path: Path) -> None:
    rows = HEALTHY.replace('f="1"', 'f="200"')
    result = read(tmp_path, table(rows), COLUMNS)
    assert [problem.place for problem in result.problems] == ["line 3, /r/t[1]/c[@of=IL], point 2"]
    assert "the frequency falls at 100" in result.problems[0].message
    (record,) = result.records
    assert axis(record.document, sweep(record.document, "insertion_loss 1-2")) == [200.0, 100.0]


UNKNOWN: dict[str, tuple[str, str, dict[str, Any]]] = {
    "an attribute": (
        HEALTHY.replace("v3-6", "w"),
        "'@w'",
        {"c/p/@w": "1.8\n19.2"},
    ),
    "a pair too many for what it is": (
        HEALTHY.replace("v3-6", "v1-2_3-6"),
        "'@v1-2_3-6'",
        {"c/p/@v1-2_3-6": "1.8\n19.2"},
    ),
    "an element": (
        HEALTHY.replace('v3-6="19.2"/>', 'v3-6="19.2"><n>x</n></p>'),
        "'n'",
        {"c/p/n": "x"},
    ),
}


@pytest.mark.parametrize("what", UNKNOWN)
def test_a_column_that_is_not_known_is_kept_and_named(what: str, tmp_path: Path) -> None:
    rows, name, extra = UNKNOWN[what]
    written = COLUMNS.replace('between = "/"', 'between = "_"')
    result = read(tmp_path, table(rows), written)
    assert [problem.message for problem in result.problems] == [UNKNOWN_COLUMNS.format(name)]
    (record,) = result.records
    assert sweep(record.document, "insertion_loss 1-2")["value_db"].tolist() == [1.9, 19.4]
    assert record.document["extra"] == extra


def test_a_table_of_which_nothing_is_known_is_kept(tmp_path: Path) -> None:
    text = table(HEALTHY).replace("</c>", f'</c><c of="ECHO">{HEALTHY}</c>')
    result = read(tmp_path, text, COLUMNS)
    (problem,) = result.problems
    assert problem.message == UNKNOWN_COLUMNS.format("'@v1-2', '@v3-6'")
    named = "c[@of=ECHO]"
    assert result.records[0].document["extra"] == {
        f"{named}/@of": "ECHO",
        f"{named}/p/@f": "1\n100",
        f"{named}/p/@v1-2": "1.9\n19.4",
        f"{named}/p/@v3-6": "1.8\n19.2",
    }


BAD = {
    'value = ["@v", "@w"]': "xml.curves[1].point.value: is one path, or a template of paths",
    'value = ["@v{pairs}", "@w"]': "xml.curves[1].point.value: is one path, or a template of paths",
    'value = "@v{pear}"': "may hold these only in braces",
    'value = "../@v{pairs}"': "leads out of the point",
}


@pytest.mark.parametrize("new", BAD)
def test_a_dialect_is_refused_with_its_key(new: str) -> None:
    written = COLUMNS.replace('value = "@v{pairs}"', new)
    with pytest.raises(BadDialect) as caught:
        xml_sweeps.check_dialect(parse(written.encode(), "bad.toml"))
    assert BAD[new] in str(caught.value)
