"""A figure whose unit is spelled otherwise is read where the spelling is known, and told else."""

from pathlib import Path

import pytest

from sweepbook.dialect.load import BadDialect, parse
from tests.csv_format.dialects import CURVES, FIGURES, changed
from tests.csv_format.reading import read
from tests.reading import Result

KEYS = changed(CURVES, 'value = "{parameter} {pairs}"', 'value = "{parameter} {pairs} {unit}"')
KEYS = changed(KEYS, 'length = "Length"', 'length = "Length"\ndc_loop_resistance = "Loop"')


def _of_key(folder: Path, title: str, value: str = "9.1") -> Result:
    return read(folder, f"Link,A\n{title},{value}\n\nMHz,IL 1-2\n1,1.9\n", KEYS)


def _of_column(folder: Path, title: str, values: tuple[str, str] = ("9.1", "9.2")) -> Result:
    rows = "".join(
        f"{pair};{value};61.2\n" for pair, value in zip(("1-2", "3-6"), values, strict=True)
    )
    return read(folder, f"Link;A\n[Figures]\nPair;{title};Length (m)\n{rows}", FIGURES)


@pytest.mark.parametrize("unit", ["ohm", "Ohm", "OHM", "Ohms", "ohms", "\u2126", "\u03a9"])
def test_common_spellings_of_ohm_are_known_in_titles_and_in_cells(
    tmp_path: Path, unit: str
) -> None:
    """Common practice, no source: SI writes the sign, instruments the name in any case."""
    for result in (_of_key(tmp_path, f"Loop 1-2 {unit}"), _of_column(tmp_path, f"Loop ({unit})")):
        scalar = next(s for s in result.document["results"]["scalars"] if "resistance_ohm" in s)
        assert (scalar["resistance_ohm"], scalar["pairs"]) == (9.1, ["1-2"])
    cells = _of_column(tmp_path, "Loop (ohm)", (f"9.1 {unit}", f"9.2{unit}"))
    assert cells.document["results"]["scalars"][0]["resistance_ohm"] == 9.1


@pytest.mark.parametrize("unit", ["Ом", "欧姆"])
def test_units_in_other_scripts_are_known(tmp_path: Path, unit: str) -> None:
    """Cyrillic: GOST 8.417, from memory; Chinese: common practice, no source."""
    result = _of_key(tmp_path, f"Loop 1-2 {unit}", f"9.1 {unit}")
    assert result.problems == []
    assert result.document["results"]["scalars"][0]["resistance_ohm"] == 9.1


def test_a_spelling_of_a_unit_may_be_declared(tmp_path: Path) -> None:
    content = "Link,A\nLoop 1-2 Ohmios,9.1\nLoop 3-6 mOhmios,9200\n\nMHz,IL 1-2\n1,1.9\n"
    (first, second) = read(tmp_path, content, KEYS).problems
    for told in (first, second):
        assert "say so in units.spellings" in told.message
    said = '[units]\nspellings = { ohm = "Ohmios", mohm = ["mOhmios"] }\n'
    result = read(tmp_path, content, KEYS + said)
    assert result.problems == []
    scalars = result.document["results"]["scalars"]
    assert [of["resistance_ohm"] for of in scalars] == [9.1, 9.2]


@pytest.mark.parametrize(
    ("spellings", "said"),
    [
        ('{ m = "cm" }', "'cm' is declared for m, and stands for cm"),
        ('{ m = "x", ft = "x" }', "'x' is declared for m, and stands for ft"),
        ('{ m = "m2" }', "'m2' cannot stand for m"),
        ('{ mile = "mi" }', "units.spellings"),
    ],
)
def test_a_spelling_that_is_another_units_is_refused(spellings: str, said: str) -> None:
    with pytest.raises(BadDialect, match=said):
        parse(f"{KEYS}[units]\nspellings = {spellings}\n".encode(), "mine.toml")


@pytest.mark.parametrize("unit", ["Ohmz", "kohm", "R"])
def test_a_key_lost_to_its_unit_is_told_with_its_line(tmp_path: Path, unit: str) -> None:
    (problem,) = _of_key(tmp_path, f"Loop 1-2 {unit}").problems
    assert problem.place == "line 2"
    assert f"'Loop 1-2 {unit}'" in problem.message
    assert f"{unit!r}, which is no spelling of ohm" in problem.message
    assert "units.resistance" in problem.message
    assert not problem.lost_record


@pytest.mark.parametrize("values", [("9.1", "9.1"), ("9.1", "9.2")])
def test_a_column_lost_to_its_unit_is_told_once(tmp_path: Path, values: tuple[str, str]) -> None:
    result = _of_column(tmp_path, "Loop (kOhm)", values)
    (problem,) = result.problems
    assert "'Loop (kOhm)'" in problem.message
    assert "'{parameter} ({unit})' as dc_loop_resistance" in problem.message
    assert problem.place
    assert len(result.records) == 1


def _lengths(result: Result) -> list[float]:
    scalars = result.document["results"]["scalars"]
    return [of["length_m"] for of in scalars if of["parameter"] == "length"]


def test_a_figure_is_in_the_unit_that_stands_in_its_name(tmp_path: Path) -> None:
    """The international foot is 0.3048 m exactly (NIST SP 811, 2008, appendix B.6)."""
    of_key, of_column = _of_key(tmp_path, "Length 1-2 ft", "201"), _in_two_units(tmp_path, "cm", "")
    assert _lengths(of_key) == [201 * 0.3048]
    assert _lengths(of_column) == [0.612, 0.612]
    assert of_key.problems == of_column.problems == []


