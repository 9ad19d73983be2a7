"""Drafts for headings with key lines between them and their tables, and titles of pairs alone."""

from pathlib import Path

import pytest

from .drafting import curves, draft_of, read, written
from .links import KHZ, PAIRS, Link, link, shifted

NUMBERS = {"1-2": "2", "3-6": "3", "4-5": "1", "7-8": "4"}
NAMES = {"insertion_loss": "INSERTION LOSS", "return_loss": "RETURN LOSS", "next": "NEXT"}


def _export(one: Link) -> str:
    lines = ["Larkspur dump\tv4", "", "[TASK]", f"Cable ID\t{one.label}"]
    lines += ["Standard\tTIA-568.2-D Cat 6A PL", "Overall\tPass", "", "[WIRE MAP]"]
    contacts = "\t".join("12345678")
    lines += [f"Near\t{contacts}", f"Far\t{contacts}", "", "[LENGTH]"]
    lines += ["\t".join(["", *(f"Pair {NUMBERS[pair]}" for pair in PAIRS)])]
    lines += ["\t".join(["Length (m)", *[f"{one.metres:.1f}"] * 4]), ""]
    for parameter, name in NAMES.items():
        for end, side in ((None, ""), ("near", ", NEAR END"), ("far", ", FAR END")):
            some = {k[2]: v for k, v in one.curves.items() if k[:2] == (parameter, end)}
            titles = ["/".join(NUMBERS[pair] for pair in pairs) for pairs in some]
            lines += [f"[{name}{side}]", "Result\tPass"] if some else []
            lines += ["\t".join(["Frequency", *(f"Pair {of}" if len(of) == 1 else of
                                                for of in titles)])] if some else []  # fmt: skip
            for at, khz in enumerate(KHZ if some else ()):
                values = [shifted(-of[at], 2) for of in some.values()]
                lines.append("\t".join([str(khz), *values]))
            lines += [""] if some else []
    return "\n".join(lines) + "\n"


def test_a_key_line_parts_no_table_from_its_heading(tmp_path: Path) -> None:
    one = link("T-7", 38.5)
    draft = draft_of(tmp_path, _export(one))
    assert '\nheading = ["[{parameter}]", "[{parameter}, {end}]"]\n' in draft
    (record,), problems = read(tmp_path / "export.csv", draft)
    assert problems == []
    assert curves(record.document) == written(one, *NAMES)
    items = record.document["stated"]["items"]
    stated = [(i["parameter"], i.get("end"), i["verdict"]) for i in items]
    assert sorted(stated, key=str) == [
        ("insertion_loss", None, "pass"),
        *((name, end, "pass") for name in ("next", "return_loss") for end in ("far", "near")),
    ]
    scalars = record.document["results"]["scalars"]
    assert {tuple(s["pairs"]): s["length_m"] for s in scalars} == {(p,): 38.5 for p in PAIRS}


@pytest.mark.parametrize(("said", "word"), [("Pass", "pass"), ("Fail", "fail")])
@pytest.mark.parametrize("between", ["\t", " "])
@pytest.mark.parametrize("heading", ["[CORRELAT]", "Correlat", "Correlat of wires"])
def test_the_verdict_below_a_heading_of_wires_is_that_of_the_wire_map(
    heading: str, between: str, said: str, word: str, tmp_path: Path
) -> None:
    """By what it holds, though no word of the trade; a contact a cell, or all in one."""
    one = link("T-8", 38.5)
    near, far = between.join("12345678"), between.join("12645378")
    wires = f"{heading}\nNear\t{near}\nFar\t{far}\nResult\t{said}\n"
    before, _, after = _export(one).partition("[WIRE MAP]")
    text = f"{before}{wires}\n[LENGTH]{after.partition('[LENGTH]')[2]}"
    draft = draft_of(tmp_path, text)
    (record,), problems = read(tmp_path / "export.csv", draft)
    assert problems == []
    assert record.document["stated"]["overall"]["verdict"] == "pass"
    items = record.document["stated"]["items"]
    assert [i["verdict"] for i in items if i["parameter"] == "wire_map"] == [word]
    assert ["3", "6"] in record.document["results"]["wire_map"]["pins"]
    assert not [key for key in record.document.get("extra", {}) if "orrelat" in key.casefold()]


def test_the_verdict_of_the_test_beside_its_wires_is_not_that_of_the_wire_map(
    tmp_path: Path,
) -> None:
    one = link("T-9", 38.5)
    contacts = "\t".join("12345678")
    wires = f"Near pins\t{contacts}\nFar pins\t{contacts}\n"
    before, _, after = _export(one).partition("Overall\tPass")
    text = f"{before}{wires}Overall\tPass\n\n[LENGTH]{after.partition('[LENGTH]')[2]}"
    draft = draft_of(tmp_path, text)
    (record,), _ = read(tmp_path / "export.csv", draft)
    assert record.document["stated"]["overall"]["verdict"] == "pass"
    assert "wire_map =" not in draft
