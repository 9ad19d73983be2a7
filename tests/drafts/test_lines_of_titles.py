"""Drafts for titles in three lines, and for words that only later files hold."""

from pathlib import Path

from tests.program import run

from .drafting import curves, read, written
from .links import KHZ, Link, link, shifted

NAMES = {"insertion_loss": "Attenuation", "return_loss": "Return loss", "next": "NEXT"}
ENDS = {None: "", "near": " side 1", "far": " side 2"}


def _export(one: Link, *, verdict: str, last: str) -> str:
    """Quantity, pair and unit each in a line above the values; a table of pairs; margins below."""
    lines = ["Umbel 12 sheet", f"Circuit;{one.label}", "Norm;Class EA channel", "Outcome;PASS"]
    lines += ["", "Pair;Delay [ns];Loop resistance [ohm]", "1,2;152;6,3", f"3,6;154;{last}", ""]
    columns = {k: v for k, v in one.curves.items() if k[0] in NAMES}
    upper, pairs, before = ["Frequency"], [""], ""
    for parameter, end, some in columns:
        name = f"{NAMES[parameter]}{ENDS[end]}"
        upper.append("" if name == before else name)
        pairs.append("+".join(pair.replace("-", ",") for pair in some))
        before = name
    lines += ["Sweeps", ";".join(upper), ";".join(pairs), "MHz" + ";dB" * len(columns)]
    for at, khz in enumerate(KHZ):
        values = [shifted(of[at], 2, ",") for of in columns.values()]
        lines.append(";".join([shifted(khz, 3, ","), *values]))
    lines += ["", "Worst cases", "Quantity;Side;Pairs;At [MHz];Level [dB];Margin [dB];Result"]
    lines += [f"NEXT;side 1;1,2+3,6;430,00;32,3;1,6;{verdict}", "Return loss;side 2;1,2;5,00;"
              "28,0;3,1;good", "Delay [ns];-;;;183;315;good"]  # fmt: skip
    return "\n".join(lines) + "\n"


def test_three_lines_of_titles_need_no_change(tmp_path: Path) -> None:
    links = [link("A-1", 31.0), link("A-2", 88.5)]
    paths = [tmp_path / f"{one.label}.csv" for one in links]
    for path, one, verdict, last in zip(
        paths, links, ("good", "failed"), ("6,4", "n/a"), strict=True
    ):
        path.write_text(_export(one, verdict=verdict, last=last), encoding="utf-8")
    draft = run("dialect", "draft", *paths).stdout
    assert '\nupper_titles = ["Frequency", ""]\n' in draft
    assert "rows.point" not in draft
    assert "worst_value" not in draft
    for path, one, count in zip(paths, links, (4, 3), strict=True):
        (record,), problems = read(path, draft)
        assert [problem.message for problem in problems] == []
        document = record.document
        assert curves(document) == written(one, *NAMES)
        assert len([of for of in document["results"]["scalars"] if of.get("pairs")]) == count
        margins = [of["worst_margin"] for of in document["stated"]["items"] if of.get("pairs")]
        stated = [float(of["margin_db"]) for of in margins]
        assert stated == [1.6, 3.1]
