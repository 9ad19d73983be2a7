"""Tests with a file of XML for each parameter, whose root is called by it, beside a head file."""

from pathlib import Path

import pytest

from sweepbook.dialect.load import BadDialect
from sweepbook.record.model import Record
from tests.program import run
from tests.reading import sweep

from .test_join import pipeline
from .test_several import curves, read

DIALECT = """
schema = "urn:sweepbook:dialect-0"
name = "roots"
title = "A file a parameter, which its root names, and a head"
format = "xml"
[xml]
test = "/{parameter}"
[[xml.axes]]
path = "axis"
list = "."
[[xml.curves]]
path = "row"
name = { "@on" = "{pairs}", "@side" = "{end}" }
values = "."
[[xml.curves]]
path = "dots"
name = { "@on" = "{pairs}", "@side" = "{end}" }
point = { path = "dot", frequency = "@f", value = "." }
[[xml.figures]]
path = "least"
name = { "@on" = "{pairs}", "@side" = "{end}" }
worst_margin.margin = "."
[join]
file = "{}/{any}.xml"
other = "{}/head.xml"
key = "@link"
other_key = "name"
[join.xml]
test = "/sheet"
[fields]
link.label = "name"
stated.overall = "outcome"
[words.parameters]
insertion_loss = "Loss"
return_loss = "Echo"
[words.pairs]
1-2 = "12"
3-6 = "36"
[words.ends]
near = ["main", ""]
far = "remote"
[words.verdicts]
pass = "ok"
fail = "bad"
"""
HEAD = "<sheet><name>{}</name><outcome>ok</outcome></sheet>"
LOSS = """<Loss link="{}"><axis>1 100</axis><row on="12">1.9 19.4</row><row on="36">1.8 19.2</row>
<least on="12">0.7</least></Loss>"""
ECHO = """<Echo link="{}"><dots on="12" side="main"><dot f="1">30</dot><dot f="4">25.5</dot></dots>
<dots on="12" side="remote"><dot f="1">31</dot><dot f="4">26</dot></dots></Echo>"""
LINKS = {"D1": "Q-07", "D2": "Q-08"}
FILES = {
    f"{folder}/{name}.xml": text.format(label)
    for folder, label in LINKS.items()
    for name, text in (("head", HEAD), ("a", LOSS), ("b", ECHO))
}


def test_the_name_of_the_root_is_the_parameter_of_its_curves_and_figures(tmp_path: Path) -> None:
    records, problems = read(tmp_path, FILES, DIALECT)
    assert (problems, [record.label for record in records]) == ([], [*LINKS.values()])
    for record in records:
        losses = {f"insertion_loss {pair}" for pair in ("1-2", "3-6")}
        assert curves(record) == {*losses, "return_loss 1-2 near", "return_loss 1-2 far"}
        assert sweep(record.document, "return_loss far 1-2")["value_db"].tolist() == [31.0, 26.0]
        assert record.document["stated"]["overall"]["verdict"] == "pass"
        (item,) = record.document["stated"]["items"]
        assert (item["parameter"], item["pairs"]) == ("insertion_loss", ["1-2"])
        assert item["worst_margin"]["margin_db"] == 0.7


def test_what_belongs_to_a_file_is_looked_for_beside_it(tmp_path: Path) -> None:
    whole, _ = read(tmp_path, FILES, DIALECT)
    (record,) = pipeline(tmp_path, DIALECT).read_all([tmp_path / "D1" / "a.xml"])
    assert isinstance(record, Record)
    assert curves(record) == curves(whole[0])


@pytest.mark.parametrize(
    ("name", "text", "told"),
    [
        ("D1/b.xml", ECHO.format("Q-08"), "'Q-08'"),
        ("D1/c.xml", ECHO.format("Q-07").replace("Echo", "Hum"), "the root of this file is Hum"),
        ("D1/c.xml", ECHO.format("Q-07"), "comes a second time"),
    ],
)
def test_a_file_of_another_link_or_of_no_known_parameter_is_told(
    name: str, text: str, told: str, tmp_path: Path
) -> None:
    _, problems = read(tmp_path, {**FILES, name: text}, DIALECT)
    assert any(told in problem for problem in problems), problems


def test_a_head_alone_is_read_where_curves_may_lack(tmp_path: Path) -> None:
    """The form of the files with curves fits its name too, and yet it is none of them."""
    may_lack = DIALECT.replace('key = "@link"\nother_key = "name"', "may_lack = true")
    files = {name: text for name, text in FILES.items() if name not in ("D2/a.xml", "D2/b.xml")}
    records, problems = read(tmp_path, files, may_lack)
    assert [record.label for record in records] == [*LINKS.values()]
    (problem,) = problems
    assert "read without curves" in problem
    assert curves(records[0])
    assert "sweeps" not in records[1].document["results"]


def test_elements_called_by_parameters_may_stand_below_a_root(tmp_path: Path) -> None:
    """A file then holds one curve's test in each of them; what is around them counts for all."""
    alone = DIALECT.partition("[join]")[0].replace('"/{parameter}"', '"/all/{parameter}"')
    alone += "[fields]" + DIALECT.partition("[fields]")[2].replace('"name"', '"/all/@link"')
    alone = f'pieces_by = "/all/@link"\n{alone.replace("outcome", "/all/@outcome")}'
    inner = LOSS.replace(' link="{}"', "") + ECHO.replace(' link="{}"', "")
    text = f'<all link="Q-09" outcome="bad">{inner}</all>'
    (record,), problems = read(tmp_path, {"a.xml": text}, alone)
    assert (problems, record.label) == ([], "Q-09")
    assert len(curves(record)) == 4
    assert record.document["stated"]["overall"]["verdict"] == "fail"


@pytest.mark.parametrize(
    ("test", "told"),
    [("/{colour}", "may hold these only in braces"), ("/{parameter}[x=1]", "chosen by attributes")],
)
def test_what_cannot_stand_in_the_path_of_a_test_is_told(
    test: str, told: str, tmp_path: Path
) -> None:
    with pytest.raises(BadDialect) as raised:
        read(tmp_path, FILES, DIALECT.replace("/{parameter}", test))
    assert any("xml.test" in problem and told in problem for problem in raised.value.problems)


def test_files_are_recognised_by_any_word_for_a_parameter(tmp_path: Path) -> None:
    read(tmp_path, FILES, DIALECT)
    mine = tmp_path / "mine.toml"
    mine.write_text(DIALECT, encoding="utf-8")
    said = run("convert", tmp_path / "D1", "--to", "json", "-o", tmp_path / "o", "--dialect", mine)
    assert "1 test written" in said.output
