"""Drafts of files with all tests in tables below headings: tests, results, and curves."""

from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest

from .drafting import curves, written
from .headed import WORDS, WORST, Export
from .links import Link, link
from .test_tables_joined import drafted, gathered

LINKS = [link("B-1", 31.0), link("B-2", 88.5), link("B-3", 12.0)]
MORE = [link("C-1", 44.0), link("C-2", 66.0)]


def holds(document: Mapping[str, Any], one: Link) -> None:
    """Check that a record holds all that the tables say of a link."""
    assert curves(dict(document)) == written(one, *WORDS)
    assert "extra" not in document
    assert document["stated"]["overall"]["verdict"] == "pass"
    assert [float(of["length_m"]) for of in document["results"]["scalars"]] == [one.metres] * 4
    items = [of for of in document["stated"]["items"] if "worst_margin" in of]
    assert [of["verdict"] for of in items] == ["pass", "pass", "fail"]
    for item, (parameter, end, pairs, margin, khz) in zip(items, WORST, strict=True):
        assert (item["parameter"], item.get("end"), (*item["pairs"],)) == (parameter, end, pairs)
        assert float(item["worst_margin"]["margin_db"]) == float(margin)
        assert round(float(item["worst_margin"]["frequency_mhz"]) * 1000) == khz


def read_all(folder: Path, texts: Mapping[str, str], links: list[Link]) -> str:
    """Draft for files, read them, and check each record; the draft."""
    draft = drafted(folder, texts)
    assert '= "TO-BE-SETTLED"' not in draft
    documents = gathered(folder, texts, draft)
    assert [of["link"]["label"] for of in documents] == [of.label for of in links]
    for document, one in zip(documents, links, strict=True):
        holds(document, one)
    return draft


@pytest.mark.parametrize(
    "written_so",
    [
        {"mark": "\t", "number": "Record"},
        {"headings": ("Tests", "Results", "Curves"), "order": "ctr", "mark": "|"},
        {"headings": ("# Cable tests", "# Length and margins", "# NEXT and losses")},
        {"curves": "columns", "first": 1, "mark": ","},
        {"curves": "rows", "order": "tcr"},
    ],
    ids=["record", "words", "words of the trade", "columns", "rows"],
)
def test_each_headed_table_is_a_part(written_so: dict[str, Any], tmp_path: Path) -> None:
    draft = read_all(tmp_path, {"export.csv": Export(LINKS, **written_so).text()}, LINKS)
    assert draft.count("\npart = ") == 2


@pytest.mark.parametrize(
    "written_so",
    [
        {"headings": ("Section;Tests", "Section;Results", "Section;Curves")},
        {"headings": ('"Sheet","Links"', '"Sheet","Length, margins"', '"Sheet","NEXT, losses"')},
        {"headings": ("Teil\tA1\t\t\t\t", "Teil\tA2\t\t\t\t", "Teil\tA3\t\t\t\t"), "mark": "\t"},
        {"headings": ("4|Links", "4|Facts", "4|Sweeps"), "mark": "|", "curves": "rows"},
        {"headings": ("List,all", "List,some", "List,wide"), "curves": "columns", "order": "crt"},
    ],
    ids=["section", "quoted", "blank cells", "a number", "columns"],
)
def test_a_heading_may_be_a_word_and_the_name_of_a_table(
    written_so: dict[str, Any], tmp_path: Path
) -> None:
    mark = "," if "," in written_so["headings"][0] else ";"
    text = Export(LINKS, **{"mark": mark, **written_so}).text()
    draft = read_all(tmp_path, {"export.csv": text}, LINKS)
    assert draft.count("\npart = ") == 2


def test_files_of_one_make_may_have_headings_of_two_cells(tmp_path: Path) -> None:
    headings = ("Section;Tests", "Section;Results", "Section;Curves")
    texts = {
        "a.csv": Export(LINKS, headings=headings).text(),
        "b.csv": Export(MORE, first=501, headings=headings).text(),
    }
    draft = read_all(tmp_path, texts, [*LINKS, *MORE])
    assert "nothing here is of them" not in draft


