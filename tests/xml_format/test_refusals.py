"""What cannot be taken is told with line, element and the key to change; tests beside it stay."""

from pathlib import Path

import pytest

from sweepbook.dialect.load import BadDialect, parse
from sweepbook_plugins.xml import sweeps as xml_sweeps

from .reading import CURVE, HEAD, LISTS, POINTS, TEST, read

LOST = {
    "no number": (
        POINTS,
        '<c of="IL" pair="1-2">\n<p f="1">1.9</p>\n<p f="100">1_9</p></c>',
        "line 4, /r/t[2]/c[@of=IL, @pair=1-2], point 2: '1_9' is no number",
    ),
    "no frequency": (
        POINTS,
        '<c of="IL" pair="1-2"><p>1.9</p></c>',
        "line 2, /r/t[2]/c[@of=IL, @pair=1-2], point 1: the cell is empty where a number",
    ),
    "a point within another element": (
        POINTS,
        '<c of="IL" pair="1-2"><p f="1">1.9</p>\n<x><p f="50">80.0</p></x><p f="100">19.4</p></c>',
        "line 3, /r/t[2]/c/x/p: this is called like the points of the curve around it and does not",
    ),
    "the first point within another element": (
        POINTS,
        '<c of="IL" pair="1-2"><x><p k="" f="1">1.9</p></x>\n<p f="100">19.4</p></c>',
        "line 2, /r/t[2]/c/x/p: this is called like the points of the curve around it and does not",
    ),
    "a curve twice": (POINTS, CURVE + CURVE, "'insertion_loss 1-2' comes a second time"),
    "a curve twice by its points": (
        POINTS,
        CURVE + CURVE.replace("1.9", "2.1"),
        "and nothing but values tells the two apart: one may bear the name of a curve that is",
    ),
    "two curves of one name": (
        POINTS.replace(', "@end" = "{end}"', ""),
        CURVE.replace("IL", "RL").replace("<c ", '<c side="Q1" ')
        + CURVE.replace("IL", "RL").replace("<c ", '<c side="Q2" '),
        "differs from it in @side ('Q1', here 'Q2'): if that tells the two apart, put it into name",
    ),
    "a key twice": (
        POINTS,
        f"<who>a</who>\n<who>b</who>{CURVE}",
        "line 3, /r/t[2]/who: the key 'who' comes a second time ('a', then 'b')",
    ),
    "an undeclared verdict": (POINTS, f"<result>fine</result>{CURVE}", "'fine' is no declared"),
    "a list too short": (
        LISTS,
        '<c of="IL" pair="1-2" axis="a">1.9</c>',
        "has 1 values where the axis 'a' (line 1, /r/axis) has 2 frequencies",
    ),
    "a figure among curves": (
        LISTS,
        '<c of="Length" pair="1-2" axis="a">35.6</c>',
        "'length 1-2' is a single figure and no curve; narrow the path of xml.curves",
    ),
    "no such axis": (
        LISTS,
        '<c of="IL" pair="1-2" axis="b">1.9 2</c>',
        "the axis 'b' of the curve 'insertion_loss 1-2' is not known here (known are 'a')",
    ),
    "no axis named": (LISTS, '<c of="IL" pair="1-2">1.9 2</c>', "names no axis"),
    "no number in a list": (
        LISTS,
        '<c of="IL" pair="1-2" axis="a">1.9\n\n 2,0</c>',
        "line 4, /r/t[2]/c[@of=IL, @pair=1-2], value 2: '2,0' is no number",
    ),
    "no number in a list of lines": (
        LISTS.replace('values = "."', 'values = "."\nseparator = ";"'),
        '<c of="IL" pair="1-2" axis="a">\n\n1.9\n 2 0</c>',
        "line 5, /r/t[2]/c[@of=IL, @pair=1-2], value 2: '2 0' is no number",
    ),
    "an empty piece of a list in lines": (
        LISTS.replace('values = "."', 'values = "."\nseparator = ";"'),
        '<c of="IL" pair="1-2" axis="a">1.9;\n;19.4</c>',
        "has 3 values where the axis 'a' (line 1, /r/axis) has 2 frequencies",
    ),
    "a decimal comma read as a separator": (
        LISTS.replace('values = "."', 'values = "."\nseparator = ","'),
        '<c of="IL" pair="1-2" axis="a">1,9,19,4</c>',
        "has 4 values where the axis 'a' (line 1, /r/axis) has 2 frequencies",
    ),
    "nothing measured": (POINTS, "<who>a</who>", "nothing measured and no verdict was found"),
}


