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


def test_what_is_stated_of_a_parameter_is_found_by_the_first_cell(tmp_path: Path) -> None:
    """The place of the second cell names no pair."""
    facts = row("Overall verdict", "good")
    stated = row("Wire map verdict", "good") + row("Delay verdict", "good")
    stated += row("NEXT verdict", "good") + row("NEXT worst margin (dB)", "3,4")
    text = export().replace(facts, facts + stated)
    draft = draft_of(tmp_path, text, "export.xml")
    assert 'verdict = "table[@title=Test]/row[c={parameter} verdict]/c[2]"' in draft
    records, problems = read(tmp_path / "export.xml", draft)
    assert problems == []
    for record in records:
        document = record.document
        items = {of["parameter"]: of for of in document["stated"]["items"] if "pairs" not in of}
        assert {of: item.get("verdict") for of, item in items.items()} == {
            "wire_map": "pass",
            "next": "pass",
            "propagation_delay": "pass",
        }
        assert items["next"]["worst_margin"]["margin_db"] == 3.4
        assert not [key for key in document["extra"] if "verdict" in key]


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


WORST = """<table title='Worst'><head><c>Quantity</c><c>Margin (dB)</c><c>Pairs</c><c>End</c>
<c>Frequency (Hz)</c><c>Verdict</c></head>
<row><c>Attenuation</c><c>{},8</c><c>Pair 1</c><c>-</c><c>6000000</c><c>good</c></row>
<row><c>RL</c><c>{},9</c><c>Pair 4</c><c>local</c><c>31250000</c><c>good</c></row>
<row><c>NEXT</c><c>{},4</c><c>Pairs 2 and 3</c><c>remote</c><c>18750000</c><c>good</c></row>
</table>"""
VALUES = """<table title='Values'><head><c>Quantity</c><c>Unit</c><c>Pair 1</c><c>Pair 2</c>
<c>Pair 3</c><c>Pair 4</c><c>Verdict</c></head>
<row><c>Loop resistance</c><c>ohm</c>
<c>{0},6</c><c>{0},2</c><c>{0},1</c><c>{0},5</c><c>good</c></row>
<row><c>Delay</c><c>ns</c><c>23{0}</c><c>22{0}</c><c>23{0}</c><c>22{0}</c><c>good</c></row>
</table>"""


def test_verdicts_beside_worst_margins_are_those_of_parameters_and_read_once(
    tmp_path: Path,
) -> None:
    """Both tables have a column of verdicts, and one of them names its rows by less."""
    text = export()
    for number in (1, 2):
        tables = VALUES.format(number) + WORST.format(number, number, number)
        text = text.replace(f'<link no="{number}">', f'<link no="{number}">{tables}')
    draft = draft_of(tmp_path, text, "export.xml")
    records, problems = read(tmp_path / "export.xml", draft)
    assert problems == []
    assert len(records) == len(LINKS)
    for record in records:
        judged = [of for of in record.document["stated"]["items"] if "verdict" in of]
        assert sorted(of["parameter"] for of in judged) == [
            "dc_loop_resistance",
            "insertion_loss",
            "next",
            "propagation_delay",
            "return_loss",
        ]
        assert not [of for of in judged if "pairs" in of]
