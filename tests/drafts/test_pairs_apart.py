"""Drafts of worst margins whose two pairs stand in two keys, and whose end stands in a third."""

from pathlib import Path
from typing import Any

import pytest

from .drafting import draft_of, edited, read
from .links import KHZ, blocks, link, shifted
from .test_tables_joined import drafted, gathered

SAID = """\
Return loss worst margin (dB)\t4.1
Return loss measured at\tside B
Return loss pair\tgreen
NEXT worst margin (dB)\t2.5
NEXT measured at\tside A
NEXT pair\torange
NEXT disturbing pair\tblue
ACR-F worst margin (dB)\t-
ACR-F measured at\t-
ACR-F pair\t-
ACR-F disturbing pair\t-
"""


@pytest.mark.parametrize("lacking", ["-", "not tested"])
def test_both_pairs_and_the_end_are_found(lacking: str, tmp_path: Path) -> None:
    text = blocks([link("L-1", 35.5)])
    text = text.replace("Pairs\n", SAID.replace("\t-", f"\t{lacking}") + "Pairs\n", 1)
    draft = draft_of(tmp_path, text)
    assert 'worst_margin.second_pair = "{parameter} disturbing pair"' in draft
    assert "no field for these keys" not in draft
    chosen = edited(draft, ('first = "TO-BE-SETTLED"', 'first = "disturbed"'))
    (record,), problems = read(tmp_path / "export.csv", chosen)
    assert problems == []
    items = [one for one in record.document["stated"]["items"] if "worst_margin" in one]
    assert [(one["parameter"], one["end"], one["pairs"]) for one in items] == [
        ("return_loss", "far", ["3-6"]),
        ("next", "near", ["4-5", "1-2"]),
    ]


@pytest.mark.parametrize(
    ("first", "second", "pairs"),
    [
        ("pair", "disturbing pair", ["4-5", "1-2"]),
        ("disturbed pair", "disturbing pair", ["4-5", "1-2"]),
        ("disturbing pair", "disturbed pair", ["1-2", "4-5"]),
    ],
)
def test_the_words_of_the_keys_tell_which_pair_disturbs(
    first: str, second: str, pairs: list[str], tmp_path: Path
) -> None:
    """In the names of the curves an arrow leads from the disturbing pair on."""
    said = f"""\
ACR-F worst margin (dB)\t2.5
ACR-F measured at\tside A
ACR-F {first}\torange
ACR-F {second}\tblue
"""
    text = blocks([link("L-1", 35.5)]).replace("NEXT", "ACR-F").replace("/", "->")
    draft = draft_of(tmp_path, text.replace("Pairs\n", f"{said}Pairs\n", 1))
    assert 'first = "disturbing"' in draft
    (record,), problems = read(tmp_path / "export.csv", draft)
    assert problems == []
    (item,) = [one for one in record.document["stated"]["items"] if "worst_margin" in one]
    assert (item["parameter"], item["end"], item["pairs"]) == ("acr_f", "near", pairs)


def test_an_only_pair_that_is_called_as_a_second_one_is_taken_by_that_name(tmp_path: Path) -> None:
    """The pair of return loss is called as the second one of ACR-F is."""
    text = blocks([link("L-1", 35.5)]).replace("/", "->").replace("NEXT", "ACR-F")
    said = SAID.replace("NEXT", "ACR-F").partition("ACR-F worst margin (dB)\t-")[0]
    draft = draft_of(tmp_path, text.replace("Pairs\n", f"{said}Pairs\n", 1))
    assert '\nworst_margin.second_pair = "{parameter} pair"\n' in draft
    (record,), problems = read(tmp_path / "export.csv", draft)
    assert problems == []
    items = [one for one in record.document["stated"]["items"] if "worst_margin" in one]
    assert [(one["parameter"], one["end"], one["pairs"]) for one in items] == [
        ("return_loss", "far", ["3-6"]),
        ("acr_f", "near", ["4-5", "1-2"]),
    ]


def test_pairs_called_by_numbers_are_no_worst_values(tmp_path: Path) -> None:
    """Of a row a test, with margins and their frequencies; `null` stands for what is not there."""
    draft = drafted(tmp_path, _files("null"))
    assert "worst_value" not in draft
    documents = gathered(tmp_path, _files("null"), draft.replace('"TO-BE-SETTLED"', '"disturbing"'))
    assert [_stated(of) for of in documents] == [MARGINS] * 2
    for document in documents:
        assert document["link"]["near"]["place"]["site"] == "Kiln Row"
        skews = [of for of in document["results"]["scalars"] if of["parameter"] == "delay_skew"]
        assert [of["delay_ns"] for of in skews] == [3.5]


MARGINS = [
    ("return_loss", None, ["4-5"], 1.5, 200),
    ("next", "far", ["1-2", "7-8"], 2.25, 40),
    ("acr_f", None, ["3-6", "1-2"], 5.5, 90),
]
"""Parameter, end, pairs of which the first disturbs, dB, MHz: for the reading alone."""
_DIGITS = {"1-2": "12", "3-6": "36", "4-5": "45", "7-8": "78"}
_WORDS = {"return_loss": "rl", "next": "next", "acr_f": "elfext"}


def _stated(document: dict[str, Any]) -> list[tuple[object, ...]]:
    made: list[tuple[object, ...]] = []
    for item in document["stated"]["items"]:
        if worst := item.get("worst_margin"):
            told = (item["parameter"], item.get("end"), item["pairs"])
            made.append((*told, float(worst["margin_db"]), worst["frequency_mhz"]))
    return made


def _files(nothing: str) -> dict[str, str]:
    """Tests with their worst cases, and a row a point for the curves."""
    titles = ["run", "label", "limit", "place.site", "skew_ns"]
    for word in _WORDS.values():
        titles += [f"{word}.worst_{of}" for of in ("margin_db", "mhz", "side", "pair")]
        titles += [f"{word}.worst_aggressor"] * (word != "rl")
    heads, points = [titles], [["run", "what", "side", "aggressor", "pair", "mhz", "db"]]
    for run, one in enumerate((link("K-1", 31.0), link("K-2", 64.5)), 300):
        head = [f"r{run}", one.label, "TIA-568.2-D Cat 6A PL", "Kiln Row", "3.5"]
        for _, end, pairs, db, mhz in MARGINS:
            side = {None: nothing, "near": "this", "far": "other"}[end]
            head += [str(db), str(mhz), side, *(_DIGITS[pair] for pair in pairs[::-1])]
        heads.append(head)
        for (parameter, end, of), values in one.curves.items():
            if parameter in _WORDS:
                names = ["", *of][-2:] if len(of) == 1 else [*of]
                side = {None: nothing, "near": "this", "far": "other"}[end]
                told = [f"r{run}", _WORDS[parameter], side]
                told += [_DIGITS.get(name, nothing) for name in names]
                points += [
                    [*told, shifted(khz, 3), shifted(value, 2)]
                    for khz, value in zip(KHZ, values, strict=True)
                ]
    texts = {"heads.csv": heads, "points.csv": points}
    return {name: "".join(f"{','.join(row)}\n" for row in rows) for name, rows in texts.items()}
