"""One small measurement, written in every layout, becomes the same numbers; all by hand."""

from pathlib import Path

import pytest

from sweepbook.dialect.load import parse
from sweepbook.formats import ReadSetting
from sweepbook.record import canonical
from sweepbook.record.model import Record
from sweepbook.source import Source
from sweepbook_plugins.csv import sweeps as csv_sweeps
from tests.reading import LIBRARY, axis, sweep

from .reading import HEAD, POINTS, read

NAMED = 'path = "c"\nname = { "@of" = "{parameter}", "@pair" = "{pairs}", "@end" = "{end}" }\n'


def attributes(il: str, near: str) -> str:
    """Two curve elements that attributes name; each text closes the tag that it begins in."""
    return f'<c of="IL" pair="1-2" {il}</c><c of="NEXT" pair="1-2/3-6" end="A" {near}</c>'


LAYOUTS = {
    "points, frequency in an attribute": (
        "",
        NAMED + 'point = { path = "p", frequency = "@f", value = "." }',
        attributes(
            '><p f="1">1.9</p>\n<p f="100">19.4</p>', '><p f="1">&gt;80</p>\n<p f="100">41.0</p>'
        ),
    ),
    "points, all in attributes": (
        "",
        NAMED + 'point = { path = "p", frequency = "@f", value = "@v" }',
        attributes(
            '><p f="1" v="1.9"/><p f="100" v="19.4"/>',
            '><p v="&gt;80" f="1"/><p v="41.0" f="100"/>',
        ),
    ),
    "points, children, a list of them around": (
        "",
        NAMED + 'point = { path = "ps/p", frequency = "f", value = "v" }',
        attributes(
            "><ps><p><f>1</f><v>1.9</v></p><p><f>100</f><v>19.4</v></p></ps>",
            "><ps><p><v>>80</v><f>1</f></p><p><f> 100 </f><v>41.0</v></p></ps>",
        ),
    ),
    "points over a shared axis": (
        '[[xml.axes]]\npath = "fs"\npoint = "f/@x"',
        NAMED + 'point = { path = "p", value = "." }',
        '<fs><f x="1"/><f x="100"/></fs>'
        + attributes("><p>1.9</p><p>19.4</p>", "><p>>80</p><p>41.0</p>"),
    ),
    "lists over an axis of the file": (
        '[[xml.axes]]\npath = "/r/ax"\nid = "@id"\nlist = "f"\nseparator = ";"',
        NAMED + 'values = "@v"\naxis = "@ax"\nseparator = ";"',
        attributes('ax="a" v="1.9; 19.4;">', 'ax="a" v=">80;41.0">'),
    ),
    "lists in lines, a separator at the end of a line or none": (
        '[[xml.axes]]\npath = "/r/ax"\nid = "@id"\nlist = "f"\nseparator = ";"',
        NAMED + 'values = "."\naxis = "@ax"\nseparator = ";"',
        attributes('ax="a">\n1.9\n 19.4\n', 'ax="a">>80;\n41.0\n').replace("</c><c", "</c>\n<c"),
    ),
    "lists over an axis of the test, of runs with a stop": (
        '[[xml.axes]]\npath = "ax"\nrun = { path = "run", start = "@a", step = "@d", stop = "@z" }',
        NAMED + 'values = "."',
        '<ax><run a="1" d="99" z="100"/></ax>' + attributes(">1.9\n 19.4 ", ">&gt;80 41.0"),
    ),
    "lists with a run of their own": (
        "",
        NAMED + 'values = "v"\nrun = { start = "@a", step = "@d", count = "@n" }',
        attributes(
            'a="1" d="99" n="2"><v>1.9 19.4</v>', 'a="1" d="99" n="2"><v>&gt;80 <!-- x -->41.0</v>'
        ),
    ),
    "lists of frequencies with their values": (
        "",
        NAMED + 'values = "."\nsample = "{frequency}:{value}"',
        attributes(">1:1.9\n 100:19.4 ", ">1:&gt;80 100:41.0"),
    ),
    "lists of values with their frequencies, blanks around the marks": (
        "",
        NAMED + 'values = "v/@all"\nseparator = ";"\nsample = "{value}@{frequency}"',
        attributes('><v all="1.9@1; 19.4 @ 100;"/>', '><v all="&gt;80@1;41.0@100"/>'),
    ),
    "lists of pairs of numbers": (
        "",
        NAMED + 'values = "."\nseparator = "|"\nsample = "{frequency} {value}"',
        attributes(">1 1.9|100  19.4", ">1 &gt;80|100 41.0"),
    ),
    "lists with a list of frequencies beside them": (
        "",
        'path = "g/c"\nname = { "@of" = "{parameter}", "@pair" = "{pairs}", "@end" = "{end}" }\n'
        'values = "."\nfrequency = "../f"',
        f"<g><f>1 100</f>{attributes('>1.9 19.4', '>&gt;80 41.0')}</g>",
    ),
}


