"""Drafts for rows of several kinds and widths, told by their first cell."""

import os
import subprocess
import sys
from decimal import Decimal
from pathlib import Path

import pytest

from .drafting import curves, draft_of, read, written
from .links import KHZ, Key, Link, link, shifted
from .sheets import FEW, WORST

LINKS = [link("L-1", 35.5), link("L-2", 80.0)]
NAMES = {"insertion_loss": "AX", "return_loss": "RZ", "next": "PX"}
SIDES = {None: "", "near": "baie", "far": "prise"}
COLOURS = {"1-2": "orange", "3-6": "vert", "4-5": "bleu", "7-8": "marron"}
HEADS = (
    "T;essai;repère;norme;date;verdict",
    "B;essai;broche côté baie;broche côté prise",
    "G;essai;grandeur;paire;valeur;unité",
    "M;essai;grandeur;paire;autre paire;côté;marge dB;kHz",
    "P;essai;grandeur;paire;autre paire;côté;kHz;dB",
)
LEGEND = (
    "AX affaiblissement d'insertion ; RZ affaiblissement de réflexion ; PX paradiaphonie (NEXT)"
)


def french(links: list[Link], heads: str = "# {}", legend: str = f"# {LEGEND}") -> str:
    """A letter before each line; margins stand between the points of two curves."""
    lines = ["# Umbel 5, recette", *(heads.format(head) for head in HEADS if heads), legend]
    for number, one in enumerate(links, 1):
        lines.append(f"T;{number};{one.label};Cat 6A PL TIA 568.2-D;2026-02-28 17:05;conforme")
        lines += [f"B;{number};{wire};{wire}" for wire in (*range(1, 9), "écran")]
        lines += [
            f"G;{number};longueur;{colour};{shifted(round(one.metres * 10), 1, ',')};m"
            for colour in COLOURS.values()
        ]
        stated: dict[Key, tuple[str, int]] = {
            (name, end, pairs): (margin, mhz) for name, end, pairs, margin, mhz, _ in WORST
        }
        for (name, end, pairs), values in one.curves.items():
            if name not in FEW:
                continue
            told = [COLOURS[pair] for pair in pairs] + [""] * (2 - len(pairs))
            named = f"{number};{NAMES[name]};{';'.join(told)};{SIDES[end]}"
            if (name, end, pairs) in stated:
                margin, mhz = stated[name, end, pairs]
                lines.append(f"M;{named};{margin.replace('.', ',')};{mhz}000")
            lines += [
                f"P;{named};{khz};{shifted(db, 2, ',')}"
                for khz, db in zip(KHZ, values, strict=True)
            ]
    return "\n".join(lines) + "\n"


def assert_is(document: dict, one: Link) -> None:  # type: ignore[type-arg]
    """The record holds what was written of a link."""
    assert curves(document) == written(one, *FEW)
    lengths = {tuple(of["pairs"]): float(of["length_m"]) for of in document["results"]["scalars"]}
    assert lengths == {(pair,): one.metres for pair in COLOURS}
    margins = {
        (of["parameter"], of.get("end"), tuple(of["pairs"])): (
            Decimal(str(of["worst_margin"]["margin_db"])),
            of["worst_margin"]["frequency_mhz"],
        )
        for of in document["stated"]["items"]
    }
    assert margins == {
        (name, end, pairs): (Decimal(margin), mhz) for name, end, pairs, margin, mhz, _ in WORST
    }
    assert document["stated"]["overall"]["verdict"] == "pass"


@pytest.mark.parametrize("heads", ["# {}", "#{}", "{}", "H;{}"])
def test_titles_stand_in_lines_of_their_own(heads: str, tmp_path: Path) -> None:
    draft = draft_of(tmp_path, french(LINKS, heads))
    assert 'test.first_line = "T;"' in draft
    assert "the file explains it; seen: 'PX'" in draft
    records, problems = read(tmp_path / "export.csv", draft)
    assert problems == []
    assert [record.label for record in records] == ["L-1", "L-2"]
    for one, record in zip(LINKS, records, strict=True):
        assert_is(record.document, one)
        wires = record.document["results"]["wire_map"]
        assert wires["pins"] == [[str(wire), str(wire)] for wire in range(1, 9)]
        assert set(record.document.get("extra", {})) <= {"essai", "comments"}


def test_one_test_alone(tmp_path: Path) -> None:
    draft = draft_of(tmp_path, french(LINKS[:1]))
    assert "ASSUMED: the examples hold one test" in draft
    (record,), problems = read(tmp_path / "export.csv", draft)
    assert problems == []
    assert_is(record.document, LINKS[0])


