"""Drafts of XML in which rows below titles state lengths, delays and margins.

What is asked of a draft is what was written into the file, as plain numbers.
"""

import re
from pathlib import Path
from typing import Any

import pytest

from .drafting import curves, draft_of, read, written
from .test_titled import LINKS, NUMBER, RAW, WORDS, Write, elements, export, in_attribute, joined

END = {"near": "local", "far": "remote"}
MARGINS = (
    ("next", "near", ("1-2", "3-6"), 3.1, 100.0, "pass"),
    ("next", "far", ("3-6", "4-5"), 0.4, 61.5, "pass"),
    ("return_loss", "near", ("7-8",), 1.8, 240.0, "pass"),
)
LENGTHS = {"1-2": (231.0, 47.0), "3-6": (233.0, 47.6), "4-5": (230.0, 46.9), "7-8": (235.0, 48.0)}
TITLES = {
    "English": ("parameter", "side", "pair", "frequency MHz", "margin dB", "result"),
    "German": ("Messgröße", "Seite", "Paar", "Frequenz MHz", "Reserve dB", "Ergebnis"),
    "French": ("paramètre", "côté", "paire", "fréquence MHz", "marge dB", "résultat"),
    "Spanish": ("parámetro", "lado", "par", "frecuencia MHz", "margen dB", "resultado"),
    "Polish": ("parametr", "strona", "para", "częstotliwość MHz", "zapas dB", "wynik"),
}
FIGURES = {
    "English": ("pair", "delay ns", "length m"),
    "German": ("Paar", "Laufzeit ns", "Länge m"),
    "French": ("paire", "délai de propagation ns", "longueur m"),
    "Spanish": ("par", "retardo ns", "longitud m"),
    "Polish": ("para", "opóźnienie ns", "długość m"),
}


def number(value: float, mark: str) -> str:
    return f"{value:g}".replace(".", mark)


def margin_rows(mark: str) -> list[list[str]]:
    return [
        [
            WORDS[parameter],
            END[end],
            "-".join(NUMBER[pair] for pair in pairs),
            number(at, mark),
            number(margin, mark),
            "good",
        ]
        for parameter, end, pairs, margin, at, _ in MARGINS
    ]


def length_rows(mark: str) -> list[list[str]]:
    return [
        [NUMBER[pair], number(delay, mark), number(length, mark)]
        for pair, (delay, length) in LENGTHS.items()
    ]


def table(tag: str, write: Write, titles: tuple[str, ...], rows: list[list[str]]) -> str:
    lines = "".join(write("entry", row) for row in rows)
    return f"<{tag}>{write('titles', list(titles))}{lines}</{tag}>"


def with_figures(write: Write, mark: str, tongue: str = "English") -> str:
    """The export of links with both tables in each of them."""
    more = table("margins", write, TITLES[tongue], margin_rows(mark))
    more += table("wires", write, FIGURES[tongue], length_rows(mark))
    return export(write, mark=mark).replace("</link>", f"{more}</link>")


def items(document: dict[str, Any]) -> list[tuple[Any, ...]]:
    """What is stated of curves."""
    return [
        (
            item["parameter"],
            item.get("end"),
            tuple(item["pairs"]),
            item["worst_margin"]["margin_db"],
            item["worst_margin"]["frequency_mhz"],
            item.get("verdict"),
        )
        for item in document["stated"]["items"]
    ]


def scalars(document: dict[str, Any]) -> dict[str, tuple[float, float]]:
    """Delay in ns and length in m by pair."""
    found: dict[str, dict[str, float]] = {}
    for entry in document["results"]["scalars"]:
        value = entry.get("delay_ns", entry.get("length_m"))
        found.setdefault(entry["pairs"][0], {})[entry["parameter"]] = value
    return {pair: (of["propagation_delay"], of["length"]) for pair, of in found.items()}


def whole(folder: Path, text: str) -> None:
    """Hold what a draft reads against what was written."""
    draft = draft_of(folder, text, "export.xml")
    records, problems = read(folder / "export.xml", draft)
    assert problems == []
    assert len(records) == len(LINKS)
    for one, record in zip(LINKS, records, strict=True):
        assert curves(record.document) == written(one, *RAW)
        assert sorted(items(record.document)) == sorted(MARGINS)
        assert scalars(record.document) == LENGTHS
        assert record.document.get("extra", {}) == {}


@pytest.mark.parametrize(
    ("write", "mark"),
    [
        (elements, "."),
        (in_attribute, ","),
        (joined(";"), ","),
        (joined("|"), "."),
        (joined(" | "), "."),
        (joined("\t"), ","),
    ],
)
def test_the_draft_needs_no_change(write: Write, mark: str, tmp_path: Path) -> None:
    whole(tmp_path, with_figures(write, mark))


@pytest.mark.parametrize("tongue", list(TITLES))
def test_titles_in_the_languages_of_the_trade(tongue: str, tmp_path: Path) -> None:
    whole(tmp_path, with_figures(joined("|"), ".", tongue))


def test_titles_in_an_attribute_of_what_is_around_the_rows(tmp_path: Path) -> None:
    text = with_figures(joined("|"), ".")
    for tag in ("margins", "wires"):
        text = text.replace(f"<{tag}><titles>", f'<{tag} columns="')
    text = text.replace("</titles>", '">')
    assert "<titles>" not in text
    whole(tmp_path, text)


def test_rows_in_an_attribute(tmp_path: Path) -> None:
    text = with_figures(joined("|"), ".")
    whole(tmp_path, re.sub("<entry>(.*?)</entry>", r'<entry all="\1"/>', text))


def test_what_is_around_the_rows_names_them(tmp_path: Path) -> None:
    """A table for each end, whose rows do not say it."""
    titles = (*TITLES["English"][:1], *TITLES["English"][2:])
    more = ""
    for end in ("near", "far"):
        rows = [[row[0], *row[2:]] for row in margin_rows(".") if row[1] == END[end]]
        held = table("margins", joined("|"), titles, rows)
        more += held.replace("<margins>", f'<margins side="{END[end]}">')
    more += table("wires", joined("|"), FIGURES["English"], length_rows("."))
    whole(tmp_path, export(joined("|")).replace("</link>", f"{more}</link>"))


def test_a_column_that_is_no_figure_is_named(tmp_path: Path) -> None:
    rows = [[*row[:4], "40.5", *row[4:]] for row in margin_rows(".")]
    titles = (*TITLES["English"][:4], "measured", *TITLES["English"][4:])
    more = table("margins", joined("|"), titles, rows)
    text = export(joined("|")).replace("</link>", f"{more}</link>")
    draft = draft_of(tmp_path, text, "export.xml")
    assert 'other_columns = "measured"' in draft
    records, problems = read(tmp_path / "export.xml", draft)
    assert problems == []
    for record in records:
        assert sorted(items(record.document)) == sorted(MARGINS)
        assert record.document["extra"] == {"margins/entry/measured": "40.5\n40.5\n40.5"}
