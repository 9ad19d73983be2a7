"""One column a curve: small files written by hand, with the values they must give."""

from pathlib import Path

import pytest

from tests.reading import axis, sweep

from .dialects import CURVES, changed
from .reading import read

TABLE = """MHz,IL 1-2,NEXT 1-2/3-6 A,FEXT 3-6/1-2 B
1,1.90,>80.0,78.20
10.5,5.7,--,60.1
100,19.4,41.0,40
"""


def test_values_gaps_and_bounds(tmp_path: Path) -> None:
    document = read(tmp_path, f"Link,A-17\n{TABLE}", CURVES).document
    loss = sweep(document, "insertion_loss 1-2")
    assert axis(document, loss) == [1.0, 10.5, 100.0]
    assert loss["value_db"].tolist() == [1.9, 5.7, 19.4]
    assert loss["decimals"] == 2
    crosstalk = sweep(document, "next near 1-2/3-6")
    assert crosstalk["value_db"].tolist() == [80.0, 41.0]
    assert crosstalk["bounds"] == [{"from": 0, "to": 0, "bound": "at_least", "as_stated": ">80.0"}]
    gap = {"from": 1, "to": 1, "as_stated": "--", "reason": "no value in the source"}
    assert crosstalk["gaps"] == [gap]
    assert sweep(document, "fext far 3-6/1-2")["value_db"].tolist() == [78.2, 60.1, 40.0]


def test_curves_on_one_axis_share_a_grid(tmp_path: Path) -> None:
    document = read(tmp_path, f"Link,A-17\n{TABLE}", CURVES).document
    assert [grid["id"] for grid in document["results"]["grids"]] == ["g1"]


def test_origin_and_provenance(tmp_path: Path) -> None:
    result = read(tmp_path, f"\nLink,A-17\n{TABLE}\n", CURVES)
    origin = result.document["origin"][0]
    assert (origin["name"], origin["locator"]) == ("export.csv", "lines 2-6")
    provenance = result.document["provenance"]
    assert provenance["reader"] == "csv"
    assert provenance["dialect"]["name"] == "small-curves"
    assert len(provenance["dialect"]["sha256"]) == 64


@pytest.mark.parametrize("label", ["007", "NA", "=1+1", "1e5", "TRUE", "03-11", " x ".strip(), "é"])
def test_labels_are_text(label: str, tmp_path: Path) -> None:
    assert read(tmp_path, f"Link,{label}\n{TABLE}", CURVES).document["link"]["label"] == label


def test_quoted_cells(tmp_path: Path) -> None:
    head = 'Link,"A, ""17"""\n"Room ""x""",1\n'
    document = read(tmp_path, head + TABLE, CURVES).document
    assert document["link"]["label"] == 'A, "17"'
    assert document["extra"] == {'Room "x"': "1"}


def test_unknown_keys_go_to_extra_word_for_word(tmp_path: Path) -> None:
    head = "Link,A\nHumidity,45 %\nTwo,first,second\nEmpty,\n"
    extra = read(tmp_path, head + TABLE, CURVES).document["extra"]
    assert extra == {"Humidity": "45 %", "Two": "first", "Two/2": "second", "Empty": ""}


def test_an_unknown_column_goes_to_extra_with_a_message(tmp_path: Path) -> None:
    table = "MHz,IL 1-2,Group delay 1-2\n1,1.9,5\n2,2.5,6\n"
    result = read(tmp_path, f"Link,A\n{table}", CURVES)
    assert result.records[0].document["extra"] == {"Group delay 1-2": "5\n6"}
    problem = result.problems[0]
    assert not problem.lost_record
    assert "'Group delay 1-2'" in problem.message
    assert "words.parameters" in problem.message


def test_figures_become_scalars_and_stated_items(tmp_path: Path) -> None:
    head = (
        "Link,A\nLength 1-2,62.10\nDelay 3-6,>312\nMargin NEXT 1-2/3-6 A,3.21\n"
        "At NEXT 1-2/3-6 A,212.5\nWorst RL 1-2 B,12.4\nNEXT result,PASS\nWires result,FAIL\n"
    )
    document = read(tmp_path, head + TABLE, CURVES).document
    assert document["results"]["scalars"] == [
        {"parameter": "length", "pairs": ["1-2"], "length_m": 62.1, "decimals": 2},
        {
            "parameter": "propagation_delay",
            "pairs": ["3-6"],
            "delay_ns": 312.0,
            "decimals": 0,
            "bound": "at_least",
            "as_stated": ">312",
        },
    ]
    margin = {"margin_db": 3.21, "decimals": 2, "as_stated": "3.21", "frequency_mhz": 212.5}
    value = {"value_db": 12.4, "decimals": 1, "as_stated": "12.4"}
    assert document["stated"]["items"] == [
        {"parameter": "next", "pairs": ["1-2", "3-6"], "end": "near", "worst_margin": margin},
        {"parameter": "return_loss", "pairs": ["1-2"], "end": "far", "worst_value": value},
        {"parameter": "next", "verdict": "pass", "verdict_as_stated": "PASS"},
        {"parameter": "wire_map", "verdict": "fail", "verdict_as_stated": "FAIL"},
    ]


