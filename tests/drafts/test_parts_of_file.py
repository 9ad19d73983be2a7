"""Drafts of one file with several parts: tests, wires, figures, and blocks of curves."""

import re
from pathlib import Path

import pytest

from .drafting import curves, written
from .links import KHZ, PAIRS, Link, link, shifted
from .test_tables_joined import drafted, gathered

WORD = {"insertion_loss": "Attenuation", "return_loss": "Return loss", "next": "NEXT"}
SIDE = {None: "quay", "near": "quay", "far": "yard"}
"""The word for an end, which no trade knows; attenuation has the one that it was measured at."""
CROSSED = "3;6;1;4;5;2;7;8"
LINKS = [link("B-1", 31.0), link("B-2", 88.5), link("B-3", 12.0)]
BARE = link("B-4", 50.0)
"""Its wires are crossed, so that nothing else was measured."""
BARE.curves.clear()
END = {"insertion_loss": None, "return_loss": "near", "next": "far"}


def _pairs(pairs: tuple[str, ...]) -> str:
    return "-".join(of.replace("-", "") for of in pairs)


def heads(links: list[Link]) -> list[str]:
    lines = ["No;Circuit;Limit;Tested on;Outcome"]
    for number, one in enumerate(links, 1):
        verdict = "PASS" if one.curves else "FAIL"
        lines.append(f"{number};{one.label};Cat 6A PL;2026-03-04 14:{10 + number};{verdict}")
    return lines


def wires(links: list[Link]) -> list[str]:
    lines = ["No;Result;1;2;3;4;5;6;7;8"]
    for number, one in enumerate(links, 1):
        straight = ("PASS", "1;2;3;4;5;6;7;8")
        lines.append(";".join([str(number), *(straight if one.curves else ("FAIL", CROSSED))]))
    return lines


def lengths(links: list[Link]) -> list[str]:
    lines = ["No;Pair;Length [m]"]
    for number, one in enumerate(links, 1):
        metres = f"{one.metres:.1f}" if one.curves else "not measured"
        lines += [f"{number};{pair.replace('-', '')};{metres}" for pair in PAIRS]
    return lines


def blocks(links: list[Link], between: str, order: tuple[str, str, str]) -> list[str]:
    """One for each test, parameter and end."""
    lines: list[str] = []
    for number, one in enumerate(links, 1):
        for parameter, word in WORD.items():
            for end in ("near", "far") if END[parameter] else (None,):
                some = {k[2]: v for k, v in one.curves.items() if k[:2] == (parameter, end)}
                said = {"No": str(number), "What": word, "Side": SIDE[end]}
                if some:
                    lines += ["[Trace]", *(f"{key}{between}{said[key]}" for key in order)]
                    lines.append(";".join(["MHz", *map(_pairs, some), "Limit"]))
                    lines += [
                        ";".join(
                            [
                                f"{khz / 1000:.3f}",
                                *(shifted(of[at], 2) for of in some.values()),
                                "9",
                            ]
                        )
                        for at, khz in enumerate(KHZ)
                    ]
                    lines.append("")
    return lines


def export(
    *,
    head: str = "[Tests]",
    between: str = ";",
    end: str = "",
    order: tuple[str, str, str],
    word: str = "",
) -> str:
    links = [*LINKS, BARE]
    lines = ["Wherry 4 export", "", "[Job]", f"Building{between}Ropewalk", ""]
    lines += [head] if head else []
    lines += [*heads(links), "", "[Wire map]", *wires(links), "", "[Lengths]", *lengths(links), ""]
    text = "\n".join([*lines, *blocks(links, between, order), end, ""])
    return re.sub(r"(?m)^\[(.*)\]$", rf"{word};\1", text) if word else text


@pytest.mark.parametrize(
    "written_so",
    [
        {"order": ("No", "What", "Side")},
        {"order": ("What", "Side", "No"), "end": "[End]"},
        {"order": ("No", "What", "Side"), "between": ": "},
        {"order": ("No", "Side", "What"), "head": "", "end": "[End]"},
        {"order": ("No", "What", "Side"), "word": "Section"},
    ],
    ids=["heading", "number last", "colons", "no heading", "headings of two cells"],
)
def test_blocks_are_pieces_of_the_tests_of_a_table(
    written_so: dict[str, object], tmp_path: Path
) -> None:
    texts = {"export.csv": export(**written_so)}  # type: ignore[arg-type]
    draft = drafted(tmp_path, texts)
    assert '\npieces_by = "No"\n' in draft
    assert "names without an end" not in draft
    documents = gathered(tmp_path, texts, draft)
    assert [document["link"]["label"] for document in documents] == ["B-1", "B-2", "B-3", "B-4"]
    for document, one in zip(documents, LINKS, strict=False):
        wanted = {(of[0], of[1] or "near", of[2]): some for of, some in written(one, *WORD).items()}
        assert curves(document) == wanted
        assert document["stated"]["overall"]["verdict"] == "pass"
        figures = document["results"]["scalars"]
        assert [float(of["length_m"]) for of in figures] == [one.metres] * 4
    crossed = documents[-1]
    assert crossed["stated"]["overall"]["verdict"] == "fail"
    assert [far for _, far in crossed["results"]["wire_map"]["pins"]] == CROSSED.split(";")
    assert "scalars" not in crossed["results"]
    assert [(of["parameter"], of["verdict"]) for of in crossed["stated"]["items"]] == [
        ("wire_map", "fail")
    ]


def test_a_key_that_no_dialect_sees_makes_no_pieces(tmp_path: Path) -> None:
    draft = drafted(tmp_path, {"export.csv": export(order=("What", "No", "Side"))})
    assert "pieces_by" not in draft


def test_a_table_of_which_nothing_is_known_is_left_to_a_person(tmp_path: Path) -> None:
    remarks = "[Remarks]\nNo;Remark\n1;wet\n1;lid open\n2;dry\n2;dusty\n\n[Lengths]"
    text = export(order=("No", "What", "Side")).replace("[Lengths]", remarks)
    draft = drafted(tmp_path, {"export.csv": text})
    assert '\npart = ["[Remarks]", "[Lengths]"]\n' in draft
    assert "\n# COULD NOT TELL: what this table holds;" in draft
    assert '\nvalue = "TO-BE-SETTLED"\n' in draft
