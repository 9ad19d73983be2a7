"""Drafts of XML with a folder a test: a file with all curves, and one with what is known of it."""

from pathlib import Path

import pytest

from tests.program import run

from .drafting import curves, written
from .links import KHZ, WORDS, Link, link, shifted
from .test_xml_joined import read

RAW = ("insertion_loss", "return_loss", "next")
SIDES = {None: "", "near": ' side="local"', "far": ' side="remote"'}
NORM = "TIA-568.2-D Cat 6A PL"
LINKS = [link("V-4-01", 21.5), link("V-4-02", 33.0), link("V-5-17", 48.5)]


def traces(one: Link, key: str) -> str:
    """All curves of a test, as lists in attributes."""
    axis = "|".join(map(str, KHZ))
    made = [f'<?xml version="1.0"?>\n<Traces{key}><Steps id="s1" unit="kHz">{axis}</Steps>']
    for (parameter, end, pairs), values in one.curves.items():
        if parameter in RAW:
            named = "+".join(pair.replace("-", "") for pair in pairs)
            told = f'of="{WORDS[parameter]}" wires="{named}"{SIDES[end]} steps="s1"'
            listed = "|".join(shifted(value, 2) for value in values)
            made.append(f'<T {told} dB="{listed}"/>')
    return "\n".join([*made, "</Traces>\n"])


def card(one: Link, limit: str) -> str:
    """What is known of a test."""
    return (
        f'<?xml version="1.0"?>\n<Card><CableID>{one.label}</CableID><Outcome>pass</Outcome>\n'
        f"{limit}<Operator>Ada Lindqvist</Operator>\n"
        f'<Length unit="m"><P12>{one.metres:.1f}</P12><P36>{one.metres:.1f}</P36></Length>\n'
        "</Card>\n"
    )


def export(folder: Path, *, inside: bool, cards: list[Link]) -> list[Path]:
    """The files, a folder a test; some have a card."""
    for one in LINKS:
        (folder / one.label).mkdir()
        text = traces(one, f' link="{one.label}" norm="{NORM}"' if inside else "")
        (folder / one.label / "traces.xml").write_text(text, encoding="utf-8")
    limit = "" if inside else f"<Limit>{NORM}</Limit>"
    for one in cards:
        (folder / one.label / "card.xml").write_text(card(one, limit), encoding="utf-8")
    return sorted(folder.rglob("*.xml"))


@pytest.mark.parametrize("inside", [True, False], ids=["label in both", "folder alone"])
def test_the_card_in_the_folder_of_the_curves_is_of_their_test(
    inside: bool, tmp_path: Path
) -> None:
    files = export(tmp_path, inside=inside, cards=LINKS)
    for given in (files, files[::-1]):
        draft = run("dialect", "draft", *given).stdout
        assert '\nfile = "{}/traces.xml"\nother = "{}/card.xml"\n' in draft
        assert ('\nkey = "@link"\nother_key = "CableID"\n' in draft) == inside
        records, problems = read(tmp_path, draft)
        assert problems == []
        told = {of["link"]["label"]: of for of in records}
        assert sorted(told) == [one.label for one in LINKS]
        for one in LINKS:
            document = told[one.label]
            assert curves(document) == written(one, *RAW)
            assert document["stated"]["overall"]["verdict"] == "pass"
            assert document["test"]["operator"] == "Ada Lindqvist"
            lengths = [
                of["length_m"]
                for of in document["results"]["scalars"]
                if of["parameter"] == "length"
            ]
            assert lengths == [one.metres] * 2


def test_a_card_may_lack(tmp_path: Path) -> None:
    """The label stands in the file with the curves alone, which every test has."""
    files = export(tmp_path, inside=True, cards=LINKS[:2])
    for one in LINKS[:2]:
        path = tmp_path / one.label / "card.xml"
        text = path.read_text(encoding="utf-8")
        path.write_text(text.replace(f"<CableID>{one.label}</CableID>", ""), encoding="utf-8")
    draft = run("dialect", "draft", *files).stdout
    assert "\nmay_lack = true\n" in draft
    records, _ = read(tmp_path, draft)
    found = {of["link"]["label"]: "operator" in of["test"] for of in records}
    assert found == {"V-4-01": True, "V-4-02": True, "V-5-17": False}


def test_curves_without_cards_are_joined_to_nothing(tmp_path: Path) -> None:
    draft = run("dialect", "draft", *export(tmp_path, inside=True, cards=[])).stdout
    assert "[join]" not in draft
    assert '\ntest = "/Traces"\n' in draft


def test_one_card_alone_is_not_taken_for_that_of_its_folder(tmp_path: Path) -> None:
    """It may tell of all tests."""
    for one in LINKS[:2]:
        (tmp_path / one.label).mkdir()
        path = tmp_path / one.label / "traces.xml"
        path.write_text(traces(one, f' link="{one.label}"'), encoding="utf-8")
    told = "".join(f'<run link="{one.label}"><by>A. Lindqvist</by></run>' for one in LINKS[:2])
    (tmp_path / "V-4-01" / "runs.xml").write_text(f"<runs>{told}</runs>", encoding="utf-8")
    draft = run("dialect", "draft", *sorted(tmp_path.rglob("*.xml"))).stdout
    assert '"{}/runs.xml"' not in draft
    assert '\nother_key = "@link"\n' in draft
