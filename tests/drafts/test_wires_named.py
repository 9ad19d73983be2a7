"""Drafts take the verdict of a wire map by the word that its wires are called by as well.

What a tester is called at each end, and what wires are, is common practice, no source.
"""

from pathlib import Path

import pytest

from sweepbook.draft.key_offers import offers_of
from tests.program import run

from .drafting import draft_of, edited, read
from .links import link, wide
from .test_csv import RAW, SETTLE, SETTLED

WIRES = "1=3 2=6 3=1 4=4 5=5 6=2 7=7 8=8"
PINS = [["1", "3"], ["2", "6"], ["3", "1"], ["4", "4"], ["5", "5"], ["6", "2"], ["7", "7"]]
PINS.append(["8", "8"])


def export(lines: str) -> str:
    """A link with more keys, which its tester rejects."""
    text = wide(link("A-1", 31.0), *RAW)
    return text.replace("Outcome;PASS", f"{lines}\nLength outcome;PASS\nOutcome;FAIL")


@pytest.mark.parametrize("word", ["Wiring", "Bedrading", "Kupfer", "Contacts of plugs"])
def test_a_verdict_called_as_the_wires_are_is_that_of_the_wire_map(
    word: str, tmp_path: Path
) -> None:
    draft = draft_of(tmp_path, export(f"{word} local = remote;{WIRES}\n{word} outcome;FAIL"))
    assert f'\nwire_map = "{word}"\n' in draft
    (record,), problems = read(tmp_path / "export.csv", edited(draft, (SETTLE, SETTLED)))
    assert problems == []
    assert record.document["results"]["wire_map"]["pins"] == PINS
    items = record.document["stated"]["items"]
    told = {of["parameter"]: of["verdict"] for of in items if "verdict" in of}
    assert told == {"wire_map": "fail", "length": "pass"}
    assert record.document["stated"]["overall"]["verdict"] == "fail"


def test_a_key_a_contact_is_called_so_too(tmp_path: Path) -> None:
    lines = "\n".join(f"Wiring contact {near};{far}" for near, far in PINS)
    draft = draft_of(tmp_path, export(f"{lines}\nWiring outcome;FAIL"))
    (record,), _ = read(tmp_path / "export.csv", edited(draft, (SETTLE, SETTLED)))
    assert record.document["results"]["wire_map"]["pins"] == PINS
    items = record.document["stated"]["items"]
    assert ("wire_map", "fail") in {(of["parameter"], of.get("verdict")) for of in items}


@pytest.mark.parametrize("verdict", ["Test outcome", "Outcome", "Strands"])
def test_what_all_keys_may_begin_with_says_nothing(verdict: str, tmp_path: Path) -> None:
    lines = f"Test wiring local = remote;{WIRES}\n{verdict};FAIL"
    text = export(lines).replace("\nOutcome;FAIL", "")
    draft = draft_of(tmp_path, text)
    (record,), _ = read(tmp_path / "export.csv", edited(draft, (SETTLE, SETTLED)))
    assert record.document["results"]["wire_map"]["pins"] == PINS
    items = record.document["stated"]["items"]
    assert [of["parameter"] for of in items if "verdict" in of] == ["length"]


def test_a_trial_names_the_word_that_a_form_lacks(tmp_path: Path) -> None:
    """The form of the verdicts is there; only what the wire map is called is not."""
    lines = f"Wiring local = remote;{WIRES}\nWiring outcome;FAIL\nShelf outcome;PASS"
    draft = edited(draft_of(tmp_path, export(lines)), (SETTLE, SETTLED))
    assert draft.count('\nwire_map = "Wiring"\n') == 1
    without = draft.replace('wire_map = "Wiring"\n', "")
    (tmp_path / "mine.toml").write_text(without, encoding="utf-8")
    result = run("dialect", "try", tmp_path / "mine.toml", tmp_path / "export.csv")
    said = " ".join(result.output.split())
    form = 'the form "{parameter} outcome" of figures.verdict takes it'
    assert (
        f"Wiring outcome has 'FAIL' (1); {form} with wire_map = \"Wiring\" in [words.parameters]"
        in said
    )
    assert (
        f"Shelf outcome has 'PASS' (1); {form} where \"Shelf\" is in [words.parameters], "
        "to what it is of" in said
    )


@pytest.mark.parametrize(
    ("key", "ends", "end", "member"),
    [
        ("Serienummer tegentoestel", ("Hoofd", "Tegen"), "far", "serial"),
        ("Serienummer hoofdtoestel", ("Hoofd", "Tegen"), "near", "serial"),
        ("Firmware tegentoestel", ("Hoofd", "Tegen"), "far", "firmware"),
        ("Tegentoestel nr", ("Hoofd", "Tegen"), "far", "serial"),
        ("Ferngerät Seriennummer", ("Nah", "Fern"), "far", "serial"),
        ("Serienr. fjernenhed", ("Lokal", "Fjern"), "far", "serial"),
    ],
)
def test_the_word_for_an_end_may_be_joined_to_one_for_a_tester(
    key: str, ends: tuple[str, str], end: str, member: str
) -> None:
    path, share, _ = max(offers_of(key, ends), key=lambda of: of[1])
    assert (path, share) == (f"test.{end}.instrument.{member}", 1.0)


@pytest.mark.parametrize("key", ["Serienummer kasttoestel", "Tegenstand", "Toestel"])
def test_other_words_joined_to_one_for_a_tester_are_no_end(key: str) -> None:
    assert not any("far" in path for path, _, _ in offers_of(key, ("Hoofd", "Tegen")))
