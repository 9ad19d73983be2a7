"""Drafts of a file a parameter, told by its name alone, with a row a curve of all tests.

Heads and worst cases stand in files beside them. The power sums are worked out here from the
curves between two pairs, by the sum of powers (vocabulary).
"""

import math
from pathlib import Path

import pytest

from .links import KHZ, PAIRS, Key, Link, link, shifted
from .test_tables_joined import drafted, gathered, stated

WORDS = {
    "insertion_loss": "Attenuation",
    "return_loss": "Return loss",
    "next": "NEXT",
    "psnext": "NEXT together",
    "acr_f": "ACR-F",
    "psacr_f": "ACR-F together",
}
ENDS = {None: "-", "near": "ZU", "far": "AB"}
"""No trade knows these words; the second by the alphabet is the near one."""
CASES = (
    ("insertion_loss", None, ("3-6",), 2.9, 4_700),
    ("psnext", "far", ("4-5",), -0.3, 250_000),
)
"""Parameter, end, pairs, margin in dB, kHz; of no calculation, for the reading alone."""
SUMS = {"psnext": "next", "psacr_f": "acr_f"}


def _sum(one: Link, parameter: str, end: str, pair: str) -> list[int]:
    at = 1 if parameter == "psacr_f" else None
    parts = [
        values
        for (of, side, pairs), values in one.curves.items()
        if (of, side) == (SUMS[parameter], end) and pair in (pairs if at is None else pairs[at:])
    ]
    assert len(parts) == len(PAIRS) - 1
    powers = (sum(10.0 ** (-value / 1000) for value in row) for row in zip(*parts, strict=True))
    return [round(-1000 * math.log10(power)) for power in powers]


def measured(one: Link) -> dict[Key, list[int]]:
    """The curves that the files hold: far-end crosstalk is received at the far end alone."""
    found = {
        key: values
        for key, values in one.curves.items()
        if key[0] in WORDS and (key[0], key[1]) != ("acr_f", "near")
    }
    for pair in PAIRS:
        for parameter, ends in (("psnext", ("near", "far")), ("psacr_f", ("far",))):
            for end in ends:
                found[parameter, end, (pair,)] = _sum(one, parameter, end, pair)
    return found


def _pairs(pairs: tuple[str, ...]) -> str:
    return ">".join(of.replace("-", "") for of in pairs)


LINKS = [link("D-1", 31.0), link("D-2", 88.5), link("D-3", 12.0)]


def files(links: list[Link], form: str) -> dict[str, str]:
    """By their names; {} is what the word of the parameter stands for."""
    found = {}
    for parameter, word in WORDS.items():
        last = -2 if parameter == "insertion_loss" else None
        lines = [
            ";".join(["Job no", "Lead", "Unit", *(shifted(khz, 3, ",") for khz in KHZ[:last])])
        ]
        for nr, one in enumerate(links, 611):
            for (of, end, pairs), values in measured(one).items():
                if of == parameter:
                    cells = [str(nr), _pairs(pairs), ENDS[end]]
                    cells += [shifted(value, 2, ",") for value in values[:last]]
                    lines.append(";".join(cells))
        found[form.replace("{}", word)] = "\n".join([*lines, ""])
    heads = ["Job no;Circuit;Norm;Tested on;Outcome;Length 12 [m]"]
    worst = ["Job no;Quantity;Lead;Unit;Margin [dB];at [MHz]"]
    for nr, one in enumerate(links, 611):
        metres = f"{one.metres:.1f}".replace(".", ",")
        told = f"{one.label};TIA-568.2-D Cat 6A PL;2026-03-04 14:{nr - 600}:00;PASS;{metres}"
        heads.append(f"{nr};{told}")
        for parameter, end, pairs, margin, khz in CASES:
            told = f"{nr};{WORDS[parameter]};{_pairs(pairs)};{ENDS[end]}"
            worst.append(f"{told};{margin};{khz / 1000}".replace(".", ","))
    return found | {"heads.csv": "\n".join([*heads, ""]), "worst.csv": "\n".join([*worst, ""])}


