"""Rows of several kinds in one table, each with blank cells for what it has not."""

from pathlib import Path

import pytest

from .dialects import POINTS, changed
from .reading import read
from .test_messages import MARGINS, margins
from .test_sections import BY_HEADING, SECTIONED, sections

FIGURES = (
    changed(
        POINTS,
        '[[csv.rows.figures]]\nname = { What = "{parameter}", Pair = "{pairs}" }\nvalue = "dB"\n',
        '[[csv.rows.figures]]\nname = { What = "{parameter}" }\nworst_margin.margin = "Margin"\n'
        'worst_margin.pairs = "Pair"\nworst_margin.end = "End"\n',
    )
    .replace('[csv.rows.property]\nkey = "What"\nvalue = "Text"\n', "")
    .replace(
        '[csv.rows.point]\nname = { What = "{parameter}", Pair = "{pairs}", End = "{end}" }\n'
        'frequency = "MHz"\nvalue = "dB"\n',
        "",
    )
    .replace('layout = "point-per-row"', 'layout = "figure-per-row"')
)
TITLES = "Test;Link;What;Pair;End;Value;Margin"


def rows(*some: str) -> str:
    return "\n".join([TITLES, *(f"1;A-17;{row}" for row in some), ""])


@pytest.mark.parametrize("none", ["", "--"])
def test_pairs_without_a_margin_beside_them_are_no_figures(none: str, tmp_path: Path) -> None:
    """Four lengths name a pair each, and none of them is the pair of a margin of the length."""
    lengths = [
        f"Length;{pair};;{at}.5;{none}" for at, pair in enumerate(("1-2", "3-6", "4-5", "7-8"))
    ]
    result = read(tmp_path, rows(*lengths, "NEXT;1-2/3-6;A;;3.1"), FIGURES)
    document = result.records[0].document
    (item,) = document["stated"]["items"]
    assert (item["parameter"], item["pairs"], item["end"]) == ("next", ["1-2", "3-6"], "near")
    assert item["worst_margin"]["margin_db"] == 3.1
    assert document["extra"]["Length"].split("\n")[3] == f"A-17 7-8 3.5 {none}".strip()
    (problem,) = result.problems
    assert "the rows 'Length' say nothing under 'Margin', 'End', where" in problem.message
    assert "but under 'Pair', 'Value'" in problem.message
    assert "where their forms look" in problem.message
    assert "take these columns into csv.rows.figures" in problem.message


@pytest.mark.parametrize("margin", ["3.1", "--", ""])
def test_the_rest_of_such_a_row_counts(margin: str, tmp_path: Path) -> None:
    dialect = changed(FIGURES, "worst_margin.end", 'value = "Value"\nworst_margin.end')
    result = read(tmp_path, rows(f"Length;1-2;;62.1;{margin}"), dialect)
    if margin == "3.1":
        assert "worst_margin" in result.document["stated"]["items"][0]
        return
    (scalar,) = result.document["results"]["scalars"]
    assert scalar["length_m"] == 62.1
    assert "1-2" in str(result.document["extra"])


def test_a_word_in_other_letters_is_told_with_its_list(tmp_path: Path) -> None:
    text = SECTIONED.replace("[NEXT B]", "[Next b]")
    (problem,) = read(tmp_path, text, sections(BY_HEADING)).problems
    assert "'Next' is not in words.parameters, where 'NEXT' is" in problem.message
    assert "'b' is not in words.ends, where 'B' is" in problem.message
    assert "else see csv.sections" in problem.message


@pytest.mark.parametrize(
    ("title", "told"),
    [
        ("f (kHz)", "in another unit"),
        ("f  (MHz)", "'f (MHz)' is declared; if the export is right, see csv.sections.0.curves;"),
        ("Frequency", ""),
    ],
)
def test_titles_that_are_known_but_for_one_are_told(title: str, told: str, tmp_path: Path) -> None:
    points = '[[csv.sections]]\ncurves = { frequency = "f (MHz)", name = "{parameter} {pairs}" }\n'
    names = ",".join(f"IL {pair}" for pair in ("1-2", "3-6", "4-5", "7-8"))
    body = "1,1.9,1.8,1.9,1.9\n2,2.5,2.4,2.5,2.5\n"
    text = f"{margins('RL,1-2,A,3,50')}\n\n{title},{names}\n{body}"
    result = read(tmp_path, text, sections(points + MARGINS))
    (problem,) = result.problems
    assert "sweeps" not in result.records[0].document.get("results", {})
    if not told:
        assert "without a known line of titles" in problem.message
        return
    line = text.split("\n").index(f"{title},{names}") + 1
    assert f"line {line} has {title!r} where 'f (MHz)' is declared" in problem.message
    assert told in problem.message
    assert "if not, it has to be exported again or mended" in problem.message


def test_a_row_that_says_nothing_at_all_is_none(tmp_path: Path) -> None:
    document = read(tmp_path, rows("Length;;;;", "NEXT;1-2/3-6;A;;3.1"), FIGURES).document
    assert [item["parameter"] for item in document["stated"]["items"]] == ["next"]
