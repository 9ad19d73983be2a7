"""Drafts of tables with titles in four lines, blocks named by lines, and floors beside links."""

from pathlib import Path

import pytest

from .drafting import curves, draft_of, read, written
from .links import KHZ, Link, link, shifted
from .sheets import FEW

LINKS = [link("A-1", 30.0), link("A-2", 50.0), link("B-1", 70.0)]
FLOORS = {"A-1": "1", "A-2": "1", "B-1": "2"}
ENGLISH = {"insertion_loss": "Attenuation", "return_loss": "Return loss", "next": "NEXT"}
DUTCH = {"insertion_loss": "Verzwakking", "return_loss": "Retourverlies", "next": "NEXT"}
ENDS = {None: "-", "near": "main", "far": "remote"}
SIDES = {"near": "kast", "far": "wand"}


def stacked(one: Link) -> str:
    """Titles in four lines: quantity, pair, end, unit."""
    keys = [key for key in one.curves if key[0] in FEW]
    lines = [f"Cable;{one.label}", "Norm;Cat 6A PL TIA 568.2-D", "Result;PASS", ""]
    lines += [
        ";".join(["Quantity", *(ENGLISH[name] for name, _, _ in keys)]),
        ";".join(["Pair", *("-".join(p.replace("-", "") for p in pairs) for *_, pairs in keys)]),
        ";".join(["End", *(ENDS[end] for _, end, _ in keys)]),
        ";".join(["MHz", *["dB"] * len(keys)]),
    ]
    lines += [
        ";".join([shifted(khz, 3), *(shifted(one.curves[key][at], 2) for key in keys)])
        for at, khz in enumerate(KHZ)
    ]
    return "\n".join(lines) + "\n"


def blocks(one: Link) -> str:
    """A block a curve, with lines that name it; that of the end stands in some of them."""
    lines = [f"Kabelnaam;{one.label}", "Norm;Cat 6A PL TIA 568.2-D", "Resultaat;goed", ""]
    for (name, end, pairs), values in one.curves.items():
        if name in FEW:
            lines += [f"Meting;{DUTCH[name]}", f"Paar;{'/'.join(pairs)}"]
            lines += [f"Zijde;{SIDES[end]}"] if end else []
            points = zip(KHZ, values, strict=True)
            lines += ["MHz;dB", *(f"{shifted(khz, 3)};{shifted(db, 2)}" for khz, db in points), ""]
    return "\n".join(lines) + "\n"


@pytest.mark.parametrize("layout", [stacked, blocks])
def test_a_file_of_one_link_needs_no_change(layout: object, tmp_path: Path) -> None:
    assert callable(layout)
    draft = draft_of(tmp_path, layout(LINKS[0]))
    (record,), problems = read(tmp_path / "export.csv", draft)
    assert problems == []
    assert curves(record.document) == written(LINKS[0], *FEW)
    assert record.document["stated"]["overall"]["verdict"] == "pass"


def test_a_floor_of_several_links_tells_no_test(tmp_path: Path) -> None:
    lines = ["Floor;Cable;Norm;Result;Quantity;Pair;End;MHz;dB"]
    for one in LINKS:
        for (name, end, pairs), values in one.curves.items():
            if name in FEW:
                told = "-".join(pair.replace("-", "") for pair in pairs)
                side = "" if end is None else ENDS[end]
                head = f"{FLOORS[one.label]};{one.label};Cat 6A PL TIA 568.2-D;PASS"
                lines += [
                    f"{head};{ENGLISH[name]};{told};{side};{shifted(khz, 3)};{shifted(db, 2)}"
                    for khz, db in zip(KHZ, values, strict=True)
                ]
    draft = draft_of(tmp_path, "\n".join(lines) + "\n")
    assert '\ntest = "Cable"\n' in draft
    records, problems = read(tmp_path / "export.csv", draft)
    assert problems == []
    assert [record.label for record in records] == ["A-1", "A-2", "B-1"]
    for one, record in zip(LINKS, records, strict=True):
        assert curves(record.document) == written(one, *FEW)