def _in_two_units(folder: Path, one: str, other: str) -> Result:
    more = f";Length ({other})" if other else ""
    rows = "".join(f"{pair};61.2{';61.2' if other else ''}\n" for pair in ("1-2", "3-6"))
    return read(folder, f"Link;A\n[Figures]\nPair;Length ({one}){more}\n{rows}", FIGURES)


@pytest.mark.parametrize(
    ("one", "other", "in_m"), [("m", "ft", 61.2), ("ft", "m", 61.2), ("cm", "ft", 0.612)]
)
def test_of_two_units_the_declared_one_is_read_and_the_other_kept(
    tmp_path: Path, one: str, other: str, in_m: float
) -> None:
    result = _in_two_units(tmp_path, one, other)
    assert _lengths(result) == [in_m, in_m]
    spare = other if one != "ft" else one
    assert result.records[0].document["extra"][f"value length 1-2 ({spare})"] == "61.2"
    assert result.problems == []


def test_numbers_that_count_in_parts_of_a_unit_are_in_no_whole_one(tmp_path: Path) -> None:
    dialect = f'{KEYS}[units]\nresistance = "0.1 ohm"\n'
    text = "Link,A\nLoop 1-2 ohm,91\n\nMHz,IL 1-2\n1,1.9\n"
    (problem,) = read(tmp_path, text, dialect).problems
    assert "'ohm', which is no spelling of 0.1 ohm" in problem.message


def test_a_skew_longer_than_any_delay_is_told_at_the_door(tmp_path: Path) -> None:
    """By definition a skew is the largest delay less the smallest: no source but the word."""
    dialect = changed(KEYS, "[words.parameters]", '[words.parameters]\ndelay_skew = "Skew"')
    content = "Link,A\nDelay 1-2 us,0.184\nSkew 1-2 {},6\n\nMHz,IL 1-2\n1,1.9\n"
    (told,) = read(tmp_path, content.format("us"), dialect).problems
    right = read(tmp_path, content.format("ns"), dialect)
    assert (told.place, told.lost_record) == ("line 3", False)
    assert "'delay_skew 1-2' would be 6000 ns" in told.message
    assert "longest delay of the test is 184 ns" in told.message
    assert right.problems == []
    assert [of["delay_ns"] for of in right.document["results"]["scalars"]] == [184.0, 6.0]


@pytest.mark.parametrize(
    ("title", "value"), [("Loop 1-2 remark", "as built"), ("Loop", "9.1"), ("Depth 1-2 m", "9.1")]
)
def test_a_text_and_another_title_are_no_lost_figures(
    tmp_path: Path, title: str, value: str
) -> None:
    assert _of_key(tmp_path, title, value).problems == []


def test_a_curve_that_is_told_already_is_not_told_again(tmp_path: Path) -> None:
    dialect = changed(
        CURVES, 'name = ["{parameter} {pairs}",', 'name = ["{parameter} {pairs} {unit}",'
    )
    result = read(tmp_path, "Link,A\nMHz,IL 1-2 dB,IL 3-6 db\n1,1.9,1.8\n2,2.9,2.8\n", dialect)
    (problem,) = result.problems
    assert "no curve is known by the title 'IL 3-6 db'" in problem.message


@pytest.mark.parametrize("template", ["{parameter} {unit}", "{parameter} {pairs} {unit}"])
def test_a_figure_of_a_pair_without_one_is_kept_and_told(tmp_path: Path, template: str) -> None:
    dialect = changed(KEYS, '"{parameter} {pairs} {unit}"', f'"{template}"')
    result = read(tmp_path, "Link,A\nLoop ohm,9.1\n\nMHz,IL 1-2\n1,1.9\n", dialect)
    (problem,) = result.problems
    assert problem.place == "line 2"
    assert "'Loop ohm' reads as dc_loop_resistance and names no pair" in problem.message
    assert "worst_value.value" in problem.message
    assert result.records[0].document["extra"] == {"Loop ohm": "9.1"}
    assert "scalars" not in result.records[0].document["results"]


def test_the_worst_of_the_pairs_is_stated_and_nothing_is_measured(tmp_path: Path) -> None:
    dialect = changed(KEYS, '"Worst {parameter} {pairs} {end}"', '"{parameter} {unit}"')
    content = "Link,A\nLoop ohm,9.1\n\nMHz,IL 1-2\n1,1.9\n"
    document = read(tmp_path, content, dialect).document
    worst = {"value_ohm": 9.1, "decimals": 1, "as_stated": "9.1"}
    assert document["stated"]["items"] == [
        {"parameter": "dc_loop_resistance", "worst_value": worst}
    ]
    assert "scalars" not in document["results"]


def test_a_unit_in_a_name_that_cannot_be_is_told(tmp_path: Path) -> None:
    text = "Link,A\nDelay 1-2 us,184\n\nMHz,IL 1-2\n1,1.9\n"
    lost = read(tmp_path, text, KEYS).lost
    assert "'184' for 'propagation_delay 1-2' would be 184000 ns, which no cable has" in lost
    assert "{unit} in its name, which says us" in lost
