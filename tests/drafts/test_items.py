"""Drafts for XML in which every fact, and every curve, is an element with a key and a value."""

from collections.abc import Callable
from html import escape
from pathlib import Path
from typing import Any

import pytest

from .drafting import curves, draft_of, read, written
from .links import KHZ, PAIRS, Key, Link, link, shifted

LINKS = [link("L-1", 35.5), link("L-2", 80.0)]
SWEPT = ("insertion_loss", "return_loss", "next")
ENGLISH = {
    **{"insertion_loss": "Insertion Loss", "return_loss": "Return Loss", "next": "NEXT"},
    **{"length": "Length", "verdict": "Result", "margin": "Worst Margin", "pair": "Pair"},
    **{"side": "End", "near": "End A", "far": "End B", "unit near": "Tester A", "axis": "Sweep"},
    **{"unit far": "Tester B", "serial": "Serial Number", "label": "Link Label", "at": "Frequency"},
    **{"limit": "Test Limit", "overall": "Overall Result", "pass": "Pass", "place": "Room"},
}
GERMAN = {
    **{"insertion_loss": "Einfügedämpfung", "return_loss": "Rückflussdämpfung", "next": "NEXT"},
    **{"length": "Länge", "verdict": "Ergebnis", "margin": "schlechteste Reserve", "pair": "Paar"},
    **{"side": "Seite", "near": "Hauptgerät", "far": "Gegengerät", "unit near": "Hauptgerät"},
    **{"unit far": "Gegengerät", "serial": "Seriennummer", "label": "Strecke", "at": "Frequenz"},
    **{"limit": "Grenzwert", "overall": "Gesamtergebnis", "pass": "Bestanden", "place": "Raum"},
    "axis": "Kurven",
}
Form = Callable[[str, str], str]
FORMS: dict[str, Form] = {
    "children": lambda key, text: f"<Item><Key>{key}</Key><Value>{text}</Value></Item>",
    "children of other names": lambda key, text: (
        f"<Fact><Name>{key}</Name><Data>{text}</Data></Fact>"
    ),
    "attributes": lambda key, text: f'<p name="{key}" value="{text}"/>',
    "attributes of other names": lambda key, text: f'<v k="{key}" t="{text}"/>',
    "a text": lambda key, text: f'<entry key="{key}">{text}</entry>',
    "cells": lambda key, text: f"<row><c>{key}</c><c>{text}</c></row>",
}
MARGINS = {
    "insertion_loss": ("4-5", None, 245, 3_010),
    "return_loss": ("3-6", "near", 211, 9_130),
    "next": ("1-2/7-8", "far", -128, 21_000),
}
"""Pairs, end, hundredths of a dB and kHz of what is stated of each parameter."""
AXIS = " ".join(f"{khz / 1000:.3f}" for khz in KHZ)


def spelled(pairs: str) -> str:
    """Pairs as the export has them: 1,2 / 3,6."""
    return pairs.replace("-", ",").replace("/", " / ")


def called(words: dict[str, str], key: Key) -> str:
    """What the key of a curve begins with."""
    parameter, end, pairs = key
    named = f"{words[parameter]} {spelled('/'.join(pairs))}"
    return f"{named} {words[end]}" if end else named


def unit(text: str, units: bool) -> str:
    """A unit behind a key, where keys have one."""
    return f" ({text})" if units else ""


def facts(one: Link, words: dict[str, str], axis: str, *, units: bool) -> list[tuple[str, str]]:
    """Keys and values of a test.

    Args:
        one: the link.
        words: of the export.
        axis: where frequencies stand: once for a "test", for each "curve" or "parameter".
        units: whether keys of figures and curves name their unit.
    """
    found = [(words["label"], one.label), (words["place"], "Ward 2")]
    found += [
        (words["limit"], "ISO/IEC 11801-1 Class E Channel"),
        (words["overall"], words["pass"]),
    ]
    for end in ("near", "far"):
        found.append((f"{words[f'unit {end}']} {words['serial']}", f"FN-{end[0]}7"))
    lengths = [(pair, f"{one.metres + at:.1f}") for at, pair in enumerate(PAIRS)]
    length = words["length"]
    found += [(f"{length} {spelled(of)}{unit('m', units)}", text) for of, text in lengths]
    for parameter, (pairs, side, margin, khz) in MARGINS.items():
        word = f"{words[parameter]} {words['margin']}"
        found += [(f"{words[parameter]} {words['verdict']}", words["pass"])]
        found += [(f"{word}{unit('dB', units)}", shifted(margin, 2))]
        found += [(f"{word} {words['pair']}", spelled(pairs))]
        found += [(f"{word} {words['side']}", words[side])] if side else []
        found += [(f"{word} {words['at']} (MHz)", f"{khz / 1000:.2f}")]
    told = set()
    for key, values in one.curves.items():
        if key[0] in SWEPT:
            of = {"curve": called(words, key), "parameter": words[key[0]]}.get(axis, words["axis"])
            if axis and of not in told:
                found.append((f"{of} {words['at']} (MHz)", AXIS))
                told.add(of)
            text = " ".join(shifted(value, 2) for value in values)
            found.append((f"{called(words, key)}{unit('dB', units)}", text))
    return found


