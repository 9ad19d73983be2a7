"""Drafts that tell tables of tests, of margins and of curves apart: what is none is never one."""

import json
from pathlib import Path

from tests.program import run

from .drafting import curves, draft_of, read, written
from .links import KHZ, WORDS, Link, link, shifted, wide

RAW = ("insertion_loss", "return_loss", "next")
TITLES = (
    *("Nr", "Circuit", "Tested on", "Clock", "Norm", "By", "Delay 36 ns"),
    *("NEXT local margin dB", "NEXT local margin at kHz", "NEXT local margin pairs", "Outcome"),
)


def _results(links: list[Link]) -> str:
    """A row a test, with the worst margins in columns; the second has none of them."""
    lines = ["Umbel 4 - results", "Job\tHarbour Mill", "\t".join(TITLES)]
    for nr, one in enumerate(links, 41):
        margin = ["3.1", "4700", "36"] if nr != 42 else ["n/t"] * 3
        head = [str(nr), one.label, "28.02.2026", f"17:{nr}:00", "TIA-568.2-D Cat 6A PL"]
        lines.append("\t".join([*head, f"R. Oduya {nr % 2}", "152", *margin, "PASS"]))
    return "\n".join([*lines, "", "n/t: not tested"]) + "\n"


def _sweeps(links: list[Link]) -> str:
    """A row a curve, with the frequencies across the titles."""
    lines = ["Umbel 4 - sweeps", "\t".join(["Nr", "Circuit", "Quantity", "Pairs", "Side",
                                            *map(str, KHZ)])]  # fmt: skip
    for nr, one in enumerate(links, 41):
        for (parameter, end, pairs), values in one.curves.items():
            if parameter in RAW:
                side = {None: "", "near": "local", "far": "remote"}[end]
                name = "/".join(pair.replace("-", "") for pair in pairs)
                cells = [shifted(-value, 2) for value in values]
                lines.append("\t".join([str(nr), one.label, WORDS[parameter], name, side, *cells]))
    return "\n".join(lines) + "\n"


def test_a_row_a_test_beside_a_row_a_curve_needs_no_change(tmp_path: Path) -> None:
    links = [link("A-1", 31.0), link("A-2", 88.5), link("A-3", 12.0)]
    tests, sweeps = tmp_path / "hall-tests.txt", tmp_path / "hall-sweeps.txt"
    tests.write_text(_results(links), encoding="utf-8")
    sweeps.write_text(_sweeps(links), encoding="utf-8")
    for files in ((tests, sweeps), (sweeps, tests)):
        draft = run("dialect", "draft", *files).stdout
        assert '\nlayout = "curve-per-row"\n' in draft
        assert '\nmissing = ["n/t"]\n' in draft
        (tmp_path / "mine.toml").write_text(draft, encoding="utf-8")
    result = run("gather", tmp_path / "book", tests, sweeps, "--dialect", tmp_path / "mine.toml")
    assert "3 tests, 3 new" in result.output
    found = [json.loads(path.read_bytes()) for path in (tmp_path / "book").glob("records/*/*")]
    assert len(found) == len(links)
    for document in found:
        one = next(one for one in links if one.label == document["link"]["label"])
        assert curves(document) == written(one, *RAW)
        assert document["stated"]["overall"]["verdict"] == "pass"
        margins = [item["worst_margin"] for item in document["stated"].get("items", [])]
        stated = [(float(m["margin_db"]), float(m["frequency_mhz"])) for m in margins]
        assert stated == ([] if one.label == "A-2" else [(3.1, 4.7)])


def test_numbers_of_records_are_no_frequencies(tmp_path: Path) -> None:
    draft = draft_of(tmp_path, _results([link(f"B-{nr}", 50.0) for nr in range(30)]))
    assert "[csv.curves]" not in draft
    assert "frequency = " not in draft.partition("[figures]")[0]
    assert "R. Oduya" not in draft.partition("[numbers]")[2]
    assert '\ntest = "Nr"\n' in draft or '\ntest = "Circuit"\n' in draft


def test_a_table_of_margins_is_no_table_of_points(tmp_path: Path) -> None:
    lines = wide(link("007", 52.4), *RAW).splitlines()
    lines += ["", "Worst cases", "Quantity;Pairs;Side;Margin;At MHz;Least;At MHz;Limit;Outcome"]
    lines += ["Attenuation;12;-;2,6;3,605;1,4;500;4,0;PASS", "NEXT;12-36;local;1,1;227;34,9;"
              "400;33,8;PASS", "RL;12;remote;n/a;n/a;n/a;n/a;n/a;PASS"]  # fmt: skip
    one = "\n".join(lines) + "\n"
    draft = draft_of(tmp_path, one)
    assert "rows.point" not in draft
    (record,), _ = read(tmp_path / "export.csv", draft)
    assert record.document["results"]["sweeps"]
