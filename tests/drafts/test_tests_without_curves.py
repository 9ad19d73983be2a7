"""One file of many tests, of which some have no curves, as where wires were found crossed."""

from pathlib import Path

import pytest

from .drafting import curves, draft_of, read, written
from .links import KHZ, WORDS, Link, link, shifted

RAW = ("insertion_loss", "return_loss", "next")
SIDES = {None: "", "near": ", main unit", "far": ", other unit"}
LINKS = [link(f"W-{number}", 20.0 + 9 * number) for number in range(1, 6)]
WIRES = {False: "1 2 3 4 5 6 7 8", True: "1 2 3 6 5 4 7 8"}


def swept(one: Link) -> list[str]:
    """A table for each parameter and end, a column a curve."""
    lines: list[str] = []
    for parameter, end in dict.fromkeys((parameter, end) for parameter, end, _ in one.curves):
        if parameter not in RAW:
            continue
        some = {pairs: of for (p, e, pairs), of in one.curves.items() if (p, e) == (parameter, end)}
        lines += ["", f"[Curves: {WORDS[parameter]}{SIDES[end]}]"]
        lines.append(";".join(["Frequency (kHz)", *("/".join(pairs) for pairs in some)]))
        for at, khz in enumerate(KHZ):
            values = (shifted(of[at], 2) for of in some.values())
            lines.append(";".join([str(khz), *values]))
    return lines


def export(first_line: str, crossed: set[str]) -> str:
    """All tests, one after another; those that are crossed end behind their wires."""
    lines = ["Tarn 4 book of tests", "Building;North mill", "Unit main;TR-12", ""]
    for number, one in enumerate(LINKS, 1):
        bad = one.label in crossed
        lines += [first_line.format(number), f"Link;{one.label}", "Tested by;M. Alder"]
        lines += [f"Tested on;2026-03-04 14:{number + 10}:00", "Limit;TIA-568.2-D Cat 6A PL"]
        lines += [f"Result;{'FAIL' if bad else 'PASS'}", "", "[Wires]"]
        lines += ["Main;1;2;3;4;5;6;7;8", "Other;" + WIRES[bad].replace(" ", ";")]
        lines += [f"Outcome;{'FAIL' if bad else 'PASS'}", ""]
        lines += ["[Measured]", "What;1-2;3-6;4-5;7-8"]
        lines.append(f"Length (m);{';'.join([str(one.metres)] * 4)}")
        lines += ["", "[Worst]", "Kind;On pair;Margin (dB);At (kHz)"]
        lines += ["Not swept"] if bad else ["Attenuation;4-5;3.1;62500", "Attenuation;1-2;4.0;4000"]
        lines += [] if bad else swept(one)
        lines.append("")
    return "\n".join(lines)


@pytest.mark.parametrize("first_line", ["[Run {:03}/12]", "Run {}", "== Run no {} ==", "Run;{}"])
@pytest.mark.parametrize("crossed", [set(), {"W-2"}, {"W-1", "W-4"}, {"W-5"}])
def test_each_of_them_is_a_test(first_line: str, crossed: set[str], tmp_path: Path) -> None:
    draft = draft_of(tmp_path, export(first_line, crossed))
    assert "Run" in draft.partition("first_line = ")[2].partition("\n")[0]
    assert draft.count("Run") < 5
    assert "Kind" not in draft.partition("no field for these keys")[2].partition("[fields]")[0]
    records, problems = read(tmp_path / "export.csv", draft)
    assert problems == []
    assert [record.label for record in records] == [one.label for one in LINKS]
    for one, record in zip(LINKS, records, strict=True):
        bad = one.label in crossed
        if bad:
            assert "sweeps" not in record.document["results"]
        else:
            assert curves(record.document) == written(one, *RAW)
        assert record.document["stated"]["overall"]["verdict"] == ("fail" if bad else "pass")
        assert record.document["test"]["operator"] == "M. Alder"
