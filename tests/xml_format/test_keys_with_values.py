"""Curves among other facts of one kind, and axes that say of which curves they are."""

from pathlib import Path

import pytest

from sweepbook.dialect.load import BadDialect, parse
from sweepbook_plugins.xml import sweeps as xml_sweeps

from .reading import HEAD, read

FACTS = (
    HEAD.replace('link.label = "@label"', 'link.label = "i[k=Link]/v"')
    + """
[words.pairs]
1-2 = "12"
3-6 = "36"
[figures]
value = "i[k={parameter} {pairs}]/v"
[xml]
test = "/r/t"
[[xml.axes]]
path = "i"
name = { k = ["{parameter} MHz", "{parameter} {pairs} MHz"] }
list = "v"
[[xml.curves]]
path = "i"
name = { k = ["{parameter} {pairs}", "{parameter} {pairs} {end}"] }
values = "v"
"""
)


def facts(*told: tuple[str, str]) -> str:
    """One test with keys and values."""
    lines = "".join(f"<i><k>{key}</k><v>{text}</v></i>\n" for key, text in told)
    return f"<r>\n<t>\n{lines}</t>\n</r>"


LINK = ("Link", "A")
IL = (("IL MHz", "1 100"), ("IL 12", "1.9 19.4"))


def test_of_keys_of_one_form_a_list_is_a_curve_and_a_number_a_figure(tmp_path: Path) -> None:
    result = read(tmp_path, facts(LINK, *IL, ("Length 12", "41.1"), ("Length 36", "--")), FACTS)
    assert result.problems == []
    (sweep,) = result.document["results"]["sweeps"]
    assert (sweep["parameter"], [*sweep["value_db"]]) == ("insertion_loss", [1.9, 19.4])
    (length,) = result.document["results"]["scalars"]
    assert (length["pairs"], length["length_m"]) == (["1-2"], 41.1)
    assert result.document.get("extra", {}) == {}


def test_facts_that_nothing_leads_to_are_kept_and_no_unknown_curves(tmp_path: Path) -> None:
    result = read(tmp_path, facts(LINK, *IL, ("Drum", "7"), ("Hall", "North Wing 2")), FACTS)
    assert result.problems == []
    told = {key: text for key, text in result.document["extra"].items() if key.endswith("/v")}
    assert told == {"i[k=Drum]/v": "7", "i[k=Hall]/v": "North Wing 2"}


@pytest.mark.parametrize("text", ["1.9 19.4", "-- --", "&gt;60 &gt;60"])
def test_a_list_of_no_known_name_is_told(text: str, tmp_path: Path) -> None:
    result = read(tmp_path, facts(LINK, *IL, ("ECHO 12", text)), FACTS)
    (problem,) = result.problems
    assert "nothing is known by this name (no template or word is for 'ECHO 12' at k)" in (
        problem.message
    )
    assert result.records[0].document["extra"]["i[k=ECHO 12]/v"] == text.replace("&gt;", ">")


def test_a_list_that_is_no_curve_of_the_axis_loses_the_test(tmp_path: Path) -> None:
    result = read(tmp_path, facts(LINK, *IL, ("IL 36", "1.9 19.4 20")), FACTS)
    assert result.records == []
    assert "has 3 values where the axis of 'insertion_loss' (line" in result.problems[0].message


@pytest.mark.parametrize(
    ("axes", "sought"),
    [
        ((("RL MHz", "1 10"), ("RL 12 MHz", "1 20")), {("1-2", "near"): 20, ("3-6", "far"): 10}),
        ((("RL 12 MHz", "1 20"), ("RL 36 MHz", "1 30")), {("1-2", "near"): 20, ("3-6", "far"): 30}),
    ],
)
def test_the_axis_of_a_curve_is_the_one_named_most_as_it_is(
    axes: tuple[tuple[str, str], ...], sought: dict[tuple[str, str], int], tmp_path: Path
) -> None:
    curves = (("RL 12 A", "31.4 17.6"), ("RL 36 B", "30.1 16.2"))
    document = read(tmp_path, facts(LINK, *axes, *curves), FACTS).document
    grids = {of["id"]: of["frequency_mhz"][-1] for of in document["results"]["grids"]}
    swept = document["results"]["sweeps"]
    assert {(of["pairs"][0], of["end"]): float(grids[of["grid"]]) for of in swept} == sought


def test_a_curve_that_no_axis_is_of_is_told_of_those_there_are(tmp_path: Path) -> None:
    result = read(tmp_path, facts(LINK, *IL, ("RL 12 A", "31.4 17.6")), FACTS)
    assert result.records == []
    message = result.problems[0].message
    assert "the axes here are of 'insertion_loss', and none is of the curve" in message
    assert "see xml.axes" in message


def test_two_axes_of_one_curve_lose_the_test(tmp_path: Path) -> None:
    result = read(tmp_path, facts(LINK, IL[0], *IL), FACTS)
    assert result.records == []
    assert "the axis of 'insertion_loss' stands in line" in result.problems[0].message


def test_an_axis_is_called_by_curves_or_says_itself_whose_it_is() -> None:
    bad = FACTS.replace('list = "v"', 'list = "v"\nid = "@id"')
    with pytest.raises(BadDialect) as caught:
        xml_sweeps.check_dialect(parse(bad.encode(), "bad.toml"))
    assert "xml.axes[1]: `id` and `name` both say whose the axis is" in str(caught.value)


def test_a_template_of_an_axis_has_to_name_a_parameter() -> None:
    bad = FACTS.replace('["{parameter} MHz", "{parameter} {pairs} MHz"]', '"{pairs} MHz"')
    with pytest.raises(BadDialect) as caught:
        xml_sweeps.check_dialect(parse(bad.encode(), "bad.toml"))
    assert "xml.axes[1].name: nothing holds {parameter}" in str(caught.value)
