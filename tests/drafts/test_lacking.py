"""Drafts of exports of which one test has crossed wires, and words where figures would stand."""

from pathlib import Path

import pytest

from .drafting import curves, written
from .links import KHZ, PAIRS, Link, link, shifted
from .test_tables_joined import drafted, gathered

LINKS = [link("D-1", 31.0), link("D-2", 88.5), link("D-3", 12.0)]
CROSSED = link("D-4", 0.0)
LACKS = "not measured"
RAW = ("insertion_loss", "next")


def export(one: Link) -> str:
    measured = one is not CROSSED
    metres = f"{one.metres:.1f}" if measured else LACKS
    lines = [f"Circuit;{one.label}", "Limit;Cat 6A PL", "Tested on;2026-03-04 14:22"]
    lines += [f"Outcome;{'PASS' if measured else 'FAIL'}"]
    wires = "1;2;3;4;5;6;7;8" if measured else "3;6;1;4;5;2;7;open"
    lines += ["Pins here;1;2;3;4;5;6;7;8", f"Pins there;{wires}", ""]
    lines += [f"Quantity;Result;{';'.join(of.replace('-', '') for of in PAIRS)}"]
    verdict = "PASS" if measured else LACKS
    lines += [f"Length (m);{verdict};{';'.join([metres] * 4)}", ""]
    if not measured:
        return "\n".join([*lines, ""])
    some = {key: values for key, values in one.curves.items() if key[0] in RAW}
    word = {"insertion_loss": "Attenuation", "next": "NEXT"}
    side = {None: "", "near": " local", "far": " remote"}
    titles = [
        f"{word[name]} {'+'.join(of.replace('-', '') for of in pairs)}{side[end]}"
        for name, end, pairs in some
    ]
    lines.append(";".join(["Frequency/kHz", *titles]))
    for at, khz in enumerate(KHZ):
        lines.append(";".join([str(khz), *(shifted(of[at], 2) for of in some.values())]))
    return "\n".join([*lines, ""])


@pytest.mark.parametrize("together", [False, True], ids=["a file a test", "one file"])
def test_what_was_not_measured_is_read_by_the_draft_of_what_was(
    together: bool, tmp_path: Path
) -> None:
    texts = {f"{one.label}.csv": export(one) for one in [CROSSED, *LINKS]}
    if together:
        texts = {"all.csv": "\n".join(texts[f"D-{at}.csv"] for at in (1, 2, 4, 3))}
    draft = drafted(tmp_path, texts)
    assert "no table was found" not in draft
    assert f'missing = ["{LACKS}"]' in draft
    documents = gathered(tmp_path, texts, draft)
    assert [document["link"]["label"] for document in documents] == ["D-1", "D-2", "D-3", "D-4"]
    for document, one in zip(documents, LINKS, strict=False):
        assert curves(document) == written(one, *RAW)
        lengths = document["results"]["scalars"]
        assert [float(of["length_m"]) for of in lengths] == [one.metres] * 4
    crossed = documents[-1]
    assert crossed["stated"]["overall"]["verdict"] == "fail"
    assert "scalars" not in crossed["results"]
    pins = [far for _, far in crossed["results"]["wire_map"]["pins"]]
    assert pins == ["3", "6", "1", "4", "5", "2", "7", None]


def sheet(one: Link) -> str:
    """A file a test, with a row a pair; that of a broken pair ends there."""
    whole = one is not CROSSED
    lines = [f"Circuit;{one.label}", "Limit;Cat 6A PL", f"Outcome;{'PASS' if whole else 'FAIL'}"]
    lines += ["", "By pair", "Pair;Length (m);Delay (ns);Loop resistance (ohm)"]
    metres = [one.metres if whole else 8.5, *[one.metres] * 3]
    for pair, of in zip(PAIRS, metres, strict=True):
        ohms = f"{of / 8:.1f}" if whole else LACKS
        lines.append(f"Pair {pair.replace('-', '')};{of:.1f};{of * 4.8:.0f};{ohms}")
    lines.append(f"Outcome;{'PASS' if whole else 'FAIL'};PASS;{'PASS' if whole else LACKS}")
    if whole:
        lines += ["", "Curves", *export(one).splitlines()[-len(KHZ) - 1 :]]
    return "\n".join([*lines, ""])


def test_a_file_that_ends_with_a_row_a_pair_is_not_turned(tmp_path: Path) -> None:
    """Alone, its first column looks like one of titles."""
    links = [*LINKS[:2], CROSSED]
    texts = {f"{one.label}.csv": sheet(one) for one in links}
    assert "\ntransposed = " in drafted(tmp_path, {"D-4.csv": texts["D-4.csv"]})
    draft = drafted(tmp_path, texts)
    assert "COULD NOT TELL: what these files hold" not in draft
    documents = gathered(tmp_path, texts, draft)
    assert [document["link"]["label"] for document in documents] == ["D-1", "D-2", "D-4"]
    for document, one in zip(documents, links[:2], strict=False):
        assert curves(document) == written(one, *RAW)
    lengths = [of for of in documents[-1]["results"]["scalars"] if of["parameter"] == "length"]
    assert [float(of["length_m"]) for of in lengths] == [8.5, 0.0, 0.0, 0.0]
