"""Drafts of tables with a column of frequencies for each curve, and with verdicts below them."""

from pathlib import Path

import pytest

from .drafting import curves, draft_of, read, written
from .links import KHZ, PAIRS, Link, link, shifted

HEAD = (
    "Thrale 3\nLink;B-07\nLimit;Cat 6A PL TIA 568.2-D\nTested on;28.02.2026 17:05\nOutcome;FAIL\n"
)
DIGITS = {pair: pair.replace("-", "") for pair in PAIRS}
SIDES = {"near": "end 1", "far": "end 2"}


def table(one: Link, titles: tuple[str, str], verdicts: str = "") -> str:
    """Frequencies in kHz beside each curve; titles with {} for its number or its name."""
    names = []
    some = {
        key: of for key, of in one.curves.items() if key[0] in ("insertion_loss", "return_loss")
    }
    for number, (parameter, end, pairs) in enumerate(some, 1):
        word = {"insertion_loss": "IL", "return_loss": "RL"}[parameter]
        name = " ".join(filter(None, [word, DIGITS[pairs[0]], SIDES.get(end or "", "")]))
        names += [of.format(n=number, name=name) for of in titles]
    rows = [
        ";".join(f"{khz};{shifted(of[at], 2, ',')}" for of in some.values())
        for at, khz in enumerate(KHZ)
    ]
    return HEAD + "\n".join([";".join(names), *rows, verdicts])


@pytest.mark.parametrize(
    ("titles", "frequency"),
    [
        (("f{n} (kHz)", "{name}"), '"f{number} (kHz)"'),
        (("kHz", "{name}"), '"kHz"'),
        (
            ("{name} kHz", "{name} dB"),
            '["{parameter} {pairs} kHz", "{parameter} {pairs} {end} kHz"]',
        ),
    ],
)
def test_every_curve_gets_the_frequencies_beside_it(
    titles: tuple[str, str], frequency: str, tmp_path: Path
) -> None:
    one = link("B-07", 60.0)
    text = table(one, titles, f"Verdict;PASS;{';'.join([';FAIL'] * 11)}\n")
    draft = draft_of(tmp_path, text)
    assert f"\nfrequency = {frequency}\n" in draft
    assert '\nfigures = { verdict = "Verdict" }\n' in draft
    (record,), problems = read(tmp_path / "export.csv", draft)
    assert problems == []
    assert curves(record.document) == written(one, "insertion_loss", "return_loss")
    verdicts = [of["verdict"] for of in record.document["stated"]["items"]]
    assert verdicts == ["pass", *["fail"] * 11]


def test_verdicts_in_a_row_that_nothing_names(tmp_path: Path) -> None:
    one = link("B-07", 60.0)
    text = table(one, ("f{n}", "{name}"), f";PASS;{';'.join([';FAIL'] * 11)}\n")
    draft = draft_of(tmp_path, text)
    assert '\nfigures = { verdict = "" }\n' in draft
    (record,), problems = read(tmp_path / "export.csv", draft)
    assert problems == []
    verdicts = [of["verdict"] for of in record.document["stated"]["items"]]
    assert verdicts == ["pass", *["fail"] * 11]


def test_two_columns_of_one_axis_are_not_axes_of_curves(tmp_path: Path) -> None:
    """Of frequencies in two units side by side the first counts, as ever."""
    lines = ["Hz;kHz;IL 12;IL 36;IL 45;IL 78"]
    one = link("B-07", 60.0)
    some = [one.curves["insertion_loss", None, (pair,)] for pair in PAIRS]
    lines += [
        ";".join([f"{khz}000", str(khz), *(shifted(of[at], 2, ",") for of in some)])
        for at, khz in enumerate(KHZ)
    ]
    draft = draft_of(tmp_path, HEAD + "\n".join([*lines, ""]))
    assert '\nfrequency = "Hz"\n' in draft


FIGURES = """Figures
Pair;Length m;Resistance ohm
12;60,0;9,31
36;60,2;9,38
45;60,4;9,40
78;60,9;9,52
Limit;90,0;25,0
Judged;PASS;FAIL
"""


def test_rows_below_tables_of_figures_and_of_curves(tmp_path: Path) -> None:
    one = link("B-07", 60.0)
    lines = [f"Insertion loss\nkHz;{';'.join(DIGITS.values())}"]
    some = [one.curves["insertion_loss", None, (pair,)] for pair in PAIRS]
    lines += [
        ";".join([str(khz), *(shifted(of[at], 2, ",") for of in some)])
        for at, khz in enumerate(KHZ)
    ]
    lines += ["Judged;PASS;PASS;FAIL;PASS", "Margin;1,2;1,3;-0,4;1,1", "at kHz;9000;9000;9000;9000"]
    draft = draft_of(tmp_path, HEAD + FIGURES + "\n".join([*lines, ""]))
    (record,), problems = read(tmp_path / "export.csv", draft)
    assert problems == []
    assert curves(record.document) == written(one, "insertion_loss")
    items = record.document["stated"]["items"]
    told = [(of["parameter"], *of.get("pairs", []), of["verdict"]) for of in items]
    assert told == [
        ("length", "pass"),
        ("dc_loop_resistance", "fail"),
        *(("insertion_loss", pair, "fail" if pair == "4-5" else "pass") for pair in PAIRS),
    ]
    margins = [of["worst_margin"]["margin_db"] for of in items if "worst_margin" in of]
    assert margins == [1.2, 1.3, -0.4, 1.1]
    assert len(record.document["results"]["scalars"]) == 8
    assert record.document["extra"] == {"Limit": "90,0 25,0"}
