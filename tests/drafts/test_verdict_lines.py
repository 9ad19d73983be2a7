"""Lines with verdicts among the curves: none is lost to another purpose in a draft."""

from pathlib import Path

from .drafting import curves, draft_of, edited, read, written
from .links import KHZ, PAIRS, Link, link, shifted, wide

NEXT = ("insertion_loss", "return_loss", "next")


def _below_curves(one: Link, verdict: str) -> str:
    """A verdict for each curve below its column, and figures with a column a pair."""
    lines = wide(one, *NEXT).replace("PASS", verdict).splitlines()
    titles = next(at for at, line in enumerate(lines) if line.startswith("Frequency"))
    count = lines[titles].count(";")
    figures = ["", "Pair;" + ";".join(pair.replace("-", "") for pair in PAIRS)]
    figures += ["Length [m]" + f";{shifted(round(one.metres * 10), 1, ',')}" * 4]
    figures += ["Delay [ns];250;251;252;253"]
    above = [line for line in lines[: titles - 1] if not line.startswith("Length")]
    above += ["Wire map;1-1 2-2 3-3 4-4 5-5 6-6 7-7 8-8", f"Wiring;{verdict}"]
    below = f"Outcome{f';{verdict}' * count}"
    return "\n".join([*above, *figures, "", *lines[titles:], below]) + "\n"


def test_a_row_of_verdicts_is_no_row_of_points(tmp_path: Path) -> None:
    one = link("007", 52.4)
    draft = draft_of(tmp_path, _below_curves(one, "passed"))
    assert 'figures = { verdict = "Outcome" }' in draft
    assert "missing = " not in draft
    (record,), problems = read(tmp_path / "export.csv", draft)
    assert problems == []
    stated = [of.get("verdict") for of in record.document["stated"]["items"]]
    assert stated == ["pass"] * len(written(one, *NEXT))
    assert record.document["stated"]["overall"]["verdict"] == "pass"
    assert curves(record.document) == written(one, *NEXT)


def test_figures_with_a_column_a_pair_are_of_each_pair(tmp_path: Path) -> None:
    one = link("007", 52.4)
    draft = draft_of(tmp_path, _below_curves(one, "passed"))
    assert 'heading = "Wiring;passed"' not in draft
    (record,), _ = read(tmp_path / "export.csv", draft)
    scalars = record.document["results"]["scalars"]
    lengths = {tuple(e["pairs"]): e["length_m"] for e in scalars if "length_m" in e}
    delays = [e["delay_ns"] for e in scalars if "delay_ns" in e]
    assert lengths == {(pair,): one.metres for pair in PAIRS}
    assert delays == [250, 251, 252, 253]


def _of_keys(one: Link) -> str:
    """A heading for each curve, and a verdict behind its points; figures are bare keys."""
    lines = ["Sorrel list", f"Link: {one.label}", "Limit: TIA-568.2-D Cat 6A PL", "Outcome: PASS"]
    lines += ["Wire map: PASS", f"Length: {one.metres} m"]
    for (parameter, end, pairs), values in one.curves.items():
        if parameter == "insertion_loss" and end is None:
            lines += ["", f"== Insertion loss / pair {pairs[0]} ==", "Frequency (MHz)\tValue (dB)"]
            points = zip(KHZ, values, strict=True)
            lines += [f"{shifted(khz, 3)}\t{shifted(value, 2)}" for khz, value in points]
            lines.append("Evaluation: PASS")
    return "\n".join(lines) + "\n"


def test_a_line_with_a_verdict_is_never_skipped(tmp_path: Path) -> None:
    one = link("007", 52.4)
    draft = draft_of(tmp_path, _of_keys(one))
    assert "skip = " not in draft
    (record,), problems = read(tmp_path / "export.csv", draft)
    assert problems == []
    assert record.document["stated"]["overall"]["verdict"] == "pass"
    assert curves(record.document) == written(one, "insertion_loss")


def test_a_bare_key_is_a_verdict_or_a_value_by_its_text(tmp_path: Path) -> None:
    draft = draft_of(tmp_path, _of_keys(link("007", 52.4)))
    assert 'verdict = "{parameter}"' in draft
    assert 'value = "{parameter}"' in draft
    (record,), _ = read(tmp_path / "export.csv", draft)
    assert record.document["results"]["scalars"][0]["length_m"] == 52.4
    (item,) = (i for i in record.document["stated"]["items"] if i["parameter"] == "wire_map")
    assert item["verdict"] == "pass"


def test_a_choice_of_a_limit_is_one_edit(tmp_path: Path) -> None:
    text = wide(link("007", 52.4), "insertion_loss").replace("Cat 6A PL TIA 568.2-D", "Cat 6A TIA")
    draft = draft_of(tmp_path, text)
    line = '"tia-568.2-d/cat6a/channel" = "Cat 6A TIA"'
    assert "\n[limits]\n" in draft
    (before,), _ = read(tmp_path / "export.csv", draft)
    assert "path" not in before.document["resolved"]["limit"]
    (after,), _ = read(tmp_path / "export.csv", edited(draft, (f"# {line}", line)))
    assert after.document["resolved"]["limit"]["path"] == "tia-568.2-d/cat6a/channel"
