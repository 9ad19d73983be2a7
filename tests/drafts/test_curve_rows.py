"""Drafts for a whole curve in each row: read by them comes what was written, without a change."""

from collections.abc import Callable
from pathlib import Path

import pytest

from tests.program import run

from .curve_rows import (
    above_units,
    beside_limits,
    in_a_line,
    in_cells,
    in_each_test,
    in_sections,
    in_titles,
    side_by_side,
)
from .drafting import curves, draft_of, read, written
from .links import Link, link, long

RAW = ("insertion_loss", "return_loss", "next")


@pytest.mark.parametrize(
    "write",
    [
        *(in_titles, above_units, beside_limits, in_a_line, in_each_test, in_cells, in_sections),
        side_by_side,
    ],
)
def test_a_curve_in_each_row_needs_no_change(write: Callable[..., str], tmp_path: Path) -> None:
    links = [link("A-1", 31.0), link("A-2", 88.5)]
    draft = draft_of(tmp_path, write(links, *RAW))
    records, problems = read(tmp_path / "export.csv", draft)
    assert problems == []
    assert [record.label for record in records] == ["A-1", "A-2"]
    for one, record in zip(links, records, strict=True):
        assert curves(record.document) == written(one, *RAW)
        assert record.document["stated"]["overall"]["verdict"] == "pass"


def test_a_row_of_another_unit_below_titles_is_told(tmp_path: Path) -> None:
    text = above_units([link("A-1", 31.0)], *RAW)
    draft = draft_of(tmp_path, text)
    assert '\nupper_titles = ["Circuit"]\n' in draft
    assert '\nvalues = "{frequency} MHz"\n' in draft
    other = tmp_path / "other.csv"
    other.write_text(text.replace("MHz", "kHz"), encoding="utf-8")
    records, problems = read(other, draft)
    assert records == []
    assert "'1,000 kHz'" in problems[0].message
    assert "another unit" in problems[0].message


@pytest.mark.parametrize("at", [0, 11, 22])
def test_a_row_with_two_units_below_titles_is_no_part_of_them(at: int, tmp_path: Path) -> None:
    titles, units, *lines = above_units([link("A-1", 31.0)], *RAW).splitlines()
    cells = units.split(";")
    cells[7 + at] = "kHz"
    path = tmp_path / "export.csv"
    path.write_text("\n".join([titles, ";".join(cells), *lines, ""]), encoding="utf-8")
    assert "No table of sweeps was found" in run("dialect", "draft", path).output


def test_numbered_titles_are_no_frequencies(tmp_path: Path) -> None:
    one: Link = link("A-1", 31.0)
    text = in_a_line([one], *RAW).replace(
        ";Side\n", ";Side;" + ";".join(f"v{n}" for n in range(1, 24)) + "\n"
    )
    draft = draft_of(tmp_path, text)
    assert 'values = "v1"' in draft
    (record,), _ = read(tmp_path / "export.csv", draft)
    assert curves(record.document) == written(one, *RAW)


def test_a_mark_in_place_of_an_end_and_a_time_of_day_apart(tmp_path: Path) -> None:
    links = [link("A-1", 31.0), link("A-2", 88.5)]
    titles, *rows = in_titles(links, *RAW).splitlines()
    titles = titles.replace("Circuit;Norm;Tested on", "Réseau;Norm;Date;Clock")
    rows = [row.replace("28.02.2026 17:05", "28.02.2026;17:05") for row in rows]
    bare = [row.replace(";;measured", ";-;measured").replace(";;limit", ";-;limit") for row in rows]
    text = (
        "\n".join([titles, *bare]).replace(";local;", ";proche;").replace(";remote;", ";distante;")
    )
    draft = draft_of(tmp_path, f"{text}\n")
    assert '\nlink.label = "Réseau"\n' in draft
    assert '\nnear = "proche"\nfar = "distante"\n' in draft
    records, problems = read(tmp_path / "export.csv", draft)
    assert problems == []
    assert [record.label for record in records] == ["A-1", "A-2"]
    for one, record in zip(links, records, strict=True):
        assert curves(record.document) == written(one, *RAW)
        assert record.document["test"]["started"]["rfc3339"] == "2026-02-28T17:05:00-00:00"


def test_single_values_and_units_among_curves_in_rows(tmp_path: Path) -> None:
    one: Link = link("A-1", 31.0)
    lines = in_titles([one], *RAW).replace(";measured;", ";dB;measured;")
    lines = lines.replace(";limit;", ";dB;limit;").replace(";Row;", ";Unit;Row;")
    head = "A-1;TIA-568.2-D Cat 6A PL;28.02.2026 17:05;PASS"
    text = f"{lines}{head};length;36;;m;measured;30,5{';' * 22}\n"
    text += f"{head};delay;36;;ns;measured{';' * 23}152\n"
    draft = draft_of(tmp_path, text)
    assert 'Unit = "{unit}"' in draft
    (record,), problems = read(tmp_path / "export.csv", draft)
    assert problems == []
    results = record.document["results"]
    (delay,) = [one for one in results["sweeps"] if one["parameter"] == "propagation_delay"]
    assert [float(v) for v in delay["delay_ns"]] == [152.0]
    results["sweeps"].remove(delay)
    assert curves(record.document) == written(one, *RAW)
    (length,) = results["scalars"]
    assert (length["parameter"], float(length["length_m"])) == ("length", 30.5)
    other = tmp_path / "other.csv"
    other.write_text(text.replace(";dB;measured;", ";Np;measured;", 1), encoding="utf-8")
    (record,), _ = read(other, draft)
    assert len(record.document["results"]["sweeps"]) == len(written(one, *RAW))


def test_a_title_that_names_the_unit_of_those_beside_it_begins_no_table_above(
    tmp_path: Path,
) -> None:
    """The corner of the titles is of pairs and of frequencies; sections of keys stand above."""
    one = link("A-1", 31.0)
    titles, *rows = in_titles([one], *RAW).splitlines()
    titles = titles.replace(" MHz", "").replace(";Pairs;Side;", ";Side;Pairs / MHz;")
    keys = (
        "[Unit];;;;;;;\nMaker;Umbel;;;;;;\nModel;3;;;;;;\n[Job];;;;;;;\nWing;East;;;;;;\n[Curves]\n"
    )
    turned = [";".join([*c[:5], c[6], c[5], *c[7:]]) for c in (row.split(";") for row in rows)]
    draft = draft_of(tmp_path, "\n".join([keys + titles, *turned]) + "\n")
    (record,), _ = read(tmp_path / "export.csv", draft)
    assert curves(record.document) == written(one, *RAW)


def test_tables_of_other_columns_beside_points_are_told_apart(tmp_path: Path) -> None:
    """A file of one row, which is no table to a draft, one of pairs, and the points last."""
    links = [link("A-1", 31.0), link("A-2", 88.5)]
    texts = {
        "b.csv": "No,By\n1,Rook\n",
        "c.csv": "No,Pair,Metres\n1,12,30.1\n1,36,30.2\n2,12,88.1\n2,36,88.2\n",
        "points.csv": long(links, lambda _, end: end),
    }
    for name, text in texts.items():
        (tmp_path / name).write_text(text, encoding="utf-8")
    result = run("dialect", "draft", *(tmp_path / name for name in texts))
    assert result.exit_code == 0, result.output
    assert "nothing here is of them: 'b.csv'" in result.stdout.replace("\n# ", " ")
    records, _ = read(tmp_path / "points.csv", result.stdout)
    assert len(records) == 2
    for one, record in zip(links, records, strict=True):
        assert curves(record.document).keys() == written(one, *RAW, "fext").keys()