def test_without_titles_columns_are_told_by_what_they_hold(tmp_path: Path) -> None:
    """What no title tells of the heads and margins stays for a person."""
    draft = draft_of(tmp_path, french(LINKS, ""))
    assert "ASSUMED: names made up" in draft
    assert "seen: 'M;1;AX;vert;;;3,1;4000'" in draft  # no title says that these are margins
    records, _ = read(tmp_path / "export.csv", draft)
    for one, record in zip(LINKS, records, strict=True):
        assert curves(record.document) == written(one, *FEW)


def test_the_label_may_tell_the_test(tmp_path: Path) -> None:
    text = french(LINKS).replace(";L-1;", ";").replace(";L-2;", ";").replace(";repère", "")
    text = text.replace(";essai", ";repère")
    for mark in "TBGMP":
        text = text.replace(f"\n{mark};1;", f"\n{mark};L-1;").replace(
            f"\n{mark};2;", f"\n{mark};L-2;"
        )
    draft = draft_of(tmp_path, text)
    records, problems = read(tmp_path / "export.csv", draft)
    assert problems == []
    assert [record.label for record in records] == ["L-1", "L-2"]
    for one, record in zip(LINKS, records, strict=True):
        assert_is(record.document, one)


def test_words_that_nobody_explains_are_no_parameters(tmp_path: Path) -> None:
    """By the course of its curves a word is guessed, and said to be."""
    draft = draft_of(tmp_path, french(LINKS, legend="# AX et autres"))
    assert "the file explains it" not in draft
    assert "by the course of its curves alone" in draft


def test_rows_of_all_tests_kind_by_kind_are_told_to_be_sorted(tmp_path: Path) -> None:
    """No layout puts such rows together, and sorted by the column that is named they read."""
    remarks: list[str] = []
    rows: list[str] = []
    for line in french(LINKS).splitlines():
        (remarks if line.startswith("#") else rows).append(line)
    kinds = sorted(rows, key=lambda line: "TBGMP".index(line[0]))
    draft = draft_of(tmp_path, "\n".join([*remarks, *kinds, ""]))
    assert "the column 'essai' tells the tests" in " ".join(draft.replace("\n#", "").split())
    by_test = sorted(kinds, key=lambda line: line.split(";")[1])
    draft = draft_of(tmp_path, "\n".join([*remarks, *by_test, ""]))
    assert "tells the tests" not in draft
    records, _ = read(tmp_path / "export.csv", draft)
    for record, one in zip(records, LINKS, strict=True):
        assert_is(record.document, one)


def test_a_draft_is_the_same_in_every_process(tmp_path: Path) -> None:
    """The order of a set of texts is another in each process, and nothing may go by it."""
    path = tmp_path / "export.csv"
    path.write_text(french(LINKS, "{}"), encoding="utf-8")
    command = [sys.executable, "-m", "sweepbook", "dialect", "draft", str(path)]
    drafts = {
        subprocess.run(
            command, env={**os.environ, "PYTHONHASHSEED": seed}, capture_output=True, check=True
        ).stdout
        for seed in "12"
    }
    assert len(drafts) == 1


def test_a_row_of_rising_numbers_is_no_line_of_titles(tmp_path: Path) -> None:
    """The number of a test stands first, and its first row is a loss that rises all along."""
    sides = {None: "-", "near": "hall", "far": "desk"}
    words = {"insertion_loss": "Attenuation", "return_loss": "Return loss", "next": "NEXT"}
    lines = [";".join(["Run", "What", "Pair", "Side", "Unit", *(f"{khz} kHz" for khz in KHZ)])]
    links = [link(f"Q-{number}", 20.0 + 7 * number) for number in range(1, 5)]
    for one in links:
        for (parameter, end, pairs), values in one.curves.items():
            if parameter in words:
                told = [one.label, words[parameter], "+".join(pairs), sides[end], "dB"]
                lines.append(";".join([*told, *(shifted(of, 2, ",") for of in values)]))
    draft = draft_of(tmp_path, "\n".join([*lines, ""]))
    assert '\nlayout = "curve-per-row"\n' in draft
    assert "comment" not in draft
    records, problems = read(tmp_path / "export.csv", draft.replace('"TO-BE-SETTLED"', '"Run"'))
    assert problems == []
    for record, one in zip(records, links, strict=True):
        assert curves(record.document) == written(one, *words)
