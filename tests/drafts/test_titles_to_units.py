"""Drafts of tables whose pairs, ends and units stand in a line each, and of what stands by them."""

from pathlib import Path

import pytest

from sweepbook.draft.headed_margins import margins_below
from sweepbook.errors import ReadProblem
from sweepbook.record.model import Record
from tests.joined.test_join import pipeline
from tests.program import run

from .drafting import curves, read, written
from .links import KHZ, PAIRS, Link, link, shifted

NUMBERS = {"1-2": "2", "3-6": "3", "4-5": "1", "7-8": "4"}
"""Pairs as under T568B, which the file says itself."""
WORDS = {
    "insertion_loss": "INNSETTINGSTAP",
    "return_loss": "REFLEKSJONSTAP",
    "next": "NÆRENDEKRYSSTALE",
    "acr_f": "FJERNENDEKRYSSTALE MINUS TAP (ACR-F)",
}
SIDES = {None: "begge", "near": "nær", "far": "fjern"}
JOINTS = {"next": "/", "acr_f": "→"}


def table(one: Link, parameter: str, *axis: str, both: str = "begge") -> list[str]:
    """A table of a parameter: pairs, ends and units in lines of their own, then the points."""
    some = {key: values for key, values in one.curves.items() if key[0] == parameter}
    joint = JOINTS.get(parameter, "")
    pairs = [joint.join(NUMBERS[pair] for pair in key[2]) for key in some]
    ends = [SIDES[key[1]] if key[1] else both for key in some]
    lines = [pairs, ends, ["dB"] * len(some)]
    made = [";".join([first, *line]) for first, line in zip(axis, lines, strict=True)]
    for at, khz in enumerate(KHZ):
        cells = [shifted(khz, 3, ","), *(shifted(of[at], 2, ",") for of in some.values())]
        made.append(";".join(cells))
    return made


def export(one: Link) -> str:
    """A wire map in rows, figures of pairs with one for all of them, margins, and curves."""
    lines = ["Umbelwort måleblad", "", f"Strekning;{one.label}", "Krav;Klasse EA, kanal"]
    lines += ["Målt;den 28. februar 2026 kl. 17.05.09 (UTC+1)", "Resultat;GODKJENT"]
    lines += [f"Par {NUMBERS[pair]};pinner {pair}" for pair in PAIRS]
    lines += ["", "KONTAKTER", "nær;1;2;3;4;5;6;7;8", "fjern;1;2;3;4;5;6;7;8"]
    lines += ["", "LENGDE OG TID", ";Par 2;Par 3;Par 1;Par 4"]
    lines += ["Lengde [m];60,1;60,9;61,2;60,4", "Forsinkelse [ns];301,4;304,1;306,0;302,2"]
    lines += ["Forsinkelsesforskjell [ns];9,6", "", "MINSTE MARGIN"]
    lines += ["Størrelse;Par;Ende;dB;MHz;Grense dB", "REFLEKSJONSTAP;3;nær;3,4;150,00;12,2"]
    lines += ["NÆRENDEKRYSSTALE;2/3;fjern;1,7;110,50;40,2"]
    for parameter, word in WORDS.items():
        lines += ["", word, *table(one, parameter, "Par", "Ende", "MHz")]
    return "\n".join(lines) + "\n"


def test_pairs_ends_and_units_in_a_line_each_need_no_change(tmp_path: Path) -> None:
    links = [link("A-1", 31.0), link("A-2", 88.5)]
    paths = [tmp_path / f"{one.label}.csv" for one in links]
    for path, one in zip(paths, links, strict=True):
        path.write_text(export(one), encoding="utf-8")
    draft = run("dialect", "draft", *paths).stdout
    assert "\ntransposed = " not in draft
    for path, one in zip(paths, links, strict=True):
        (record,), problems = read(path, draft)
        assert [problem.message for problem in problems] == []
        document = record.document
        assert curves(document) == written(one, *WORDS)
        scalars = document["results"]["scalars"]
        skew = [of for of in scalars if of["parameter"] == "delay_skew"]
        assert [(of["pairs"], float(of["delay_ns"])) for of in skew] == [([], 9.6)]
        assert len([of for of in scalars if of.get("pairs")]) == 2 * len(PAIRS)
        margins = [of["worst_margin"] for of in document["stated"]["items"] if of.get("pairs")]
        assert [float(of["margin_db"]) for of in margins] == [3.4, 1.7]
        assert document["test"]["started"]["rfc3339"] == "2026-02-28T17:05:09+01:00"
        assert document["results"]["wire_map"]["pins"]


def test_files_of_parameters_of_which_some_name_no_end_need_no_change(tmp_path: Path) -> None:
    """The first line of titles alone is that of a whole table in one file, and not in others."""
    names = ("insertion_loss", "return_loss", "next")
    links = [link("A-1", 31.0), link("A-2", 88.5)]
    for one in links:
        folder = tmp_path / one.label
        folder.mkdir()
        for name in names:
            lines = table(one, name, "Frekvens", "", "MHz", both="")
            if name == "insertion_loss":
                del lines[1]
            text = "\n".join([WORDS[name], one.label, "", *lines]) + "\n"
            (folder / f"{WORDS[name].lower()}.csv").write_text(text, encoding="utf-8")
        told = [f"Par {NUMBERS[pair]};pinner {pair}" for pair in PAIRS]
        told += [f"Strekning;{one.label}", "Målt;2026-02-28T17:05:09Z", "Resultat;GODKJENT"]
        (folder / "prøve.csv").write_text("\n".join([*told, ""]), encoding="utf-8")
    draft = run("dialect", "draft", *sorted(tmp_path.iterdir())).stdout
    items = list(pipeline(tmp_path, draft).read_all([tmp_path / one.label for one in links]))
    assert [of for of in items if isinstance(of, ReadProblem)] == []
    found = [curves(of.document) for of in items if isinstance(of, Record)]
    assert found == [written(one, *names) for one in links]


@pytest.mark.parametrize(
    ("heading", "titles", "cells", "found"),
    [
        ("Smallest margins", ("dB", "MHz", "Limit dB"), [("3.2", "1.5"), "", ("11", "40.8")], 0),
        ("Worst margin", ("MHz", "[dB]"), ["", ("3.2", "-1.5")], 1),
        ("Worst margin", ("dB", "MHz", "Limit"), [("14.2", "42.3"), "", ("11", "40.8")], None),
        ("Worst margin", ("dB", "Margin dB"), [("14.2", "42.3"), ("3.2", "1.5")], None),
        ("Worst margin", ("dB", "dB"), [("14.2", "42.3"), ("3.2", "1.5")], None),
        ("Worst margin", ("Level dB", "#"), [("14.2", "42.3"), ("1", "2")], None),
        ("Readings", ("dB", "MHz"), [("3.2", "1.5"), ""], None),
    ],
)
def test_a_heading_says_of_one_column_that_it_holds_margins(
    heading: str, titles: tuple[str, ...], cells: list[tuple[str, ...]], found: int | None
) -> None:
    assert margins_below(heading, titles, cells, range(len(titles))) == found
