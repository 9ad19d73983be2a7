"""Drafts where a line that counts the tests begins each and has its label: "Run 2 of 3;B-4"."""

from collections.abc import Collection
from pathlib import Path

import pytest

from .drafting import curves, draft_of, read, written
from .links import KHZ, PAIRS, WORDS, Link, link, shifted

RAW = ("insertion_loss", "return_loss", "next")
SIDES = {None: "", "near": "base", "far": "hand"}
LINKS = [link("B-4", 22.0), link("B-5", 57.5), link("C-1", 80.0)]
PEOPLE = ["Ida Holm", "n/a", "Per Vang"]
AXIS = ["MHz", "", "", *(shifted(khz, 3) for khz in KHZ)]
FORMS = ["Run {} of 3\t{}", "Run {}/3\t{}", "{} of 3 runs\t{}", "Run {} of 3: {}", "Run {} of 3 {}"]


def one_test(one: Link, first: str, person: str) -> list[str]:
    """Its first line, keys, a wire map right above a table of figures, and a row a curve."""
    lines = ["-" * 30, first, "Outcome\tPass", f"Run by\t{person}"]
    lines += ["Run on\t2026-03-04 14:10:00", "Limit\tTIA-568.2-D Cat 6A PL"]
    lines += ["Wire map\t1=1 2=2 3=3 4=4 5=5 6=6 7=7 8=8 screen=no", ""]
    lines.append("\t".join(["Pair", *(pair.replace("-", "") for pair in PAIRS)]))
    lines.append("\t".join(["Length (m)", *([f"{one.metres:.1f}"] * len(PAIRS))]))
    lines.append("\t".join(["Delay (ns)", *([f"{one.metres * 4.9:.1f}"] * len(PAIRS))]))
    lines += ["", "Parameter\tPair\tEnd\tCurve", "\t".join(AXIS)]
    for (name, end, pairs), values in one.curves.items():
        if name in RAW:
            told = [WORDS[name], "/".join(pairs).replace("-", ""), SIDES[end]]
            lines.append("\t".join([*told, *(shifted(of, 2) for of in values)]))
    return [*lines, ""]


def export(form: str, links: Collection[Link] = LINKS) -> str:
    """All tests below remarks, of which the last is a sentence."""
    lines = ["Sheet of tests", "Job\tNorth quay", "NEXT: of both ends, pair by pair.", "", ""]
    for number, one in enumerate(links, 1):
        person = PEOPLE[number - 1]
        lines += one_test(one, form.format(number, one.label), person)
    return "\n".join(lines)


@pytest.mark.parametrize("form", FORMS)
def test_a_line_that_counts_begins_each_test_and_has_its_label(form: str, tmp_path: Path) -> None:
    draft = draft_of(tmp_path, export(form))
    assert "{number}" in draft.partition("first_line = ")[2].partition("\n")[0]
    assert "heading" not in draft
    records, problems = read(tmp_path / "export.csv", draft)
    assert problems == []
    assert [record.label for record in records] == [one.label for one in LINKS]
    for one, record in zip(LINKS, records, strict=True):
        assert curves(record.document) == written(one, *RAW)
        lengths = [
            of["length_m"] for of in record.document["results"]["scalars"] if "length_m" in of
        ]
        assert lengths == [one.metres] * len(PAIRS)
        assert record.document["stated"]["overall"]["verdict"] == "pass"


def test_a_word_for_nobody_is_no_operator(tmp_path: Path) -> None:
    draft = draft_of(tmp_path, export(FORMS[0]))
    assert '\nmissing = ["n/a"]\n' in draft
    records, _ = read(tmp_path / "export.csv", draft)
    found = [record.document["test"].get("operator") for record in records]
    assert found == ["Ida Holm", None, "Per Vang"]


def test_keys_of_one_test_that_count_keep_their_numbers(tmp_path: Path) -> None:
    """Three keys above all tests, as many as there are tests, begin none."""
    outlets = "".join(f"Outlet {number}\troom {number}\n" for number in (1, 2, 3))
    draft = draft_of(tmp_path, f"Sheet of tests\n{outlets}{export('Run {} of 3{}', LINKS)}")
    assert '\ntest.first_line = "Outlet' not in draft
    assert "'Outlet 1'" in draft


def test_a_lone_number_that_alone_tells_tests_apart_is_not_left_out(tmp_path: Path) -> None:
    text = export("Cable {}\tof hall B").replace("Outcome", "Verdict")
    assert "Cable {number}" not in draft_of(tmp_path, text)
    assert "Cable {number}" in draft_of(tmp_path, export("Cable {}\t{}"))
