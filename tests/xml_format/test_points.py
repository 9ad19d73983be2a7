"""Points taken all at once are those that are found one by one, in whatever form they come."""

from pathlib import Path
from xml.sax.saxutils import escape

import pytest
from hypothesis import given
from hypothesis import strategies as st
from lxml import etree

from sweepbook_plugins.xml import points as xml_points
from sweepbook_plugins.xml.layout import PointForm
from sweepbook_plugins.xml.paths import Names, parse
from sweepbook_plugins.xml.paths import Path as Steps
from sweepbook_plugins.xml.tree import text_at
from tests.reading import axis, sweep

from .reading import HEAD, POINTS, read


def at(text: str) -> Steps:
    return parse(text, Names("", {"x": "urn:x"}))


FORMS = {
    '<p f="{0}">{1}</p>': PointForm(at("p"), at("@f"), at(".")),
    '<p f="{0}" v="{1}"/>': PointForm(at("p"), at("@f"), at("@v")),
    '<p>\n <v u="dB">{1}</v> <f>{0}</f>\n</p>': PointForm(
        at("p"), at("f"), at("v"), frozenset([at("v/@u")])
    ),
    '<x:p f="{0}"><x:v>{1}</x:v></x:p>': PointForm(at("x:p"), at("@f"), at("x:v")),
    "<p>{1}</p>": PointForm(at("p"), None, at(".")),
}
TEXTS = st.text("0123456789.-<>&\"' ", min_size=1, max_size=6).filter(lambda text: text.strip())


@pytest.mark.parametrize("form", FORMS)
@given(
    points=st.lists(st.tuples(TEXTS, TEXTS), min_size=1, max_size=5),
    gap=st.sampled_from(["", "\n", " "]),
)
def test_both_ways_agree(form: str, points: list[tuple[str, str]], gap: str) -> None:
    quoted = [[escape(text, {'"': "&quot;"}) for text in point] for point in points]
    inner = gap.join(form.format(*point) for point in quoted)
    curve = etree.fromstring(f'<c xmlns:x="urn:x" a="&gt;">{gap}{inner}{gap}</c>')
    found = xml_points.quick(curve, FORMS[form])
    assert found is not None
    assert found.alone
    slow = [text_at(each, FORMS[form].value) or "" for each in curve]
    assert list(found.value) == [text.strip() for text in slow]
    assert list(found.value) == [value.strip() for _, value in points]
    if FORMS[form].frequency:
        assert list(found.frequency) == [frequency.strip() for frequency, _ in points]


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize("count", [256, 257, 700])
def test_many_points_are_told_apart(form: str, count: int) -> None:
    texts = [(f"{n}", f"{n / 100}") for n in range(count)]
    inner = "\n".join(form.format(*point) for point in texts)
    found = xml_points.quick(etree.fromstring(f'<c xmlns:x="urn:x">{inner}</c>'), FORMS[form])
    assert found is not None
    assert list(found.value) == [value for _, value in texts]
    assert list(found.frequency) == [of for of, _ in texts if FORMS[form].frequency]


AFTER_ONE_ANOTHER = [
    ('xmlns:x="urn:x"', '<x:p f="1"><x:v>1.9</x:v></x:p><x:p f="2"><x:v>2.9</x:v></x:p>'),
    ('xmlns:x="urn:x"', '<x:p f="1"><x:v>1.8</x:v></x:p>\n<x:p f="2"><x:v>2.8</x:v></x:p>'),
    ('xmlns:z="urn:x"', '<z:p f="1"><z:v>1.7</z:v></z:p><z:p f="2"><z:v>2.7</z:v></z:p>'),
    ('xmlns="urn:x"', '<p f="1"><v>1.6</v></p><p f="2"><v>2.6</v></p>'),
]