def test_signs_turn_values_and_bounds_but_not_margins(tmp_path: Path) -> None:
    dialect = changed(CURVES, "[numbers]", '[signs]\nnegative = ["next", "return_loss"]\n[numbers]')
    dialect = changed(dialect, 'at_least = ">{}"', 'at_most = "<{}"')
    table = "MHz,NEXT 1-2/3-6 A\n1,<-80.0\n2,-60.5\n"
    head = "Link,A\nMargin NEXT 1-2/3-6 A,3.21\nWorst RL 1-2 A,-12.4\n"
    document = read(tmp_path, head + table, dialect).document
    curve = sweep(document, "next near 1-2/3-6")
    assert curve["value_db"].tolist() == [80.0, 60.5]
    assert curve["bounds"][0]["bound"] == "at_least"
    margin, value = document["stated"]["items"]
    assert margin["worst_margin"]["margin_db"] == 3.21
    assert value["worst_value"]["value_db"] == 12.4


@pytest.mark.parametrize(("limits", "stated"), [("", "-12.0"), ('limits = "positive"', "12.0")])
def test_limits_turn_with_their_curves_or_are_positive_all_the_same(
    limits: str, stated: str, tmp_path: Path
) -> None:
    signs = f'[signs]\nnegative = ["next"]\n{limits}\n[figures]\n'
    signs += 'worst_margin.limit = "Limit {parameter} {pairs} {end}"\n'
    dialect = changed(CURVES, "[figures]\n", signs)
    head = f"Link,A\nMargin NEXT 1-2/3-6 A,3.21\nLimit NEXT 1-2/3-6 A,{stated}\n"
    document = read(tmp_path, f"{head}MHz,NEXT 1-2/3-6 A\n1,-80.0\n2,-60.5\n", dialect).document
    (item,) = document["stated"]["items"]
    assert item["worst_margin"]["limit_db"] == 12.0


def test_a_margin_whose_good_sign_is_negative(tmp_path: Path) -> None:
    dialect = changed(CURVES, "[numbers]", '[signs]\ngood_margin = "negative"\n[numbers]')
    document = read(tmp_path, f"Link,A\nMargin NEXT 1-2/3-6 A,-3.2\n{TABLE}", dialect).document
    assert document["stated"]["items"][0]["worst_margin"]["margin_db"] == 3.2


def test_the_wire_map(tmp_path: Path) -> None:
    head = "Link,A\nWires,1-1 2-2 3-6 6-x\nScreen,broken\n"
    wires = read(tmp_path, head + TABLE, CURVES).document["results"]["wire_map"]
    assert wires == {
        "pins": [["1", "1"], ["2", "2"], ["3", "6"], ["6", None]],
        "screen": "open",
        "as_stated": "1-1 2-2 3-6 6-x",
    }


def test_the_limit_by_the_dialect_by_its_words_and_not_at_all(tmp_path: Path) -> None:
    path = "tia-568.2-d/cat6a/permanent-link"
    dialect = f'{CURVES}\n[limits]\n"{path}" = "6A link"\n'
    limits = {}
    for spelling in ("6A link", "TIA-568.2-D Category 6A Permanent Link", "Grade 9"):
        document = read(tmp_path, f"Link,A\nLimit,{spelling}\n{TABLE}", dialect).document
        assert document["test"]["limit"] == {"as_stated": spelling}
        limits[spelling] = document["resolved"]["limit"]
    assert limits["6A link"] == {"path": path, "how": "alias of dialect small-curves"}
    assert limits["TIA-568.2-D Category 6A Permanent Link"]["path"] == path
    assert "path" not in limits["Grade 9"]
    assert "Grade 9" in limits["Grade 9"]["how"]


def test_a_limit_that_the_dialect_leads_to_a_table_not_at_hand_is_no_other(tmp_path: Path) -> None:
    """The words mean a table by themselves, but that is not what the dialect says."""
    spelling = "TIA-568.2-D Category 6A Permanent Link"
    dialect = f'{CURVES}\n[limits]\n"thornquay/link" = "{spelling}"\n'
    document = read(tmp_path, f"Link,A\nLimit,{spelling}\n{TABLE}", dialect).document
    assert document["resolved"]["limit"]["path"] == "thornquay/link"


def test_a_tabulator_and_a_key_with_a_colon(tmp_path: Path) -> None:
    layout = 'layout = "curve-per-column"'
    dialect = changed(CURVES, layout, f'{layout}\ndelimiter = "\\t"\npreamble.separator = ":"')
    text = "Link: A\tB\nMHz\tIL 1-2\n1\t1.9\n"
    assert read(tmp_path, text, dialect).document["link"]["label"] == "A\tB"


def test_blank_cells_at_the_end_of_a_row_are_no_cells(tmp_path: Path) -> None:
    text = "Link,A,,\nMHz,IL 1-2\n1,1.9,,\n2,2.5,,\n"
    document = read(tmp_path, text, CURVES).document
    assert sweep(document, "insertion_loss 1-2")["value_db"].tolist() == [1.9, 2.5]


def test_a_length_that_every_row_repeats_is_a_single_figure(tmp_path: Path) -> None:
    dialect = changed(CURVES, 'frequency = "MHz"', 'frequency = "MHz"\ntest = "Link"')
    content = "Link,Length 1-2,MHz,IL 1-2\nA,62.1,1,1.9\nA,62.1,2,2.7\n"
    document = read(tmp_path, content, dialect).document
    assert document["results"]["scalars"][0]["length_m"] == 62.1
    assert [entry["parameter"] for entry in document["results"]["sweeps"]] == ["insertion_loss"]
    lost = read(tmp_path, content.replace("A,62.1,2", "A,62.2,2"), dialect)
    assert any("Length 1-2" in problem.message for problem in lost.problems)
