"""Drafts of a row a test whose columns tell of each parameter's worst case.

The figures are of no calculation, for the reading alone.
"""

from pathlib import Path
from typing import Any

import pytest

from .drafting import curves, written
from .links import KHZ, WORDS, Link, link, shifted
from .test_tables_joined import drafted, gathered

RAW = ("insertion_loss", "return_loss", "next")
WORST = {
    "insertion_loss": ("3.1", "3-6", None, 4_000),
    "return_loss": ("0.4", "4-5", "near", 100_000),
    "next": ("-0.2", "1-2/7-8", "far", 250_000),
}
"""Margin in dB, pairs, end, kHz."""


def _files(links: list[Link], sides: dict[str | None, str], value: str) -> dict[str, str]:
    """The tests with their worst cases, and their curves; of each case the value too, or ""."""
    titles = ["Nr", "Circuit", "Norm", "Tested on", "Outcome", "Base firmware", "Hand firmware"]
    of_each = ["worst margin (dB)", "worst pair", "worst end", "worst frequency (kHz)"]
    of_each += [value] if value else []
    titles += [f"{WORDS[of]} {told}" for of in WORST for told in of_each]
    heads, sweeps = (
        [";".join(titles)],
        [";".join(["Nr", "Quantity", "Pair", "Side", *map(str, KHZ)])],
    )
    for nr, one in enumerate(links, 611):
        head = [str(nr), one.label, "TIA-568.2-D Cat 6A PL", f"2026-03-14 14:{nr - 600}:00", "PASS"]
        head += ["3.4.18", "3.4.16"]
        for margin, pairs, end, khz in WORST.values():
            head += [margin, pairs, sides[end], str(khz), *(["41.5"] if value else [])]
        heads.append(";".join(head))
        for (parameter, end, on), values in one.curves.items():
            if parameter in RAW:
                told = [str(nr), WORDS[parameter], "/".join(on), sides[end]]
                sweeps.append(";".join([*told, *(shifted(of, 2) for of in values)]))
    return {"heads.csv": "\n".join([*heads, ""]), "sweeps.csv": "\n".join([*sweeps, ""])}


LINKS = [link("C-1", 31.0), link("C-2", 88.5), link("C-3", 12.0)]
SIDES: dict[str | None, str] = {None: "N/A", "near": "Base", "far": "Hand"}


def _margins(document: dict[str, Any]) -> dict[str, tuple[object, ...]]:
    found: dict[str, tuple[object, ...]] = {}
    for item in document["stated"]["items"]:
        if worst := item.get("worst_margin"):
            at = item.get("pairs") or worst.get("pairs")
            end = item.get("end") or worst.get("end")
            mhz = worst.get("frequency_mhz")
            found[item["parameter"]] = (str(worst["margin_db"]), "/".join(at), end, mhz)
    return found


def test_the_worst_frequency_is_that_of_the_worst_margin(tmp_path: Path) -> None:
    texts = _files(LINKS, SIDES, "")
    draft = drafted(tmp_path, texts)
    assert "worst_value" not in draft
    documents = gathered(tmp_path, texts, draft)
    assert len(documents) == len(LINKS)
    for document, one in zip(documents, LINKS, strict=True):
        assert curves(document) == written(one, *RAW)
        assert _margins(document) == {
            of: (margin, pairs, end, khz / 1000) for of, (margin, pairs, end, khz) in WORST.items()
        }
        assert not [key for key in document.get("extra", {}) if "worst" in key]


@pytest.mark.parametrize("value", ["worst value (dB)", "worst reading (dB)"])
def test_where_a_worst_value_is_stated_the_frequency_stays_with_it(
    value: str, tmp_path: Path
) -> None:
    draft = drafted(tmp_path, _files(LINKS, SIDES, value))
    assert f'\nworst_value.value = "{{parameter}} {value.replace("dB", "{unit}")}"\n' in draft
    assert '\nworst_value.frequency = "{parameter} worst frequency (kHz)"\n' in draft


@pytest.mark.parametrize("sides", [("1", "2"), ("A", "B"), ("Base", "Hand")])
def test_a_column_of_ends_is_no_value(sides: tuple[str, str], tmp_path: Path) -> None:
    """Though ends may be called by numbers, and one column holds no end in any test."""
    texts = _files(LINKS, {None: "N/A", **dict(zip(("near", "far"), sides, strict=True))}, "")
    draft = drafted(tmp_path, texts)
    assert "worst_value" not in draft
    for document in gathered(tmp_path, texts, draft.replace('"TO-BE-SETTLED"', '"disturbed"')):
        items = document["stated"]["items"]
        assert not [of for of in items if "worst_value" in of]
        assert {of: margin for of, (margin, *_) in _margins(document).items()} == {
            of: margin for of, (margin, *_) in WORST.items()
        }


def test_a_firmware_of_three_numbers_is_no_date(tmp_path: Path) -> None:
    texts = _files(LINKS, SIDES, "")
    draft = drafted(tmp_path, texts)
    assert '\nforms = ["YYYY-MM-DD hh:mm:ss"]\n' in draft
    for document in gathered(tmp_path, texts, draft):
        told = [document["test"][end]["instrument"]["firmware"] for end in ("near", "far")]
        assert told == ["3.4.18", "3.4.16"]
        assert document["test"]["started"]["rfc3339"].startswith("2026-03-14T14:1")


def test_an_end_is_known_with_a_word_that_stands_beside_it_in_names_of_curves(
    tmp_path: Path,
) -> None:
    """The columns of ends hold "post local", where titles of curves go on with it."""
    texts = _files(LINKS, {None: "", "near": "post local", "far": "post remote"}, "")
    named = [key for key in LINKS[0].curves if key[0] in RAW]
    beside = {None: "", "near": " post local", "far": " post remote"}
    titles = [f"{WORDS[of]} {'/'.join(pairs)}{beside[end]} (dB)" for of, end, pairs in named]
    lines = [";".join(["Nr", "Frequency (kHz)", *titles])]
    for nr, one in enumerate(LINKS, 611):
        for at, khz in enumerate(KHZ):
            cells = [shifted(one.curves[key][at], 2) for key in named]
            lines.append(";".join([str(nr), str(khz), *cells]))
    texts["sweeps.csv"] = "\n".join([*lines, ""])
    documents = gathered(tmp_path, texts, drafted(tmp_path, texts))
    assert len(documents) == len(LINKS)
    for document, one in zip(documents, LINKS, strict=True):
        assert curves(document) == written(one, *RAW)
        assert _margins(document) == {
            of: (margin, pairs, end, khz / 1000) for of, (margin, pairs, end, khz) in WORST.items()
        }
