"""Drafts of tables of figures with a row a parameter and a column a pair, in several tongues."""

from pathlib import Path
from typing import Any

import pytest

from .drafting import draft_of, read
from .links import blocks, link

PAIR = {"4-5": "1", "1-2": "2", "3-6": "3", "7-8": "4"}


def export(table: str) -> str:
    """An export with curves, and a table of figures ahead of them."""
    text = blocks([link("L-1", 35.5)]).replace("\t", ";")
    old = text[text.index("Pairs\n") : text.index("Attenuation\n")]
    colours = {"orange": "Coppia 2", "green": "Coppia 3", "blue": "Coppia 1", "brown": "Coppia 4"}
    text = text.replace(old, table + "\n")
    for colour, called in colours.items():
        text = text.replace(colour, called)
    return text


def document(tmp_path: Path, table: str) -> dict[str, Any]:
    """The record by the draft as it comes, which nothing is told against."""
    draft = draft_of(tmp_path, export(table))
    assert 'value = "Coppia 1"' not in draft
    (record,), problems = read(tmp_path / "export.csv", draft)
    assert problems == []
    return record.document


def scalars(found: dict[str, Any], parameter: str, member: str) -> dict[str, float]:
    """The single figures by the number of their pair."""
    return {
        PAIR[one["pairs"][0]]: one[member]
        for one in found["results"]["scalars"]
        if one["parameter"] == parameter
    }


@pytest.mark.parametrize("unit", ["Unità", "Unit", "in"])
def test_units_in_a_column_of_their_own(unit: str, tmp_path: Path) -> None:
    found = document(
        tmp_path,
        f"Grandezza;{unit};Coppia 1;Coppia 2;Coppia 3;Coppia 4\n"
        "Lunghezza;m;35.5;35.6;35.7;35.8\n"
        "Ritardo;ns;170;171;172;173\n"
        "Resistenza;ohm;4.1;4.2;4.3;4.4\n",
    )
    assert scalars(found, "length", "length_m") == {"1": 35.5, "2": 35.6, "3": 35.7, "4": 35.8}
    assert scalars(found, "propagation_delay", "delay_ns") == {
        "1": 170, "2": 171, "3": 172, "4": 173,
    }  # fmt: skip
    resistance = {"1": 4.1, "2": 4.2, "3": 4.3, "4": 4.4}
    assert scalars(found, "dc_loop_resistance", "resistance_ohm") == resistance


def test_margins_of_each_pair_are_stated_and_measure_nothing(tmp_path: Path) -> None:
    """One of them looks like the contacts of a pair where decimals have a comma: 3,6."""
    found = document(
        tmp_path,
        "Grandezza;Unità;Coppia 1;Coppia 2;Coppia 3;Coppia 4\n"
        "Lunghezza;m;35.5;35.6;35.7;35.8\n"
        "Attenuation margin;dB;3.5;3.6;3.7;3.8\n",
    )
    assert [one for one in found["results"]["scalars"] if one["parameter"] != "length"] == []
    margins = {
        PAIR[item["pairs"][0]]: item["worst_margin"]["margin_db"]
        for item in found["stated"]["items"]
    }
    assert margins == {"1": 3.5, "2": 3.6, "3": 3.7, "4": 3.8}


def test_a_verdict_of_all_pairs_needs_none_and_not_measured_is_none(tmp_path: Path) -> None:
    found = document(
        tmp_path,
        "Grandezza;Coppia 1;Coppia 2;Coppia 3;Coppia 4;Stato\n"
        "Lunghezza (m);35.5;35.6;35.7;35.8;SUPERATO\n"
        "Ritardo (ns);170;171;172;173;SUPERATO\n"
        "Resistenza (ohm);---;---;---;---;non misurato\n",
    )
    judged = {item["parameter"]: item.get("verdict") for item in found["stated"]["items"]}
    assert judged["length"] == judged["propagation_delay"] == "pass"
    assert judged.get("dc_loop_resistance") is None
    assert "dc_loop_resistance" not in {of["parameter"] for of in found["results"]["scalars"]}
