"""Words that an export spells in several ways: in columns, in headings, in another of its tests."""

from pathlib import Path

import pytest

from tests.program import run

from .drafting import curves, draft_of, read, written
from .links import KHZ, Link, link, shifted

SWEPT = ("insertion_loss", "return_loss", "next")
WORDS = {"insertion_loss": "Insertion Loss", "return_loss": "Return Loss", "next": "NEXT"}
SIDES = {None: "", "near": "Main Unit", "far": "Remote Unit"}


def report(one: Link, heading: str = "{parameter} - measured at {end}", upper: bool = True) -> str:
    """Worst cases by words in columns, and below headings the curves of the same words.

    Args:
        one: the link.
        heading: of the curves of an end.
        upper: whether headings stand in capitals.
    """
    lines = ["Tern 4 report", f"Link ID,{one.label}", "Limit,TIA-568.2-D Cat 6A PL", "Result,PASS"]
    lines += ["", "WORST", "Quantity,Pair,Taken at,Margin (dB),Frequency (MHz),Verdict"]
    lines += ["Return Loss,45,Main Unit,2.6,375.00,PASS", "NEXT,12/78,Remote Unit,3.1,210.00,PASS"]
    for parameter in SWEPT:
        for end, side in SIDES.items():
            some = {key[2]: of for key, of in one.curves.items() if key[:2] == (parameter, end)}
            if not some:
                continue
            text = heading if end else "{parameter}"
            text = text.replace("{parameter}", WORDS[parameter]).replace("{end}", side)
            titles = ["/".join(pair.replace("-", "") for pair in pairs) for pairs in some]
            lines += ["", text.upper() if upper else text, ",".join(["Frequency (MHz)", *titles])]
            for at, khz in enumerate(KHZ):
                cells = [shifted(of[at], 2) for of in some.values()]
                lines.append(",".join([shifted(khz, 3), *cells]))
    return "\n".join([*lines, ""])


def test_headings_in_capitals_beside_columns_that_are_not_need_no_change(tmp_path: Path) -> None:
    one = link("T-1", 31.0)
    draft = draft_of(tmp_path, report(one))
    (record,), problems = read(tmp_path / "export.csv", draft)
    assert problems == []
    assert curves(record.document) == written(one, *SWEPT)
    ends = [of["worst_margin"] for of in record.document["stated"]["items"] if of.get("pairs")]
    assert len(ends) == 2
    assert {of.get("end") for of in record.document["stated"]["items"]} >= {"near", "far"}


def test_another_test_that_spells_a_heading_otherwise_is_read(tmp_path: Path) -> None:
    links = [link("T-1", 31.0), link("T-2", 44.0)]
    for number, one in enumerate(links):
        (tmp_path / f"{number}.csv").write_text(report(one, upper=not number), encoding="utf-8")
    paths = [tmp_path / "0.csv", tmp_path / "1.csv"]
    draft = run("dialect", "draft", *paths).stdout
    for path, one in zip(paths, links, strict=True):
        (record,), problems = read(path, draft)
        assert problems == []
        assert curves(record.document) == written(one, *SWEPT)


def test_a_heading_of_a_measured_parameter_is_no_limit_beside_it(tmp_path: Path) -> None:
    one = link("T-1", 31.0)
    text = report(one).replace("\nINSERTION LOSS\n", "\nMEASURED INSERTION LOSS\n")
    draft = draft_of(tmp_path, text)
    (record,), problems = read(tmp_path / "export.csv", draft)
    assert problems == []
    assert curves(record.document) == written(one, *SWEPT)


@pytest.mark.parametrize("known", [True, False])
def test_the_head_of_a_draft_tells_how_many_curves_it_does_not_read(
    known: bool, tmp_path: Path
) -> None:
    """Of crosstalk that names one pair nobody can tell which curve it is."""
    text = report(link("T-1", 31.0))
    if not known:
        text = text.replace(",12/36,12/45,12/78,36/45,36/78,45/78", ",12,36,45,78,A,B")
    draft = draft_of(tmp_path, text)
    head = " ".join(line.removeprefix("# ") for line in draft.partition("\n\n")[0].splitlines())
    told = "12 of the 24 curves that were looked at are NOT READ by it as it stands"
    assert (told in head) is not known
    assert ("NOT READ" in head) is not known
    (record,), _ = read(tmp_path / "export.csv", draft)
    found = curves(record.document)
    assert found == written(one := link("T-1", 31.0), *(SWEPT if known else SWEPT[:2])), one.label


def test_a_draft_without_any_curve_says_so_at_its_head(tmp_path: Path) -> None:
    pairs = ("12", "36", "45", "78")
    lengths = "".join(f"{pair},31.0,152\n" for pair in pairs)
    loops = "".join(f"{pair},5.1\n" for pair in pairs)
    text = f"Kelp 3\nLink ID,T-1\n\nFACTS\nPair,Length (m),Delay (ns)\n{lengths}"
    draft = draft_of(tmp_path, f"{text}\nOTHERS\nPair,Loop resistance (ohm)\n{loops}")
    assert "# NO CURVE is read by it as it stands" in draft.partition("\n\n")[0]