def test_curves_after_one_another_may_write_their_points_in_other_ways() -> None:
    form = FORMS['<x:p f="{0}"><x:v>{1}</x:v></x:p>']
    for names, points in [*AFTER_ONE_ANOTHER, *reversed(AFTER_ONE_ANOTHER)]:
        curve = etree.fromstring(f"<c {names}>{points}</c>")
        found = xml_points.quick(curve, form)
        assert found is not None
        assert list(found.value) == [text.text for text in curve.iter("{urn:x}v")]


def test_a_prefix_may_stand_for_another_name_in_the_next_curve() -> None:
    form = FORMS['<x:p f="{0}"><x:v>{1}</x:v></x:p>']
    point = '<x:p f="1"><x:v>1.9</x:v></x:p>'
    found = xml_points.quick(etree.fromstring(f'<c xmlns:x="urn:x">{point}</c>'), form)
    assert found is not None
    mixed = '<z:p f="1"><z:v>1.7</z:v></z:p>'
    other = etree.fromstring(f'<c xmlns:x="urn:y" xmlns:z="urn:x">{mixed}{point}</c>')
    after = xml_points.quick(other, form)
    assert after is None or not after.alone
    assert after is None or list(after.value) == ["1.7"]


ODD = {
    "an attribute more": '<p f="1">1.9</p><p f="100" q="!">19.4</p>',
    "attributes turned round": '<p f="1" q="?">1.9</p><p q="!" f="100">19.4</p>',
    "a child more": '<p f="1">1.9</p><p f="100">19.4<q>!</q></p>',
    "text between": '<p f="1">1.9</p>!<p f="100">19.4</p>',
    "an element between": '<p f="1">1.9</p><q>!</q><p f="100">19.4</p>',
    "another namespace": '<p f="1">1.9</p><p f="100">19.4</p><p xmlns="urn:q" f="7">7</p>',
}


@pytest.mark.parametrize("what", ODD)
def test_points_that_differ_are_read_and_the_rest_is_kept(what: str, tmp_path: Path) -> None:
    curve = f'<c of="IL" pair="1-2">{ODD[what]}</c>'
    document = read(tmp_path, f'<r><t label="A">{curve}</t></r>', POINTS).document
    assert sweep(document, "insertion_loss 1-2")["value_db"].tolist() == [1.9, 19.4]
    kept = "\n".join(document["extra"].values())
    assert any(text in kept for text in ("!", "?", "7"))


def test_an_empty_point_is_a_value_that_is_missing(tmp_path: Path) -> None:
    curve = '<c of="IL" pair="1-2"><p f="1">1.9</p><p f="2"/><p f="3">2.1</p></c>'
    dialect = POINTS.replace('missing = ["--"]', 'missing = [""]')
    document = read(tmp_path, f'<r><t label="A">{curve}</t></r>', dialect).document
    found = sweep(document, "insertion_loss 1-2")
    assert found["value_db"].tolist() == [1.9, 2.1]
    assert found["gaps"] == [{"from": 1, "to": 1, "reason": "no value in the source"}]


def test_a_value_that_stands_twice_in_a_point_is_refused(tmp_path: Path) -> None:
    curve = '<c of="IL" pair="1-2"><p f="1"><v>1.9</v></p>\n<p f="2"><v>2</v><v>3</v></p></c>'
    dialect = POINTS.replace('value = "."', 'value = "v"')
    message = read(tmp_path, f'<r><t label="A">\n{curve}</t></r>', dialect).lost
    assert "line 3, /r/t[1]/c[@of=IL, @pair=1-2], point 2: the value stands there twice" in message
    first = dialect.replace('value = "v"', 'value = "v[1]"')
    document = read(tmp_path, f'<r><t label="A">{curve}</t></r>', first).document
    assert sweep(document, "insertion_loss 1-2")["value_db"].tolist() == [1.9, 2.0]
    assert document["extra"] == {"c/p/v": "3"}


