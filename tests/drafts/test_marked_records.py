"""Drafts of records whose lines above the curves all begin with one mark, tables among them."""

from pathlib import Path

from tests.program import run

from .drafting import curves, read, written
from .links import KHZ, PAIRS, WORDS, Link, link, shifted

RAW = ("insertion_loss", "return_loss", "next")
SIDES = {None: "", "near": " main", "far": " remote"}
WORST = (
    ("insertion_loss", None, ("3-6",), "1.5", 4_000),
    ("return_loss", "far", ("4-5",), "2.5", 100_000),
    ("next", "near", ("1-2", "7-8"), "0.5", 250_000),
)
"""Parameter, end, pairs, margin in dB, kHz; of no calculation, for the reading alone."""


def record(one: Link) -> str:
    """Keys, a wire map, figures and worst margins behind the mark, then a column a curve."""
    lines = [f"Circuit,{one.label}", "Requirement,TIA-568.2-D Cat 6A PL", "Outcome,PASS"]
    lines += [f"Wire map {end},{','.join('12345678')}" for end in ("main", "remote")]
    lines.append(f"Pair,{','.join(PAIRS)},Outcome")
    lines += [f"Length (m),{','.join(f'{one.metres + at}' for at in range(4))},PASS"]
    lines += [f"Delay (ns),{','.join(str(200 + at) for at in range(4))},PASS"]
    lines.append("Worst margin,Outcome,Margin (dB),Pair,Unit,Frequency (kHz)")
    for parameter, end, on, margin, khz in WORST:
        told = ["/".join(on), SIDES[end].strip(), str(khz)]
        lines.append(",".join([WORDS[parameter], "PASS", margin, *told]))
    names, columns = [], []
    for (parameter, end, pairs), values in one.curves.items():
        if parameter in RAW:
            names.append(f"{WORDS[parameter]} {'/'.join(pairs)}{SIDES[end]}")
            columns.append(values)
    rows = [",".join(["Frequency (kHz)", *names])]
    for at, khz in enumerate(KHZ):
        rows.append(",".join([str(khz), *(shifted(of[at], 2) for of in columns)]))
    return "\n".join([*(f"# {line}" for line in lines), *rows, ""])


def test_a_line_of_contacts_is_no_axis_and_a_title_may_say_margin(tmp_path: Path) -> None:
    links = [link("W-1", 31.0), link("W-2", 64.5)]
    paths = [tmp_path / f"{one.label}.csv" for one in links]
    for path, one in zip(paths, links, strict=True):
        path.write_text(record(one), encoding="utf-8")
    result = run("dialect", "draft", *paths)
    assert result.exit_code == 0, result.output
    for path, one in zip(paths, links, strict=True):
        (found,), problems = read(path, result.stdout)
        assert problems == []
        document = found.document
        assert curves(document) == written(one, *RAW)
        assert document["results"]["wire_map"]["pins"] == [[of, of] for of in "12345678"]
        scalars = [(of["parameter"], *of["pairs"]) for of in document["results"]["scalars"]]
        figures = ("length", "propagation_delay")
        assert sorted(scalars) == sorted((of, pair) for of in figures for pair in PAIRS)
        items = document["stated"]["items"]
        assert {of["parameter"] for of in items if of.get("verdict") == "pass"} == {*RAW, *figures}
        assert [
            (of["parameter"], of.get("end"), of["pairs"], of["worst_margin"]["as_stated"])
            for of in items
            if "worst_margin" in of
        ] == [(name, end, [*pairs], margin) for name, end, pairs, margin, _ in WORST]
