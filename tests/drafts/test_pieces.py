"""Drafts of XML in which each element holds one curve and says which test it is of."""

from pathlib import Path

import pytest

from tests.program import run

from .drafting import curves, read, written
from .links import KHZ, Link, link, shifted

RAW = ("insertion_loss", "return_loss", "next")
WORD = {"insertion_loss": "Attenuation", "return_loss": "Return loss", "next": "NEXT"}
SIDE = {None: "", "near": "<side>local</side>", "far": "<side>remote</side>"}


def elements(links: list[Link], *, inside: bool) -> str:
    """A flat list of curves; a test's own facts stand in each, or in another file."""
    made = []
    for number, one in enumerate(links, 101):
        facts = f"<circuit>{one.label}</circuit><limit>Cat 6A PL</limit><outcome>PASS</outcome>"
        for (parameter, end, pairs), values in one.curves.items():
            if parameter in RAW:
                pair = "-".join(of.replace("-", "") for of in pairs)
                points = "".join(
                    f'<p f="{khz}" v="{shifted(value, 2)}"/>'
                    for khz, value in zip(KHZ, values, strict=True)
                )
                made.append(
                    f"<trace><run>R{number}</run>{facts if inside else ''}"
                    f"<of>{WORD[parameter]}</of><pair>{pair}</pair>{SIDE[end]}"
                    f"<unit>kHz</unit><points>{points}</points></trace>"
                )
    return f"<traces>{''.join(made)}</traces>"


def heads(links: list[Link]) -> str:
    """What is known of the tests beside their curves."""
    made = (
        f"<test><run>R{number}</run><circuit>{one.label}</circuit><limit>Cat 6A PL</limit>"
        "<outcome>PASS</outcome></test>"
        for number, one in enumerate(links, 101)
    )
    return f"<tests>{''.join(made)}</tests>"


@pytest.mark.parametrize("inside", [True, False], ids=["all in one", "heads in another file"])
def test_elements_of_one_test_each_come_together(inside: bool, tmp_path: Path) -> None:
    links = [link("A-1", 31.0), link("A-2", 88.5), link("A-3", 12.0)]
    (tmp_path / "hall-traces.xml").write_text(elements(links, inside=inside))
    if not inside:
        (tmp_path / "hall-tests.xml").write_text(heads(links))
    draft = run("dialect", "draft", *sorted(tmp_path.glob("*.xml"), reverse=True)).stdout
    assert '\npieces_by = "run"\n' in draft
    dialect = tmp_path / "draft.toml"
    dialect.write_text(draft)
    if inside:
        records, problems = read(tmp_path / "hall-traces.xml", draft)
        assert [record.label for record in records] == ["A-1", "A-2", "A-3"]
        assert problems == []
        for one, record in zip(links, records, strict=True):
            assert curves(record.document) == written(one, *RAW)
            assert record.document["stated"]["overall"]["verdict"] == "pass"
    checked = run("check", "--dialect", dialect, *tmp_path.glob("*.xml"))
    assert "3 tests" in checked.stdout
    assert all(f"A-{number}" in checked.stdout for number in (1, 2, 3))
    assert "not read" not in checked.output


def test_elements_that_are_tests_stay_what_they_are(tmp_path: Path) -> None:
    """One curve a test, under labels that come once each: nothing is to be put together."""
    text = elements([link("A-1", 31.0)], inside=True)
    (tmp_path / "one.xml").write_text(text)
    assert "pieces_by" not in run("dialect", "draft", tmp_path / "one.xml").stdout
