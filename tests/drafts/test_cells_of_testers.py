"""Drafts of key lines within which cells name the ones behind them."""

from pathlib import Path

import pytest

from .drafting import draft_of, read
from .links import link, wide


@pytest.mark.parametrize(
    "line",
    [
        "Messgerät;Umbelwort T4;Nr.;T4-0441;Betriebsprogramm;2.18",
        "Tester;Umbelwort T4;Number;T4-0441;Version;2.18",
        "Instrument;T4 Umbelwort;Nr;T4-0441;Release;2.18",
    ],
)
def test_a_line_of_a_tester_names_number_and_version(line: str, tmp_path: Path) -> None:
    text = wide(link("T-1", 31.5), "insertion_loss", "next")
    draft = draft_of(tmp_path, text.replace("Circuit no;", f"{line}\nCircuit no;"))
    (record,), problems = read(tmp_path / "export.csv", draft)
    assert problems == []
    assert record.label == "T-1"
    instrument = record.document["test"]["near"]["instrument"]
    assert "Umbelwort" in instrument["model"]
    assert (instrument["serial"], instrument["firmware"]) == ("T4-0441", "2.18")


def test_words_by_turns_that_are_of_no_tester_name_nothing(tmp_path: Path) -> None:
    text = wide(link("T-1", 31.5), "insertion_loss", "next")
    line = "Room;Umbelwort 4;Nr.;T4-0441;Programm;2.18"
    assert "preamble.names" not in draft_of(
        tmp_path, text.replace("Circuit no", f"{line}\nCircuit no")
    )