def test_a_key_that_comes_again_above_tables_is_no_heading(tmp_path: Path) -> None:
    """Each table is of the test whose name stands above it."""
    lines = []
    for one in LINKS:
        lines += [f"Link name;{one.label}", *map(";".join, Export([one]).points()), ""]
    texts = {"export.csv": "\n".join(lines)}
    draft = drafted(tmp_path, texts)
    assert "part = " not in draft
    found = gathered(tmp_path, texts, draft)
    assert [of["link"]["label"] for of in found] == [of.label for of in LINKS]
    assert [curves(of) for of in found] == [written(of, *WORDS) for of in LINKS]


@pytest.mark.parametrize("first", [301, 501])
def test_files_of_one_make_have_one_draft(first: int, tmp_path: Path) -> None:
    """Tests may be numbered from the same one on in each file, or go on."""
    texts = {"a.csv": Export(LINKS).text(), "b.csv": Export(MORE, first=first).text()}
    draft = read_all(tmp_path, texts, [*LINKS, *MORE])
    assert "nothing here is of them" not in draft


def test_words_of_all_files_count(tmp_path: Path) -> None:
    """The smaller file has a limit and a verdict that the other one lacks."""
    other = Export(MORE, first=501).text().replace("TIA-568.2-D Cat 6A PL", "TIA-568.2-D Cat 6 PL")
    texts = {"a.csv": Export(LINKS).text(), "b.csv": other}
    draft = read_all(tmp_path, texts, [*LINKS, *MORE])
    assert '"tia-568.2-d/cat6/permanent-link" = "TIA-568.2-D Cat 6 PL"' in draft


def test_a_file_of_other_tables_is_named(tmp_path: Path) -> None:
    other = Export(MORE, headings=("[Jobs]", "[Facts]", "[Sweeps]")).text()
    draft = drafted(tmp_path, {"a.csv": Export(LINKS).text(), "other.csv": other})
    told = draft.partition("nothing here is of them")[2].partition("schema")[0]
    assert "'other.csv'" in told and "'a.csv'" not in told


def test_a_file_of_one_test_needs_no_part(tmp_path: Path) -> None:
    """Its one row of a test is a line of titles with their values below, under its heading."""
    texts = {f"{of.label}.csv": Export([of], first=at).text() for at, of in enumerate(MORE, 7)}
    draft = drafted(tmp_path, texts)
    assert '= "TO-BE-SETTLED"' not in draft
    assert "preamble.names" not in draft
    documents = gathered(tmp_path, texts, draft)
    assert [of["link"]["label"] for of in documents] == ["C-1", "C-2"]
    for at, document in enumerate(documents):
        numbers = document.pop("extra")
        assert {*numbers.values()} == {str(7 + at)}
        holds(document, MORE[at])


@pytest.mark.parametrize("frame", ["== {} ==", "--- {} ---", "# {}", "{}:", "=== {}", "** {} **"])
def test_headings_in_any_frame_are_parts(frame: str, tmp_path: Path) -> None:
    headings = tuple(frame.format(of) for of in ("Cable tests", "Figures", "Losses"))
    text = Export(LINKS, headings=(headings[0], headings[1], headings[2]), order="rtc").text()
    draft = read_all(tmp_path, {"export.csv": text}, LINKS)
    assert draft.count("\npart = ") == 2


@pytest.mark.parametrize("frame", ["== {} ==", "{}:"])
def test_a_comment_and_a_key_without_a_value_are_no_headings(frame: str, tmp_path: Path) -> None:
    headings = tuple(frame.format(of) for of in ("Links", "Results", "Points"))
    text = Export(LINKS, headings=(headings[0], headings[1], headings[2])).text()
    text = text.replace("Operator;J. Dunlin\nSite;Ropewalk\n", "Operator: J. Dunlin\nRemark:\n")
    text = text.replace("Marram 7 export\n", "Marram 7 export\n# kept by hand, see the folder\n")
    draft = drafted(tmp_path, {"export.csv": text})
    assert draft.count("\npart = ") == 2
    documents = gathered(tmp_path, {"export.csv": text}, draft)
    assert [of["link"]["label"] for of in documents] == [of.label for of in LINKS]
    for document, one in zip(documents, LINKS, strict=True):
        assert curves(dict(document)) == written(one, *WORDS)
        assert document["test"]["operator"] == "J. Dunlin"
        told = " ".join(document.get("extra", {}))
        assert "Remark" in told
        assert "Links" not in told