def export(form: Form, words: dict[str, str], axis: str = "test", *, units: bool = True) -> str:
    """A file with the tests, and an axis for all of them before these where no test has one."""
    head = [("Software", "Fennick 2.8"), ("Time Zone", "UTC+01:00")]
    head += [] if axis else [(f"{words['axis']} {words['at']} (MHz)", AXIS)]
    lines = ["<Export>", "<Head>", *(form(*fact) for fact in head), "</Head>"]
    for one in LINKS:
        told = facts(one, words, axis, units=units)
        lines += ["<Test>", *(form(key, escape(text)) for key, text in told), "</Test>"]
    return "\n".join([*lines, "</Export>", ""])


def holds(document: dict[str, Any], one: Link) -> None:
    """Check a record against what was written."""
    assert curves(document) == written(one, *SWEPT)
    assert document["link"]["near"]["place"]["space"] == "Ward 2"
    units = [document["test"][end]["instrument"]["serial"] for end in ("near", "far")]
    assert units == ["FN-n7", "FN-f7"]
    lengths = [of["length_m"] for of in document["results"]["scalars"]]
    assert lengths == [one.metres + at for at in range(len(PAIRS))]
    assert document["stated"]["overall"]["verdict"] == "pass"
    items = document["stated"]["items"]
    for parameter, (pairs, end, margin, khz) in MARGINS.items():
        of = [item for item in items if item["parameter"] == parameter]
        assert [item["verdict"] for item in of if "verdict" in item] == ["pass"]
        (item,) = (item for item in of if "worst_margin" in item)
        assert (item["pairs"], item.get("end")) == (pairs.split("/"), end)
        assert item["worst_margin"]["margin_db"] == margin / 100
        assert item["worst_margin"]["frequency_mhz"] == pytest.approx(khz / 1000)


def check(tmp_path: Path, text: str) -> str:
    """Draft a dialect, and check that it reads all of a file; the draft."""
    draft = draft_of(tmp_path, text, "export.xml")
    records, problems = read(tmp_path / "export.xml", draft)
    assert problems == []
    assert [record.label for record in records] == ["L-1", "L-2"]
    for record, one in zip(records, LINKS, strict=True):
        holds(record.document, one)
    return draft


@pytest.mark.parametrize("form", FORMS)
def test_curves_and_their_axis_are_facts_like_any_other(form: str, tmp_path: Path) -> None:
    draft = check(tmp_path, export(FORMS[form], ENGLISH))
    assert "Sweep Frequency (MHz)]" in draft


@pytest.mark.parametrize("axis", ["curve", "parameter", ""])
@pytest.mark.parametrize("form", ["children", "attributes"])
def test_frequencies_stand_for_a_curve_a_parameter_or_all_tests(
    form: str, axis: str, tmp_path: Path
) -> None:
    check(tmp_path, export(FORMS[form], ENGLISH, axis))


@pytest.mark.parametrize("form", ["children", "attributes of other names"])
def test_keys_are_german(form: str, tmp_path: Path) -> None:
    check(tmp_path, export(FORMS[form], GERMAN))


@pytest.mark.parametrize("form", ["children", "a text"])
def test_a_number_alone_is_a_figure_where_no_unit_tells_it_from_curves(
    form: str, tmp_path: Path
) -> None:
    """Keys of lengths are written as those of insertion loss are."""
    check(tmp_path, export(FORMS[form], ENGLISH, units=False))


def test_a_unit_beside_a_value_is_not_passed_over(tmp_path: Path) -> None:
    """Feet, which no key names: an element with a third text is no key with its value alone."""
    text = export(FORMS["attributes"], ENGLISH, units=False)
    for metres in {f'value="{one.metres + at:.1f}"/>' for one in LINKS for at in range(4)}:
        text = text.replace(metres, metres.replace("/>", ' unit="ft"/>'))
    draft = draft_of(tmp_path, text, "export.xml")
    assert '"@unit" = "{unit}"' in draft
    assert '\nlength = "ft"\n' in draft


def test_what_no_field_is_for_is_kept_and_no_unknown_curve(tmp_path: Path) -> None:
    text = export(FORMS["children"], ENGLISH)
    more = FORMS["children"]("Drum", "D 7") + FORMS["children"]("Wall colour", "12")
    check(tmp_path, text.replace("</Test>", f"{more}</Test>"))
    draft = draft_of(tmp_path, text.replace("</Test>", f"{more}</Test>"), "export.xml")
    records, _ = read(tmp_path / "export.xml", draft)
    assert records[0].document["extra"]["Item[Key=Wall colour]/Value"] == "12"