@pytest.mark.parametrize("what", LOST)
def test_a_test_is_lost_and_the_others_stay(what: str, tmp_path: Path) -> None:
    dialect, inner, message = LOST[what]
    separator = dialect.partition('separator = "')[2][:1] or " "
    good = (
        TEST
        if "point =" in dialect
        else (f'<t label="A"><c of="IL" pair="1-2" axis="a">1.9{separator}19.4</c></t>')
    )
    axis = '<axis id="a">1 100</axis>' if "point =" not in dialect else ""
    result = read(tmp_path, f'<r>{axis}{good}\n<t label="B">{inner}</t>\n{good}</r>', dialect)
    assert [record.label for record in result.records] == ["A", "A"]
    assert [problem.lost_record for problem in result.problems] == [True]
    assert message in result.problems[0].message
    assert result.problems[0].place.startswith("t 2, lines 2-")


def test_axes_with_names_ask_for_what_refers_to_them(tmp_path: Path) -> None:
    dialect = LISTS.replace('axis = "@axis"', "")
    text = '<r><axis id="a">1 100</axis><t label="A"><c of="IL" pair="1-2" axis="a">1 2</c></t></r>'
    assert (
        "the axes here have names ('a'), and which of them the curve 'insertion_loss 1-2' refers "
        "to is not said; name the text that does in xml.curves.axis"
    ) in read(tmp_path, text, dialect).lost


RUNS = HEAD + (
    '\n[xml]\ntest = "/r/t"\n[[xml.axes]]\npath = "ax"\n'
    'run = { path = "run", start = "@a", step = "@d", stop = "@z" }\n'
    '[[xml.curves]]\npath = "c"\nname = { "@of" = "{parameter}", "@pair" = "{pairs}" }\n'
    'values = "."\n'
)


@pytest.mark.parametrize(
    ("run", "message"),
    [
        ('<run a="1" d="2" z="4"/>', "no whole number of steps of 2 leads 1 to 4"),
        ('<run a="4" d="1" z="1"/>', "no whole number of steps"),
        ('<run a="1" d="0" z="1"/>', "the step of a run is above 0"),
        ('<run a="1" d="x" z="1"/>', "the step of a run is a number, read was 'x'"),
        ('<run a="1" d="1e-3" z="9999"/>', "more than 1,000,000 frequencies"),
        ("", "there are no numbers where a list of them is expected"),
        ('<run a="1" d="1" z="2"/></ax><ax>', "an axis without a name stands in line 1"),
    ],
)
def test_a_run_that_is_none(run: str, message: str, tmp_path: Path) -> None:
    text = f'<r><t label="A"><ax>{run}</ax><c of="IL" pair="1-2">1 2</c></t></r>'
    assert message in read(tmp_path, text, RUNS).lost


KEPT = {
    "an unknown element": ("<note>a<b>c</b>d</note>", {"note": "ad", "note/b": "c"}),
    "one that holds nothing": ("<locked/>", {"locked": ""}),
    "several of a name": ('<n x="1"/><n x="2"/>', {"n/@x": "1\n2"}),
    "an attribute of a known element": ('<who at="9">me</who>', {"who/@at": "9"}),
    "a foreign namespace": ('<f:n xmlns:f="urn:f">x</f:n>', {"{urn:f}n": "x"}),
    "CDATA and entities": ("<n><![CDATA[<&]]>&amp;</n>", {"n": "<&&"}),
}


@pytest.mark.parametrize("what", KEPT)
def test_nothing_is_lost(what: str, tmp_path: Path) -> None:
    inner, extra = KEPT[what]
    result = read(tmp_path, f'<r><t label="A">{inner}{CURVE}</t></r>', POINTS)
    assert result.document["extra"] == extra