@pytest.mark.parametrize("layout", LAYOUTS)
def test_the_same_numbers(layout: str, tmp_path: Path) -> None:
    axes, curves, text = LAYOUTS[layout]
    dialect = f'{HEAD}\n[xml]\ntest = "/r/t"\n{axes}\n[[xml.curves]]\n{curves}\n'
    whole = f'<r><ax id="a"><f>1;100</f></ax><t label="A">{text}</t></r>'
    if 'path = "/r/ax"' not in axes:
        whole = whole.replace('<ax id="a"><f>1;100</f></ax>', "")
    document = read(tmp_path, whole, dialect).document
    for name, values in (("insertion_loss 1-2", [1.9, 19.4]), ("next near 1-2/3-6", [80.0, 41.0])):
        entry = sweep(document, name)
        assert axis(document, entry) == [1.0, 100.0]
        assert entry["value_db"].tolist() == values
    clipped = {"from": 0, "to": 0, "bound": "at_least", "as_stated": ">80"}
    assert sweep(document, "next near 1-2/3-6")["bounds"] == [clipped]
    assert "extra" not in document


def test_names_of_elements_name_curves(tmp_path: Path) -> None:
    dialect = (
        f'{HEAD}\n[xml]\ntest = "/t"\nnamespace = "urn:a"\n[xml.namespaces]\nb = "urn:b"\n'
        '[[xml.curves]]\npath = "b:{parameter}/side_{end}/c"\nname = { "q/pair" = "{pairs}" }\n'
        'values = "v"\nfrequency = "f"\n'
    )
    text = (
        '<x:t xmlns:x="urn:a" xmlns:y="urn:b" label="A"><y:NEXT><x:side_B><x:c><x:q>'
        "<x:pair>1-2/3-6</x:pair></x:q><x:f>1 2</x:f><x:v>70 71</x:v></x:c></x:side_B>"
        "</y:NEXT></x:t>"
    )
    entry = sweep(read(tmp_path, text, dialect).document, "next far 1-2/3-6")
    assert entry["value_db"].tolist() == [70.0, 71.0]


def test_runs_are_expanded_exactly_and_follow_each_other(tmp_path: Path) -> None:
    dialect = (
        f'{HEAD}\n[units]\nfrequency = "kHz"\n[xml]\ntest = "/r/t"\n[[xml.axes]]\npath = "/r/ax"\n'
        'run = { path = "run", start = "@a", step = "@d", count = "@n" }\n[[xml.curves]]\n'
        + NAMED
        + 'values = "."'
    )
    text = (
        '<r><ax><run a="1000" d="0.1" n="3"/><run a="1001" d="125" n="2"/></ax>'
        '<t label="A"><c of="IL" pair="1-2">1 2 3 4 5</c></t></r>'
    )
    document = read(tmp_path, text, dialect).document
    found = axis(document, sweep(document, "insertion_loss 1-2"))
    assert found == [1.0, 1.0001, 1.0002, 1.001, 1.126]


def test_what_stands_around_the_tests_belongs_to_those_after_it(tmp_path: Path) -> None:
    dialect = (
        HEAD.replace(
            'link.label = "@label"',
            'link.label = "@label"\n'
            'link.near.place.site = "/r/site"\nlink.near.place.floor = "/r/fl/@no"\n'
            'link.near.place.space = "/r/fl/space"',
        )
        + '\n[xml]\ntest = "/r/fl/t"\n[[xml.curves]]\n'
        + NAMED
        + 'point = { path = "p", frequency = "@f", value = "." }'
    )
    curve = '<c of="IL" pair="1-2"><p f="1">1.9</p></c>'
    text = (
        f'<r><site>S</site>lost words<fl no="1"><space>X</space><t label="A">{curve}</t>'
        f'<space2>Y</space2><t label="B">{curve}</t></fl>'
        f'<fl no="2"><t label="C">{curve}</t></fl></r>'
    )
    result = read(tmp_path, text, dialect)
    assert result.problems == []
    places = [record.document["link"]["near"]["place"] for record in result.records]
    assert places == [
        {"site": "S", "floor": "1", "space": "X"},
        {"site": "S", "floor": "1", "space": "X"},
        {"site": "S", "floor": "2"},
    ]
    extras = [record.document["extra"] for record in result.records]
    assert extras == [
        {"/r": "lost words"},
        {"/r": "lost words", "/r/fl/space2": "Y"},
        {"/r": "lost words"},
    ]


def test_csv_gives_the_same(tmp_path: Path) -> None:
    as_xml = read(
        tmp_path,
        '<r><t label="A"><c of="IL" pair="1-2"><p f="1">1.90</p><p f="31.25">--</p>'
        '<p f="100">19.4</p></c></t></r>',
        POINTS,
    ).document
    path = tmp_path / "export.csv"
    path.write_text("Link,A\nMHz,IL 1-2\n1,1.90\n31.25,--\n100,19.4\n", encoding="utf-8")
    text = HEAD.replace('format = "xml"', 'format = "csv"').replace('"@label"', '"Link"')
    layout = '[csv]\nlayout = "curve-per-column"\n[csv.curves]\nfrequency = "MHz"\n'
    dialect = parse(f'{text}{layout}name = "{{parameter}} {{pairs}}"\n'.encode(), "csv.toml")
    record = next(csv_sweeps.read(Source(path), ReadSetting(LIBRARY, {}, dialect)))
    assert isinstance(record, Record)
    ours, theirs = as_xml["results"], record.document["results"]
    assert canonical.text(ours) == canonical.text(theirs)
