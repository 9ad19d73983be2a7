"""Drafts of one file of parts by a test's number: a ledger in words, figures, points, worst cases.

No number stands in the ledger, and a figure of the whole link stands among those of its pairs.
"""

from pathlib import Path

import pytest

from .drafting import curves, draft_of, written
from .links import KHZ, PAIRS, Link, link, shifted
from .test_tables_joined import drafted, gathered, stated

RAW = ("insertion_loss", "return_loss", "next", "acr_f")
WORDS = {"insertion_loss": "IL", "return_loss": "RL", "next": "NEXT", "acr_f": "ACRF"}
SIDES = {None: "MR", "near": "M", "far": "R"}
LINKS = [link("C-1", 31.0), link("C-2", 88.5), link("C-3", 12.0)]
HANDS = ("M. Quayle", "nil", "R. Teare")
CASES = (
    ("insertion_loss", None, ("3-6",), 2.9, 4_700),
    ("return_loss", "near", ("4-5",), 0.8, 100_000),
    ("next", "far", ("1-2", "7-8"), -0.3, 250_000),
)
"""Parameter, end, pairs, margin in dB, kHz; of no calculation, for the reading alone."""


def _wires(parameter: str, pairs: tuple[str, ...]) -> str:
    return ("->" if parameter == "acr_f" else "/").join(of.replace("-", ",") for of in pairs)


def ledger(links: list[Link]) -> list[str]:
    lines = ["Run;Circuit;Date;Time;Outcome;Operator;Norm"]
    for at, one in enumerate(links, 1):
        told = f"{one.label};0{at}-Mar-2026;02:1{at} PM;PASS;{HANDS[at - 1]}"
        lines.append(f"R{at};{told};TIA-568.2-D Cat 6A PL")
    return lines


def figures(links: list[Link]) -> list[str]:
    lines = ["Run;Wires;Length m;Delay ns;Checked"]
    for at, one in enumerate(links, 1):
        for pair in PAIRS:
            lines.append(f"R{at};{pair.replace('-', ',')};{one.metres:.1f};{at}50.5;yes")
        lines.append(f"R{at};SKEW;--;{at}.4;--")
    return lines


def points(links: list[Link]) -> list[str]:
    lines = ["Run;Quantity;Wires;Side;kHz;dB"]
    for at, one in enumerate(links, 1):
        for (parameter, end, pairs), values in one.curves.items():
            if parameter in RAW:
                told = f"R{at};{WORDS[parameter]};{_wires(parameter, pairs)};{SIDES[end]}"
                lines += [
                    f"{told};{khz};{shifted(value, 2)}"
                    for khz, value in zip(KHZ, values, strict=True)
                ]
    return lines


def worst(links: list[Link]) -> list[str]:
    lines = ["Run;Quantity;Wires;Side;Margin dB;At kHz"]
    for at, _ in enumerate(links, 1):
        for parameter, end, pairs, margin, khz in CASES:
            told = f"R{at};{WORDS[parameter]};{_wires(parameter, pairs)};{SIDES[end]}"
            lines.append(f"{told};{margin};{khz}")
    return lines


def export(*, end: str = "== End of list ==", apart: str = "") -> str:
    """The file; `apart` stands between headings and titles."""
    head = ["Wherry 4 list", "Serial number: 4411-Q", "Building: Ropewalk", "Written at 16:30"]
    lines = [*head, "", "== Ledger ==", *ledger(LINKS), "", "== Lines ==", *figures(LINKS), ""]
    lines += ["== Points ==", *points(LINKS), "", "== Worst ==", *worst(LINKS), ""]
    text = "\n".join([*lines, end, ""])
    return text.replace(" ==\nRun;", f" ==\n{apart}Run;")


@pytest.mark.parametrize(("end", "apart"), [("== End of list ==", ""), ("", "\n")])
def test_a_ledger_in_words_is_joined_by_its_numbers(end: str, apart: str, tmp_path: Path) -> None:
    texts = {"list.txt": export(end=end, apart=apart)}
    draft = drafted(tmp_path, texts)
    assert draft.count("\n[[join]]\n") == 3
    assert '\npart = ["== Ledger ==", "== Lines =="]\n' in draft
    documents = gathered(tmp_path, texts, draft)
    assert [document["link"]["label"] for document in documents] == ["C-1", "C-2", "C-3"]
    wanted = sorted(((p, e, pairs, db, khz / 1000) for p, e, pairs, db, khz in CASES), key=str)
    for at, (document, one) in enumerate(zip(documents, LINKS, strict=True), 1):
        assert curves(document) == written(one, *RAW)
        assert document["stated"]["overall"]["verdict"] == "pass"
        assert document["test"]["started"]["rfc3339"] == f"2026-03-0{at}T14:1{at}:00-00:00"
        assert document["test"].get("operator", "nil") == HANDS[at - 1]
        assert [of for of in stated(document) if of[3] is not None] == wanted


def test_a_figure_of_the_link_stands_among_those_of_its_pairs(tmp_path: Path) -> None:
    texts = {"list.txt": export()}
    draft = drafted(tmp_path, texts)
    assert '\nmissing = ["--"' in draft
    assert '"SKEW"]' not in draft.partition("[numbers]")[2]
    for at, document in enumerate(gathered(tmp_path, texts, draft), 1):
        figures = document["results"]["scalars"]
        told = {(of["parameter"], *of["pairs"]): of for of in figures}
        assert told.keys() == {
            *(("length", pair) for pair in PAIRS),
            *(("propagation_delay", pair) for pair in PAIRS),
            ("delay_skew",),
        }
        for (parameter, *_), of in told.items():
            if parameter == "length":
                assert of["length_m"] == LINKS[at - 1].metres
            else:
                assert of["delay_ns"] == (
                    at + 0.4 if parameter == "delay_skew" else 50.5 + 100 * at
                )


def test_words_below_a_heading_that_tell_no_test_of_other_tables_are_no_ledger(
    tmp_path: Path,
) -> None:
    other = "\n".join(ledger(LINKS)).replace("R1;", "S1;").replace("R2;", "S2;")
    text = export().replace("\n".join(ledger(LINKS)), other)
    assert "[[join]]" not in draft_of(tmp_path, text, "list.txt")


def test_a_time_of_day_above_parts_no_key_from_its_text(tmp_path: Path) -> None:
    draft = draft_of(tmp_path, export(), "list.txt")
    assert '\npreamble.separator = ": "\n' in draft
    assert "Written at 16" not in draft
