"""Results with a row each and blank cells for what a kind of row has not, the wire map among them.

Where several kinds stand in one table, what none of them says must neither be read as another one
nor be lost.
"""

import json
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import pytest

from tests.program import run

from .drafting import curves, written
from .links import KHZ, PAIRS, Link, link, shifted
from .test_tables_joined import drafted, gathered

SWEPT = ("insertion_loss", "return_loss", "next")
WORDS = {"insertion_loss": "Insertion Loss", "return_loss": "Return Loss", "next": "NEXT"}
SIDES = {None: "", "near": "Side A", "far": "Side B"}
COLOURS = dict(zip(PAIRS, ("Orange", "Green", "Blue", "Brown"), strict=True))
STRAIGHT = tuple("12345678")
CROSSED = tuple("12453678")
TITLES = "Test,Measurement,Pair,Taken by,Value,Unit,Margin (dB),At (MHz),Outcome"
LINKS = [link("K-1", 31.0), link("K-2", 88.5)]


def _pairs(pairs: Sequence[str]) -> str:
    return "/".join(COLOURS[pair] for pair in pairs)


def wires(far: Sequence[str], word: str) -> list[str]:
    """A row a contact; the word stands before each, and a word alone for no contact."""
    told = [f"{word}{of}" if of.isdigit() else of for of in far]
    return [f"Wire Map,{word}{at},,{of},,,," for at, of in enumerate(told, 1)]


def results(one: Link, map_of: Sequence[str]) -> list[str]:
    """Rows of all kinds, the verdict of each parameter once."""
    rows = [*map_of, "Wire Map,,,,,,,Passed"]
    rows += [f"Length,{COLOURS[pair]},,{one.metres:.1f},m,,," for pair in PAIRS]
    rows += ["Length,,,,,,,Passed"]
    rows += [f"Delay,{COLOURS[pair]},,{round(one.metres * 4.9)},ns,,," for pair in PAIRS]
    rows += ["Delay,,,,,,,Passed", "Insertion Loss,Green,,,,2.9,4.7,Passed"]
    rows += ["Return Loss,Blue,Side B,,,0.8,100,Passed"]
    return [*rows, "NEXT,Orange/Brown,Side A,,,-0.3,250,Failed"]


def export(maps: Sequence[list[str]], titles: str = TITLES) -> dict[str, str]:
    """A table with a row a test, one of results, one of points."""
    heads = ["Test,Link name,Limit,Building,Level,Room,Tested,Overall"]
    points = ["Test,Measurement,Pair,Taken by,MHz,dB"]
    rows = [titles]
    for number, (one, of_map) in enumerate(zip(LINKS, maps, strict=True), 501):
        limit = "TIA-568.2-D Cat 6A PL"
        at = f"2026-03-04 14:{number - 490}:00"
        heads.append(f"{number},{one.label},{limit},Kiln,Level {number - 500},2.04,{at},Passed")
        rows += [f"{number},{row}" for row in results(one, of_map)]
        for (parameter, end, pairs), values in one.curves.items():
            if parameter in SWEPT:
                told = f"{number},{WORDS[parameter]},{_pairs(pairs)},{SIDES[end]}"
                points += [
                    f"{told},{shifted(khz, 3)},{shifted(value, 2)}"
                    for khz, value in zip(KHZ, values, strict=True)
                ]
    made = {"tests.csv": heads, "results.csv": rows, "points.csv": points}
    return {name: "\n".join([*lines, ""]) for name, lines in made.items()}


def holds(document: dict[str, Any], one: Link) -> None:
    """Check all but the wire map."""
    assert curves(document) == written(one, *SWEPT)
    scalars = document["results"]["scalars"]
    lengths = {of["pairs"][0]: float(of["length_m"]) for of in scalars if "length_m" in of}
    assert lengths == dict.fromkeys(PAIRS, one.metres)
    assert len(scalars) == 2 * len(PAIRS)
    items = document["stated"]["items"]
    verdicts = {of["parameter"]: of["verdict"] for of in items if "verdict" in of}
    assert verdicts == {
        **dict.fromkeys(("wire_map", "length", "propagation_delay"), "pass"),
        **{"insertion_loss": "pass", "return_loss": "pass", "next": "fail"},
    }
    margins = {
        (of["parameter"], of.get("end"), *of["pairs"]): float(of["worst_margin"]["margin_db"])
        for of in items
        if "worst_margin" in of
    }
    assert margins == {
        ("insertion_loss", None, "3-6"): 2.9,
        ("return_loss", "far", "4-5"): 0.8,
        ("next", "near", "1-2", "7-8"): -0.3,
    }
    assert document["link"]["near"]["place"]["floor"].startswith("Level ")