def test_an_unknown_curve_is_kept_and_named(tmp_path: Path) -> None:
    unknown = '<c of="ECHO" pair="1-2"><p f="1">1.9</p>\n<p f="100">19.4</p></c>'
    result = read(tmp_path, f'<r><t label="A">{CURVE}{unknown}</t></r>', POINTS)
    assert [record.label for record in result.records] == ["A"]
    assert result.problems[0].place == "line 1, /r/t[1]/c[@of=ECHO, @pair=1-2]"
    assert "nothing is known by this name (no template or word is for 'ECHO' at @of)" in (
        result.problems[0].message
    )
    named = "c[@of=ECHO, @pair=1-2]"
    assert result.records[0].document["extra"] == {
        f"{named}/p value": "1.9\n19.4",
        f"{named}/p frequency": "1\n100",
        f"{named}/@of": "ECHO",
        f"{named}/@pair": "1-2",
    }


def test_a_text_that_is_blank_where_a_template_needs_one_is_named(tmp_path: Path) -> None:
    dialect = POINTS.replace('"@end" = "{end}"', '"@from" = "Pair {first_pair}"')
    message = read(tmp_path, f'<r><t label="A">{CURVE}</t></r>', dialect).problems[0].message
    assert "(no template or word is for nothing at @from)" in message


def test_what_comes_after_the_tests_is_told(tmp_path: Path) -> None:
    result = read(tmp_path, f"<r>{TEST}<sum>1</sum></r>", POINTS)
    assert [record.label for record in result.records] == ["A"]
    assert [problem.lost_record for problem in result.problems] == [False]
    assert "the elements sum stand after the last test" in result.problems[0].message


BAD = {
    'test = "/r/t"': ('test = "t"', "xml.test: write the path from the root"),
    'path = "c"': ('path = "q:c"', "xml.curves[1].path: the prefix of 'q:c' is not declared"),
    'value = "."': ('value = "a//b"', "xml.curves[1].point.value: the path 'a//b' cannot be taken"),
    'frequency = "@f"': ('frequency = "f[x>1]"', "[x>1] is no choice"),
    '"@of" = "{parameter}"': ('"@of" = "{thing}"', "may hold these only in braces"),
    'point = { path = "p", frequency = "@f", value = "." }': (
        'axis = "@a"',
        "xml.curves.0: expected is",
    ),
    'link.label = "@label"': ('link.label = "../@label"', "leads out of the test"),
}


@pytest.mark.parametrize("old", BAD)
def test_a_dialect_is_refused_with_its_key(old: str) -> None:
    new, message = BAD[old]
    assert POINTS.count(old) == 1
    with pytest.raises(BadDialect) as caught:
        xml_sweeps.check_dialect(parse(POINTS.replace(old, new).encode(), "bad.toml"))
    assert message in str(caught.value)


def test_a_template_where_one_figure_stands_is_refused_with_what_to_write_instead() -> None:
    form = '[[xml.figures]]\npath = "at/{parameter}"\nvalue = "@p{pairs}"\n'
    with pytest.raises(BadDialect) as caught:
        xml_sweeps.check_dialect(parse(f"{POINTS}{form}".encode(), "bad.toml"))
    said = "xml.figures[1].value: is one path, and no template of several"
    assert said in str(caught.value)
    assert 'write value = "at/{parameter}/@p{pairs}" in [figures]' in str(caught.value)


def test_an_element_around_figures_that_are_taken_is_not_called_unknown(tmp_path: Path) -> None:
    forms = '[[xml.figures]]\npath = "{parameter}"\nname = { "@pair" = "{pairs}" }\nvalue = "."\n'
    inner = forms.replace("{parameter}", "{parameter}/v", 1)
    dialect = f"{POINTS}{forms}{inner}"
    text = '<Loop><v pair="1-2">6.1</v><v pair="3-6">6.3</v></Loop>'
    dialect = dialect.replace('length = "Length"', 'length = "Length"\ndc_loop_resistance = "Loop"')
    result = read(tmp_path, f'<r><t label="A">{CURVE}{text}</t></r>', dialect)
    assert [of["resistance_ohm"] for of in result.document["results"]["scalars"]] == [6.1, 6.3]
    assert result.problems == []
    lone = read(tmp_path, f'<r><t label="A">{CURVE}<Loop>6.1</Loop></t></r>', dialect)
    assert "nothing is known by this name" in lone.problems[0].message
