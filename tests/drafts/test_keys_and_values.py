"""Drafts of XML whose facts about a test are keys with values, or stand in elements of an end."""

import re
from pathlib import Path
from typing import Any

import pytest

from .drafting import draft_of, read
from .test_titled import export, joined

FACTS = {
    "Cable Label": "L-{}",
    "Test limit": "ISO 11801-1:2017 Class EA PL",
    "Date/Time": "2026-02-28 17:05:09",
    "Result": "PASS",
    "Operator": "J. Okoro",
    "Main unit S/N": "0071",
    "Remote unit S/N": "0072",
    "Site": "Old mill",
    "NVP (%)": "71",
    "Length (m)": "47.0",
}
WRITTEN = [
    '<Field name="{key}" value="{value}"/>',
    '<Property key="{key}">{value}</Property>',
    "<item><name>{key}</name><value>{value}</value></item>",
    "<Eintrag><Schlüssel>{key}</Schlüssel><Wert>{value}</Wert></Eintrag>",
]


def with_facts(form: str) -> str:
    """Two tests with curves and their facts as keys and values."""
    parts = re.split(r"<link name=.*?</outcome>", export(joined(";")), flags=re.DOTALL)
    made = parts[0]
    for number, part in enumerate(parts[1:], 1):
        facts = (form.format(key=key, value=of.format(number)) for key, of in FACTS.items())
        made += f'<link no="{number}">{"".join(facts)}{part}'
    return made


def facts_of(document: dict[str, Any]) -> tuple[Any, ...]:
    test = document["test"]
    (length,) = document["results"]["scalars"]
    return (
        document["link"]["label"],
        document["resolved"]["limit"]["path"],
        test["started"]["as_stated"],
        document["stated"]["overall"]["verdict"],
        test["operator"],
        test["near"]["instrument"]["serial"],
        test["far"]["instrument"]["serial"],
        document["link"]["near"]["place"]["site"],
        float(document["link"]["cable"]["nvp"]),
        length["length_m"],
    )


@pytest.mark.parametrize("form", WRITTEN)
def test_the_draft_needs_no_change(form: str, tmp_path: Path) -> None:
    draft = draft_of(tmp_path, with_facts(form), "export.xml")
    records, problems = read(tmp_path / "export.xml", draft)
    assert problems == []
    limit = "iso-11801-1-2017/class-ea/permanent-link"
    wanted = (limit, "2026-02-28 17:05:09", "pass", "J. Okoro", "0071", "0072", "Old mill", 0.71)
    assert [facts_of(of.document) for of in records] == [
        ("L-1", *wanted, 47.0),
        ("L-2", *wanted, 47.0),
    ]
    assert all(of.document.get("extra", {}).keys() <= {"@no"} for of in records)


@pytest.mark.parametrize(
    ("units", "serials"),
    [
        (
            '<Gerät seite="haupt">RU 11-0451</Gerät><Gerät seite="fern">RU 11-0452</Gerät>',
            ("RU 11-0451", "RU 11-0452"),
        ),
        (
            '<Gerät seite="nah" typ="Lot 4">11-0451</Gerät>'
            '<Gerät seite="fern" typ="Lot 4R">11-0452</Gerät>',
            ("11-0451", "11-0452"),
        ),
        ("<Messgerät><Nah>0451</Nah><Fern>0452</Fern></Messgerät>", ("0451", "0452")),
        ('<instruments main="K-1" remote="K-2"/>', ("K-1", "K-2")),
        (
            '<Seriennummer ende="A">0071</Seriennummer><Seriennummer ende="B">0072</Seriennummer>',
            ("0071", "0072"),
        ),
        (
            '<Prüfgerät Seite="1" Nr="MX-33871"/><Prüfgerät Seite="2" Nr="MX-33872"/>',
            ("MX-33871", "MX-33872"),
        ),
    ],
)
def test_serials_stand_in_elements_of_an_end(
    units: str, serials: tuple[str, str], tmp_path: Path
) -> None:
    text = export(joined(";")).replace("</link>", f"{units}</link>")
    draft = draft_of(tmp_path, text, "export.xml")
    records, _ = read(tmp_path / "export.xml", draft)
    for record in records:
        test = record.document["test"]
        assert tuple(test[end]["instrument"]["serial"] for end in ("near", "far")) == serials


def test_models_of_two_words_are_no_serials(tmp_path: Path) -> None:
    units = '<Gerät seite="nah">Feldlot 4000</Gerät><Gerät seite="fern">Feldlot 4000R</Gerät>'
    text = export(joined(";")).replace("</link>", f"{units}</link>")
    assert "instrument.serial" not in draft_of(tmp_path, text, "export.xml")
