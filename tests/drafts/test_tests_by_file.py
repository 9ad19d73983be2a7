"""The column that tells tests apart, where it begins again in each of several files.

Held against the demo's own dialect, by which the same files are read.
"""

import gzip
from collections.abc import Iterator
from importlib.resources import files
from itertools import combinations
from pathlib import Path
from typing import Any

import pytest

from sweepbook.record.model import frequency_mhz
from tests.program import run

from .drafting import read

DEMO = files("sweepbook_demo")
OWN = (DEMO / "dialects/osquary-tolk.toml").read_text(encoding="utf-8")
FLOORS = ("3", "4", "5")
SOME = [some for count in (1, 2, 3) for some in combinations(FLOORS, count)]
DRAFTED = ("insertion_loss", "return_loss", "next", "fext", "propagation_delay")
_STEP = 32
"""Of so many points of a curve one is kept, so that many drafts are quick."""


def _export(floor: str) -> list[str]:
    """The lines of an export of the demo, with fewer points."""
    packed = (DEMO / f"exports/tolk-annexe-{floor}.csv.gz").read_bytes()
    kept, name, count = [], [""], 0
    for line in gzip.decompress(packed).decode().splitlines():
        cells = line.split(";")
        point = cells[0].isdigit() and bool(cells[4]) and not cells[1].startswith("reserve")
        count = count + 1 if cells[:4] == name else 0
        name = cells[:4]
        kept += [line] if not point or count % _STEP == 0 else []
    return kept


EXPORTS = {floor: _export(floor) for floor in FLOORS}


def _files(folder: Path, floors: tuple[str, ...], most: int) -> list[Path]:
    """Exports cut to their first tests."""
    paths = []
    for floor in floors:
        lines = (
            line
            for line in EXPORTS[floor]
            if not (nr := line.partition(";")[0]).isdigit() or int(nr) <= most
        )
        paths.append(folder / f"tolk-annexe-{floor}.csv")
        paths[-1].write_text("\n".join(lines) + "\n", encoding="utf-8")
    return paths


def _sweeps(document: dict[str, Any]) -> Iterator[tuple[Any, ...]]:
    """The sweeps of a record that a draft has words for, with all their numbers."""
    for sweep in document["results"]["sweeps"]:
        if sweep["parameter"] in DRAFTED:
            told = (sweep["parameter"], sweep.get("end"), *sweep["pairs"])
            values = sweep["delay_ns" if "delay_ns" in sweep else "value_db"]
            yield told, [*map(float, values)], [*frequency_mhz(document, sweep["grid"])]


@pytest.mark.parametrize("most", [1, 2, 9])
@pytest.mark.parametrize("floors", SOME, ids="+".join)
def test_numbers_that_begin_again_in_each_file_tell_tests(
    tmp_path: Path, floors: tuple[str, ...], most: int
) -> None:
    paths = _files(tmp_path, floors, most)
    drafted = run("dialect", "draft", *paths)
    assert drafted.exit_code == 0, drafted.output
    assert '\ntest = "test"\n' in drafted.stdout
    settled = drafted.stdout.replace('first = "TO-BE-SETTLED"', 'first = "disturbing"')
    settled = settled.replace('far_end = "receiving"', 'far_end = "driving"')
    for path in paths:
        found, problems = read(path, settled)
        wanted, _ = read(path, OWN)
        assert [problem.message for problem in problems if problem.lost_record] == []
        labels = [record.document["link"]["label"] for record in wanted]
        assert [record.document["link"]["label"] for record in found] == labels
        for one, other in zip(found, wanted, strict=True):
            sweeps = list(_sweeps(one.document))
            assert sweeps
            assert sweeps == list(_sweeps(other.document))


def test_a_column_with_one_text_in_each_file_tells_no_tests_beside_one_with_more(
    tmp_path: Path,
) -> None:
    paths = _files(tmp_path, ("4", "5"), 2)
    for path in paths:
        head, titles, rows = path.read_text(encoding="utf-8").partition("test;what;")
        floor = path.stem[-1]
        first, *others = f"{titles}{rows}".splitlines()
        table = [f"storey;{first}", *(f"{floor};{row}" for row in others)]
        path.write_text(head + "\n".join(table) + "\n", encoding="utf-8")
    draft = run("dialect", "draft", *paths).stdout
    assert '\ntest = "test"\n' in draft
    assert '\nlink.label = "link"\n' in draft
