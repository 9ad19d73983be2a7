"""What is left when all else is known: the other verdict, the other place, words for no value."""

from pathlib import Path

import pytest

from sweepbook.draft.evidence import Evidence
from sweepbook.draft.fields import guess
from sweepbook.draft.reading import words_for_none
from sweepbook.draft.wires_by_contact import find
from sweepbook_plugins.csv.draft.shape import Seen, Shape
from sweepbook_plugins.csv.draft.table_words import take_words
from sweepbook_plugins.csv.draft.tests import are_tests
from sweepbook_plugins.csv.draft.text import Text
from sweepbook_plugins.xml.draft.cells import Cell, roles_of

from .drafting import draft_of
from .links import link, wide
from .test_csv import RAW


def test_the_only_word_beside_that_for_a_pass_is_taken_for_a_fail(tmp_path: Path) -> None:
    """It may prove no pass if it is none; the contrary is left to a person."""
    passed = wide(link("A-1", 31.0), *RAW)
    failed = passed.replace("A-1", "A-2").replace("PASS", "grombled")
    draft = draft_of(tmp_path, passed + failed)
    assert 'fail = "grombled"' in draft
    unknown = draft_of(
        tmp_path, passed.replace("PASS", "grombled") + failed.replace("grombled", "FAIL")
    )
    assert 'pass = "grombled"' not in unknown


def test_a_word_for_two_places_gives_way_to_one_for_a_single_place() -> None:
    keys = {"Local": ["Prédio Um"], "Bloco": ["B"], "Sala": ["Sala 201"]}
    found = {one.path.rpartition(".")[2]: one.texts for one in guess(keys, ("principal", "remota"))}
    assert found == {"site": ["Prédio Um"], "building": ["B"], "space": ["Sala 201"]}


@pytest.mark.parametrize(
    ("texts", "words"),
    [
        (["3.6", "zzq", "3.7"], ["zzq"]),
        (["3.6", "PASS"], []),
        (["zzq"], []),
        (["3.6", "2.OG", "---"], []),
    ],
)
def test_words_among_numbers_stand_for_none(texts: list[str], words: list[str]) -> None:
    assert words_for_none(texts) == words


def test_rows_named_by_parameters_are_no_tests() -> None:
    titles = ["Measurement", "Pair 1", "Pair 2", "Result"]
    rows = [["Length [m]", "37.7", "38.2", "pass"], ["Delay [ns]", "161.2", "163.4", "pass"]]
    assert not are_tests(titles, rows)
    assert are_tests(
        ["Link", "Limit", "Result"], [["A-1", "Cat 6A PL", "pass"], ["A-2", "Cat 6A PL", "fail"]]
    )


@pytest.mark.parametrize(
    ("called", "more", "role"),
    [
        ("worstMargin", {}, "worst_margin.margin"),
        ("worst", {}, "worst_value.value"),
        ("worstMargin", {"@limit": Cell("limit", "38.0", ())}, "worst_value.value"),
    ],
)
def test_the_value_of_a_margin_is_the_margin(called: str, more: dict[str, Cell], role: str) -> None:
    """Where its limit stands beside it, it may as well be the value there."""
    cells = {
        "@value": Cell("value", "2.57", ()),
        "@frequency": Cell("frequency", "5.1", ()),
        **more,
    }
    assert roles_of(cells, called)["@value"] == role


def test_a_wire_without_its_other_contact_is_open_where_a_word_says_so() -> None:
    keys = {f"wires/wire[@near={n}]/@far": [n] for n in "12345678"}
    told = find(keys, None)
    assert told is not None
    assert told.form.open == frozenset()
    told = find({**keys, "wires/wire[@near=7]/@state": ["open"]}, None)
    assert told is not None
    assert told.form.open == frozenset({""})


@pytest.mark.parametrize(
    ("rows", "gaps"),
    [
        ([["1", "3.1"], ["2", "zzq"], ["3", "3.4"]], ["zzq"]),
        ([["1", "3.1"], ["2", "zzq"], ["3"], [], ["4", "3.4"]], ["zzq"]),  # rows that end early
        ([["1", "3.1"], ["MHz", "dB"], ["3", "3.4"]], []),  # units
        ([["1", "3.1"], ["MHz", "IL"], ["3", "3.4"]], []),  # titles again
    ],
)
def test_words_in_columns_of_values_are_gaps(rows: list[list[str]], gaps: list[str]) -> None:
    text = Text("utf-8", None, ";", [], rows, [], cut=False)
    shape = Shape([Seen(("MHz", "IL"), 0, len(rows))])
    evidence = Evidence()
    take_words([(text, shape)], evidence)
    assert evidence.gaps == gaps
