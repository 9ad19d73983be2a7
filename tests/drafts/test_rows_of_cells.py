"""Drafts of XML in which facts of a test stand in rows of two cells alike: what, and its text."""

import re
from pathlib import Path

from .drafting import curves, draft_of, read, written
from .links import Link, link, lists

LINKS = [link("L-1", 35.5), link("L-2", 80.0)]
DRAWN = ("insertion_loss", "return_loss", "next")


def row(what: str, text: str) -> str:
    return f"<row><c>{what}</c><c>{text}</c></row>"


def rows(one: Link) -> str:
    """The facts of a link in two tables: the second from contact to contact."""
    facts = [
        ("Link", one.label),
        ("Limit", "TIA-568.2-D Cat 6A PL"),
        ("Tested (UTC)", "28 Feb 2026 17:05:09"),
        ("Operator", "R. Quillow"),
        ("Overall verdict", "good"),
    ]
    wires = "".join(row(contact, contact) for contact in "12345678")
    return (
        "<table title='Test'><head><c>Item</c><c>Value</c></head>"
        f"{''.join(row(*fact) for fact in facts)}</table>"
        f"<table title='Wire map'><head><c>Near</c><c>Far</c></head>{wires}</table>"
    )


def export() -> str:
    text = lists(LINKS).replace("<survey>", "<results wiring='T568B'>")
    text = text.replace("</survey>", "</results>")
    for number, one in enumerate(LINKS, 1):
        head = re.compile(rf'<link name="{one.label}">.*?</outcome>', re.DOTALL)
        text, count = head.subn(f'<link no="{number}">{rows(one)}', text)
        assert count == 1
    return text


def test_facts_in_rows_are_found_by_the_first_cell(tmp_path: Path) -> None:
    draft = draft_of(tmp_path, export(), "export.xml")
    records, problems = read(tmp_path / "export.xml", draft)
    assert problems == []
    for record, one in zip(records, LINKS, strict=True):
        document = record.document
        assert document["link"]["label"] == one.label
        assert document["test"]["limit"]["as_stated"] == "TIA-568.2-D Cat 6A PL"
        assert document["test"]["operator"] == "R. Quillow"
        assert document["stated"]["overall"]["verdict"] == "pass"
        pins = document["results"]["wire_map"]["pins"]
        assert [[*of] for of in pins] == [[contact, contact] for contact in "12345678"]
        assert curves(document).items() >= written(one, *DRAWN).items()


def test_a_zone_behind_the_name_of_a_time_is_its_zone(tmp_path: Path) -> None:
    draft = draft_of(tmp_path, export(), "export.xml")
    (first, _), _ = read(tmp_path / "export.xml", draft)
    assert first.document["test"]["started"]["rfc3339"] == "2026-02-28T17:05:09+00:00"


def test_a_wiring_scheme_in_an_element_called_after_results_is_no_verdict(tmp_path: Path) -> None:
    text = lists(LINKS).replace("<survey>", "<results wiring='T568B'>")
    draft = draft_of(tmp_path, text.replace("</survey>", "</results>"), "export.xml")
    assert 'stated.overall = "outcome"' in draft
    assert 'scheme = "T568B"' in draft


def test_a_cell_that_nothing_takes_goes_to_extra(tmp_path: Path) -> None:
    """The cell that a row is chosen by is no text of its own; one behind the second is."""
    text = export().replace(
        row("Operator", "R. Quillow"), "<row><c>Operator</c><c>R</c><c>x</c></row>"
    )
    draft = draft_of(tmp_path, export(), "export.xml")
    (tmp_path / "export.xml").write_text(text, "utf-8")
    (first, _), _ = read(tmp_path / "export.xml", draft)
    assert first.document["test"]["operator"] == "R"
    left = {key: of for key, of in first.document["extra"].items() if "Operator" in key}
    assert list(left.values()) == ["x"]