@pytest.mark.parametrize("word", ["Pin ", "Contact no. ", ""])
def test_a_row_a_contact_stands_among_figures(word: str, tmp_path: Path) -> None:
    texts = export([wires(STRAIGHT, word), wires(CROSSED, word)])
    draft = drafted(tmp_path, texts)
    documents = gathered(tmp_path, texts, draft)
    for document, one, far in zip(documents, LINKS, (STRAIGHT, CROSSED), strict=True):
        holds(document, one)
        pins = document["results"]["wire_map"]["pins"]
        assert pins == [[near, of] for near, of in zip(STRAIGHT, far, strict=True)]
        assert "extra" not in document


def test_a_wire_that_goes_nowhere_stands_without_the_word_before_contacts(tmp_path: Path) -> None:
    far = [*"123", "Open", *"5678"]
    texts = export([wires(STRAIGHT, "Pin "), wires(far, "Pin ")])
    documents = gathered(tmp_path, texts, drafted(tmp_path, texts))
    pins = [document["results"]["wire_map"]["pins"] for document in documents]
    assert pins[0] == [[near, near] for near in STRAIGHT]
    assert pins[1] == [[near, None if near == "4" else near] for near in STRAIGHT]


def test_a_word_for_no_contact_that_is_not_declared_is_told(tmp_path: Path) -> None:
    texts = export([wires(STRAIGHT, "Pin "), wires(STRAIGHT, "Pin ")])
    draft = drafted(tmp_path, texts)
    text = texts["results.csv"].replace("502,Wire Map,Pin 4,,Pin 4", "502,Wire Map,Pin 4,,gone")
    (tmp_path / "results.csv").write_text(text, encoding="utf-8")
    (tmp_path / "mine.toml").write_text(draft, encoding="utf-8")
    paths = [tmp_path / name for name in texts]
    said = " ".join(run("dialect", "try", tmp_path / "mine.toml", *paths).stdout.split())
    assert "'gone' is not of the form 'Pin {}'" in said
    assert "or to wire_map.open if it is a word for no contact" in said


def test_one_row_may_hold_the_whole_map(tmp_path: Path) -> None:
    maps = [["Wire Map,,,1 2 3 4 5 6 7 8,,,,"], ["Wire Map,,,1 2 4 5 3 6 7 8,,,,"]]
    texts = export(maps)
    documents = gathered(tmp_path, texts, drafted(tmp_path, texts))
    for document, one, far in zip(documents, LINKS, (STRAIGHT, CROSSED), strict=True):
        holds(document, one)
        pins = document["results"]["wire_map"]["pins"]
        assert pins == [[near, of] for near, of in zip(STRAIGHT, far, strict=True)]


def test_a_row_of_no_known_kind_is_told_beside_such_a_map(tmp_path: Path) -> None:
    """A text below the key of the map's rows is no key of every other row as well."""
    texts = export([wires(STRAIGHT, "Pin "), wires(STRAIGHT, "Pin ")])
    draft = drafted(tmp_path, texts)
    more = texts["results.csv"] + "502,Capacitance,Blue,,1.6,nF,,,\n"
    (tmp_path / "results.csv").write_text(more, encoding="utf-8")
    (tmp_path / "mine.toml").write_text(draft, encoding="utf-8")
    paths = [tmp_path / name for name in texts]
    result = run("dialect", "try", tmp_path / "mine.toml", *paths, "--json")
    told = [of["message"] for of in json.loads(result.stdout)["problems"]]
    assert len(told) == 1
    assert "Capacitance" in told[0]
    assert "join.1.csv.rows" in told[0]
