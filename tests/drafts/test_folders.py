"""Drafts of exports with a folder a test: files of curves, and a head file beside them."""

import tomllib
from pathlib import Path

import pytest

from .drafting import curves, written
from .links import KHZ, Link, link, shifted
from .test_spread import WORDS, drafted, read

STEMS = {"insertion_loss": "insercion", "return_loss": "retorno", "next": "next"}
"""The first two are no words of the trade; the heading in the file says what they mean."""
HEADINGS = {
    "insertion_loss": "Pérdida de inserción",
    "return_loss": "Pérdida de retorno",
    "next": "NEXT",
}
ENDS = {None: "", "near": "_a", "far": "_b"}
LENGTHS = {"A7": "60,5", "A8": "1071,0"}


def heads(one: Link) -> list[tuple[str, str]]:
    day = {"A7": "17", "A8": "18"}[one.label]
    return [
        ("Enlace", one.label),
        ("Norma", "Cat 6A PL TIA 568.2-D"),
        ("Fecha y hora", f"{day}/05/2024 10:15:44 UTC-5"),
        ("Dictamen", "APTO"),
    ]


def print_out(one: Link) -> dict[str, str]:
    """Files whose cells stand below their titles, a blank one among them."""
    found = {}
    for parameter, stem in STEMS.items():
        for end, side in ENDS.items():
            some = {k[2]: of for k, of in one.curves.items() if k[:2] == (parameter, end)}
            if not some:
                continue
            titles = [":".join(pair.replace("-", "/") for pair in pairs) for pairs in some]
            rows = [["kHz", *titles]]
            rows += [
                [str(khz), *(shifted(of[at], 2, ",") for of in some.values())]
                for at, khz in enumerate(KHZ)
            ]
            lines = [f"{HEADINGS[parameter]} (dB)", one.label]
            lines += ["".join(f"{cell:>10}" for cell in row) for row in rows]
            found[f"{stem}{side}.txt"] = "\n".join([*lines, ""])
    keys = [f"{key:<20}: {value}" for key, value in heads(one)]
    figures = [["", "1/2", "3/6", "4/5", "7/8"], ["Longitud (m)", *[LENGTHS[one.label]] * 4]]
    figures.append(["Sesgo de retardo (ns)", "4", "", "", ""])
    table = [
        "".join([f"{row[0]:<24}", *(f"{cell:>9}" for cell in row[1:])]).rstrip() for row in figures
    ]
    lines = ["Ficha de enlace", "=" * 40, *keys, "", "Valores por par", "-" * 40, *table, ""]
    return found | {"ficha.txt": "\n".join(lines)}


def cells(one: Link) -> dict[str, str]:
    """The same with a mark between cells, and no table in the head."""
    found = print_out(one)
    parted = {
        name: "\n".join(
            ";".join(line.split()) if line.startswith(" ") else line for line in text.split("\n")
        )
        for name, text in found.items()
    }
    return parted | {"ficha.txt": "\n".join([*(";".join(of) for of in heads(one)), ""])}


@pytest.mark.parametrize("way", ["printed", "cells"])
def test_a_head_in_the_folder_of_each_test_is_drafted(way: str, tmp_path: Path) -> None:
    links = [link("A7", 60.5), link("A8", 71.0)]
    for one in links:
        (tmp_path / one.label).mkdir()
        for name, text in (print_out if way == "printed" else cells)(one).items():
            (tmp_path / one.label / name).write_text(text, encoding="utf-8")
    names = sorted(path.relative_to(tmp_path).as_posix() for path in tmp_path.glob("*/*"))
    draft = drafted(tmp_path, names)
    assert '\nother = "{}/ficha.txt"\n' in draft
    assert '"{}/{parameter}_{end}.txt"' in draft
    assert ('\nlayout = "key-lines"\n' in draft) == (way == "cells")
    assert draft.count('\naligned = "below"\n') == (2 if way == "printed" else 0)
    records = read(tmp_path, draft.replace('first = "TO-BE-SETTLED"', 'first = "disturbing"'))
    assert [record.label for record in records] == ["A7", "A8"]
    for one, record in zip(links, records, strict=True):
        assert curves(record.document) == written(one, *WORDS)
        assert record.document["stated"]["overall"]["verdict"] == "pass"
        assert record.document["test"]["started"]["rfc3339"].endswith("T10:15:44-05:00")
        if way == "printed":
            scalars = record.document["results"]["scalars"]
            lengths = [of["length_m"] for of in scalars if of["parameter"] == "length"]
            assert lengths == [float(LENGTHS[one.label].replace(",", "."))] * 4
            (skew,) = [of for of in scalars if of["parameter"] == "delay_skew"]
            assert skew["delay_ns"] == 4.0


def test_lines_that_gather_the_keys_below_are_told_once(tmp_path: Path) -> None:
    """Two testers with the same keys, each below a line of its own, in a head of keys alone."""
    links = [link("A7", 60.5), link("A8", 71.0)]
    units = "Equipo 1\nSerie;QX-{0}1\nModelo;Roble\nEquipo 2\nSerie;QX-{0}2\nModelo;Roble\n"
    for one in links:
        (tmp_path / one.label).mkdir()
        files = cells(one)
        files["ficha.txt"] += units.format(one.label)
        for name, text in files.items():
            (tmp_path / one.label / name).write_text(text, encoding="utf-8")
    names = sorted(path.relative_to(tmp_path).as_posix() for path in tmp_path.glob("*/*"))
    draft = drafted(tmp_path, names)
    head = tomllib.loads(draft)["join"]["csv"]
    assert head["preamble"]["headings"] == ["Equipo 1", "Equipo 2"]
    records = read(tmp_path, draft.replace('first = "TO-BE-SETTLED"', 'first = "disturbing"'))
    assert [record.label for record in records] == ["A7", "A8"]