def test_lines_of_points_are_told_beyond_65535(tmp_path: Path) -> None:
    points = "\n".join(f'<p f="{n / 100}">1.9</p>' for n in range(1, 70_001))
    curve = f'<c of="IL" pair="1-2">\n{points}\n<p f="701">no</p></c>'
    message = read(tmp_path, f'<r><t label="A">\n{curve}</t></r>', POINTS).lost
    assert "line 70003, /r/t[1]/c[@of=IL, @pair=1-2], point 70001: 'no' is no number" in message


def test_a_number_over_two_lines_is_told(tmp_path: Path) -> None:
    curve = '<c of="IL" pair="1-2"><p f="1">1\n.9</p><p f="2">--</p></c>'
    message = read(tmp_path, f'<r><t label="A">{curve}</t></r>', POINTS).lost
    assert "point 1: '1\\n.9' is no number" in message


SECOND = """
[xml]
test = "/r/t"
[[xml.curves]]
path = "near/c"
name = { "@of" = "{parameter}", "@pair" = "{pairs}", "@end" = "{end}" }
point = { path = "p", frequency = "@f", value = "@v" }
[[xml.curves]]
path = "far/c"
name = { "@of" = "{parameter}", "@pair" = "{pairs}", "@end" = "{end}" }
point = { path = "p", frequency = "FREQUENCY", value = "VALUE" }
"""


@pytest.mark.parametrize(
    ("frequency", "value", "far"),
    [
        ("@f", "@v", '<p f="1" v="27.5"/><p f="2" v="26.25"/>'),
        ("@v", "@f", '<p v="1" f="27.5"/><p v="2" f="26.25"/>'),
        ("@at", ".", '<p at="1">27.5</p><p at="2">26.25</p>'),
    ],
)
def test_curves_of_one_name_may_stand_at_two_paths(
    frequency: str, value: str, far: str, tmp_path: Path
) -> None:
    dialect = SECOND.replace("FREQUENCY", frequency).replace("VALUE", value)
    content = (
        '<near><c of="RL" pair="1-2" end="A"><p f="1" v="30.5"/><p f="2" v="29.75"/></c></near>'
        f'<far><c of="RL" pair="1-2" end="B">{far}</c></far>'
    )
    document = read(tmp_path, f'<r><t label="L">{content}</t></r>', f"{HEAD}{dialect}").document
    for name, values in (("near", [30.5, 29.75]), ("far", [27.5, 26.25])):
        curve = sweep(document, f"return_loss {name} 1-2")
        assert curve["value_db"].tolist() == values
        assert axis(document, curve) == [1.0, 2.0]


def test_what_is_called_like_a_point_and_means_nothing_is_passed_over(tmp_path: Path) -> None:
    inner = '<p f="1">1.9</p><limit><p f="1">2.1</p></limit><p f="100">19.4</p>'
    text = f'<r><t label="A"><c of="IL" pair="1-2">{inner}</c></t></r>'
    dialect = POINTS.replace("[xml]", '[xml]\nskip = ["c/limit"]')
    document = read(tmp_path, text, dialect).document
    assert sweep(document, "insertion_loss 1-2")["value_db"].tolist() == [1.9, 19.4]


def test_points_without_a_value_go_to_the_form_that_finds_one(tmp_path: Path) -> None:
    alone = POINTS.replace('value = "."', 'value = "@v"')
    other = '\n[[xml.curves]]\npath = "c"\nname = { "@of" = "{parameter}", "@pair" = "{pairs}" }\n'
    other += 'point = { path = "p", frequency = "@f", value = "@w" }\n'
    points = '<p f="1" w="1.9"/><p f="100" w="19.4"/>'
    text = f'<r><t label="A"><c of="IL" pair="1-2">{points}</c></t></r>'
    assert (
        "c[@of=IL, @pair=1-2]: no point of this curve has anything where xml.curves.point.value of "
        "its form leads; there are '@f', '@w'; give it a form with the one of these that it is"
    ) in read(tmp_path, text, alone).lost
    document = read(tmp_path, text, alone + other).document
    assert list(sweep(document, "insertion_loss 1-2")["value_db"]) == [1.9, 19.4]