def write(folder: Path, texts: dict[str, str]) -> None:
    for name in texts:
        (folder / name).parent.mkdir(exist_ok=True)


@pytest.mark.parametrize("form", ["sweeps/{}.csv", "{}.csv", "q4 {}.csv"])
def test_all_tests_in_a_file_a_parameter_are_joined(form: str, tmp_path: Path) -> None:
    texts = files(LINKS, form)
    write(tmp_path, texts)
    draft = drafted(tmp_path, texts)
    assert f'\nfile = "{form.replace("{}", "{parameter}")}"\n' in draft
    assert draft.count("\n[[join]]\n") == 2
    assert "nothing here is of them" not in draft
    documents = gathered(tmp_path, texts, draft)
    assert [document["link"]["label"] for document in documents] == ["D-1", "D-2", "D-3"]
    for document, one in zip(documents, LINKS, strict=True):
        assert _values(document) == {
            key: [value / 100 for value in (values[:-2] if key[0] == "insertion_loss" else values)]
            for key, values in measured(one).items()
        }
        assert document["stated"]["overall"]["verdict"] == "pass"
        assert [tuple(of) for of in stated(document)] == [
            (p, end, pairs, margin, khz / 1000) for p, end, pairs, margin, khz in CASES
        ]


def _values(document: dict[str, object]) -> dict[Key, list[float]]:
    """Its curves, those of insertion loss on a shorter axis than the others."""
    results = document["results"]
    assert isinstance(results, dict)
    return {
        (of["parameter"], of.get("end"), tuple(of["pairs"])): [float(v) for v in of["value_db"]]
        for of in results["sweeps"]
    }


def test_files_that_tell_the_link_need_no_table_of_tests(tmp_path: Path) -> None:
    texts = {name: of for name, of in files(LINKS, "{}.csv").items() if name[0].isupper()}
    for nr, one in enumerate(LINKS, 611):
        texts = {name: of.replace(f"\n{nr};", f"\n{one.label};") for name, of in texts.items()}
    texts = {name: of.replace("Job no", "Circuit") for name, of in texts.items()}
    draft = drafted(tmp_path, texts)
    assert '\nlink.label = "Circuit"\n' in draft
    documents = gathered(tmp_path, texts, draft)
    assert [document["link"]["label"] for document in documents] == ["D-1", "D-2", "D-3"]
    for document, one in zip(documents, LINKS, strict=True):
        assert _values(document).keys() == measured(one).keys()


def test_a_power_sum_is_told_by_its_numbers(tmp_path: Path) -> None:
    draft = drafted(tmp_path, files(LINKS, "{}.csv"))
    assert '\npsnext = "NEXT together"\n' in draft
    assert '\npsacr_f = "ACR-F together"\n' in draft


def test_the_worst_of_several_curves_is_no_power_sum(tmp_path: Path) -> None:
    texts = files(LINKS, "{}.csv")
    rows = texts["NEXT together.csv"].splitlines()
    for at, row in enumerate(rows[1:], 1):
        cells = row.split(";")
        less = [f"{float(of.replace(',', '.')) + 2.0:.2f}".replace(".", ",") for of in cells[3:]]
        rows[at] = ";".join([*cells[:3], *less])
    draft = drafted(tmp_path, texts | {"NEXT together.csv": "\n".join([*rows, ""])})
    assert "psnext = " not in draft
    assert "'NEXT together" in draft.partition("go to extra until it is declared")[2]


def test_files_of_two_jobs_are_not_put_together(tmp_path: Path) -> None:
    texts = files(LINKS, "q4_{}.csv")
    other = {name.replace("q4", "q5"): text for name, text in texts.items() if name[0] == "q"}
    assert '"q4_{parameter}.csv"' not in drafted(tmp_path, texts | other)


def test_a_file_that_is_joined_by_nothing_is_named(tmp_path: Path) -> None:
    texts = files(LINKS, "{}.csv") | {"stock.csv": "Article;Held\nlead;14\ncord;9\nplug;220\n"}
    draft = drafted(tmp_path, texts)
    assert '"{parameter}.csv"' in draft
    assert "stock.csv" in draft.partition("[csv]")[0]
