"""Drafts of exports that judge each parameter in the row of its worst margin.

The verdict is that of the parameter, and only the margin is of a pair and an end.
"""

from pathlib import Path
from typing import Any

import pytest

from .drafting import curves, draft_of, read, written
from .links import KHZ, WORDS, Link, link, shifted
from .test_tables_joined import drafted, gathered

RAW = ("insertion_loss", "return_loss", "next")
WORST = (
    ("insertion_loss", None, ("3-6",), "3.1", 4000, "Good"),
    ("return_loss", "near", ("4-5",), "0.4", 100000, "Good"),
    ("next", "far", ("1-2", "7-8"), "-0.2", 250000, "Bad"),
)
"""Parameter, end, pairs, margin in dB, kHz, verdict; of no calculation, for the reading alone."""
SIDES = {None: "", "near": "local", "far": "remote"}
MEANT = {"Good": "pass", "Bad": "fail"}


def stated(document: dict[str, Any]) -> tuple[dict[str, str], set[tuple[object, ...]]]:
    """Verdicts of whole parameters, and margins with what they are of."""
    items = document["stated"]["items"]
    verdicts = {
        of["parameter"]: of["verdict"] for of in items if "verdict" in of and "pairs" not in of
    }
    assert len(verdicts) == sum("verdict" in of for of in items)
    margins: set[tuple[object, ...]] = {
        (of["parameter"], of.get("end"), tuple(of["pairs"]), float(of["worst_margin"]["margin_db"]))
        for of in items
        if "worst_margin" in of
    }
    return verdicts, margins


WANTED: tuple[dict[str, str], set[tuple[object, ...]]] = (
    {parameter: MEANT[word] for parameter, *_, word in WORST},
    {(name, end, pairs, float(margin)) for name, end, pairs, margin, *_ in WORST},
)


def sheet(one: Link, apart: bool) -> str:
    """A text file a test, a row for the worst margin of each parameter; pairs in one column or
    two."""
    lines = [f"Circuit;{one.label}", "Norm;Cat 6A PL", "Measured;2026-03-04 14:22", ""]
    told = "Disturbed pair;Disturbing pair" if apart else "Pairs"
    lines.append(f"Quantity;Verdict;Margin (dB);{told};Side;Frequency (kHz)")
    for parameter, end, pairs, margin, khz, word in WORST:
        on = ";".join([*pairs, ""][:2]) if apart else "/".join(pairs)
        lines.append(f"{WORDS[parameter]};{word};{margin};{on};{SIDES[end]};{khz}")
    some = {key: values for key, values in one.curves.items() if key[0] in RAW}
    titles = [f"{WORDS[of]} {'/'.join(on)} {SIDES[end]}".strip() for of, end, on in some]
    lines += ["", ";".join(["kHz", *titles])]
    for at, khz in enumerate(KHZ):
        lines.append(";".join([str(khz), *(shifted(of[at], 2) for of in some.values())]))
    return "\n".join([*lines, ""])


@pytest.mark.parametrize("tests", [1, 3])
@pytest.mark.parametrize("apart", [False, True], ids=["one column", "two columns"])
def test_a_row_of_a_text_file(apart: bool, tests: int, tmp_path: Path) -> None:
    links = [link(f"W-{number}", 20.0 + 9 * number) for number in range(tests)]
    texts = {f"{one.label}.csv": sheet(one, apart) for one in links}
    draft = drafted(tmp_path, texts).replace('"TO-BE-SETTLED"', '"disturbed"')
    assert ('worst_margin.pairs = "Pairs"\nworst_margin.end = "Side"' in draft) is not apart
    documents = gathered(tmp_path, texts, draft)
    for one, document in zip(links, documents, strict=True):
        assert curves(document) == written(one, *RAW)
        assert stated(document) == WANTED


def test_several_tests_a_file_of_which_one_broke_off(tmp_path: Path) -> None:
    """In its file the tables come less often than the tests, which the other file tells apart."""
    links = [link(f"W-{number}", 20.0 + 9 * number) for number in range(6)]
    sheets = [sheet(one, apart=False) for one in links]
    sheets[4] = sheets[4].partition("\n\n")[0] + "\n"
    texts = {f"{at}.csv": "\n".join(["Umbel 9", *sheets[at : at + 3]]) for at in (0, 3)}
    draft = drafted(tmp_path, texts)
    assert 'worst_margin.pairs = "Pairs"\nworst_margin.end = "Side"' in draft
    documents = gathered(tmp_path, texts, draft)
    told = [of for of in documents if of.get("stated", {}).get("items")]
    assert len(told) == len(links) - 1
    assert all(stated(of) == WANTED for of in told)


def marked_up(links: list[Link], worst: bool) -> str:
    """An element a parameter with its worst margin, or one a curve with the margin of that."""
    lines = ["<log>"]
    for one in links:
        lines.append(f'<run circuit="{one.label}" norm="TIA-568.2-D Cat 6A PL">')
        rows = [*WORST]
        if not worst:
            some = [key for key in one.curves if key[0] in RAW]
            rows = [(of, end, on, "2.5", 4000, "Good") for of, end, on in some]
        for parameter, end, pairs, margin, khz, word in rows:
            side = f' side="{SIDES[end]}"' if end else ""
            lines.append(
                f'<margin quantity="{WORDS[parameter]}" verdict="{word}" '
                f'pairs="{"/".join(pairs)}"{side} frequencyKHz="{khz}" dB="{margin}"/>'
            )
        for (parameter, end, pairs), values in one.curves.items():
            if parameter in RAW:
                side = f' side="{SIDES[end]}"' if end else ""
                on = "/".join(pairs)
                lines.append(f'<trace quantity="{WORDS[parameter]}" pairs="{on}"{side}>')
                dots = zip(KHZ, values, strict=True)
                lines += [f'<dot khz="{khz}" dB="{shifted(db, 2)}"/>' for khz, db in dots]
                lines.append("</trace>")
        lines.append("</run>")
    return "\n".join([*lines, "</log>\n"])


def test_an_element_of_xml(tmp_path: Path) -> None:
    links = [link("X-1", 35.0), link("X-2", 71.0)]
    draft = draft_of(tmp_path, marked_up(links, worst=True), "export.xml")
    records, problems = read(tmp_path / "export.xml", draft)
    assert problems == []
    for one, record in zip(links, records, strict=True):
        assert curves(record.document) == written(one, *RAW)
        assert stated(record.document) == WANTED


def test_a_verdict_on_each_curve_is_of_the_curve(tmp_path: Path) -> None:
    one = link("X-1", 35.0)
    draft = draft_of(tmp_path, marked_up([one], worst=False), "export.xml")
    (record,), problems = read(tmp_path / "export.xml", draft)
    assert problems == []
    items = record.document["stated"]["items"]
    judged = {(of["parameter"], of.get("end"), tuple(of["pairs"])) for of in items}
    assert judged == set(written(one, *RAW))
    assert {of["verdict"] for of in items} == {"pass"}
