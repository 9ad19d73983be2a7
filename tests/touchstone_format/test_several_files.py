"""A link in several files, one a combination of pairs: the record is that of one file with all.

scikit-rf takes the ports of each combination out of one network of the demo's model.
"""

from itertools import combinations
from pathlib import Path

import pytest

from sweepbook.dialect.load import BadDialect
from sweepbook.record.model import Record
from tests.guide import job, told
from tests.joined.test_join import pipeline
from tests.joined.test_join import read as read_folder

from .making import BALANCED, PAIRS, losses, model, read, text, values
from .test_model import judged

NAMES = ("B-02_12.s2p", "B-02_36.s2p", "B-02_12-36.s2p")
FILES, DIALECT, LINES = job("example-combinations", *NAMES)

COMBINED = list(combinations(PAIRS, 2))


def _name(pairs: tuple[str, str]) -> str:
    return "-".join(pair.replace("-", "") for pair in pairs)


def _map(table: str, pairs: tuple[str, str], besides: list[str]) -> str:
    lines = [f"[{table}]"]
    lines += [f"besides = {besides}".replace("'", '"')] if besides else []
    lines.append(f"[{table}.ports]")
    for end, first in (("near", 1), ("far", 3)):
        lines += [f"{end}.{pair} = {first + at}" for at, pair in enumerate(pairs)]
    return "\n".join(lines) + "\n"


def _dialect() -> str:
    head = BALANCED.partition("[touchstone")[0]
    tables: list[str] = []
    seen = list(COMBINED[0])
    for pairs in COMBINED[1:]:
        file = f'file = "{{}}_{_name(COMBINED[0])}.s4p"\n' if not tables else ""
        besides = [pair for pair in pairs if pair in seen]
        seen += pairs
        tables.append(
            f'[[join]]\n{file}other = "{{}}_{_name(pairs)}.s4p"\n'
            + _map("join.touchstone", pairs, besides)
        )
    return head + _map("touchstone", COMBINED[0], []) + "".join(tables)


def _write(folder: Path) -> Record:
    """The six files, and the record of one file with all ports."""
    link = model()
    for pairs in COMBINED:
        at = [PAIRS.index(pair) for pair in pairs]
        ports = [*at, *(4 + of for of in at)]
        some = link.subnetwork(ports)
        (folder / f"A-17_{_name(pairs)}.s4p").write_text(text(some))
    (folder / "whole").mkdir()
    return read(folder / "whole", "A-17.s8p", text(link), BALANCED).records[0]


def test_the_example_of_the_guide_reads_as_it_says(tmp_path: Path) -> None:
    records, problems = read_folder(tmp_path, FILES, DIALECT)
    assert problems == []
    assert told(records[0].document) == LINES


def test_six_files_of_two_pairs_make_the_record_of_one_file(tmp_path: Path) -> None:
    whole = _write(tmp_path)
    files = sorted(tmp_path.glob("*.s4p"))
    items = list(pipeline(tmp_path, _dialect()).read_all(files))
    (record,) = [item for item in items if isinstance(item, Record)]
    assert [item for item in items if not isinstance(item, Record)] == []
    one, other = whole.document["results"]["sweeps"], record.document["results"]["sweeps"]
    named = [
        sorted((of["parameter"], of.get("end") or "", *of["pairs"]) for of in some)
        for some in (one, other)
    ]
    assert named[0] == named[1]
    for of in one:
        if "complex" in of:
            name = of["parameter"], of["end"], *of["pairs"]
            expected, found = (values(which.document, *name) for which in (whole, record))
            assert losses(found).tolist() == pytest.approx(losses(expected).tolist(), abs=1e-9)
    worst, own = (
        {(of.parameter, of.end, of.pairs): of.worst_margin_db for of in judged(which).margins}
        for which in (whole, record)
    )
    assert len(own) > 60
    assert own == pytest.approx(worst)
    origin = record.document["origin"][0]
    assert len(origin["joined"]) == 5
    grids = [grid["id"] for grid in record.document["results"]["grids"]]
    assert grids == [f"g{number}" for number in range(1, 7)]


def test_a_curve_that_two_files_give_otherwise_proves_no_pass(tmp_path: Path) -> None:
    _write(tmp_path)
    ports = [PAIRS.index(pair) + first for first in (0, 4) for pair in COMBINED[1]]
    other = text(model(seed=8).subnetwork(ports))
    (tmp_path / f"A-17_{_name(COMBINED[1])}.s4p").write_text(other)
    dialect = _dialect().replace('besides = ["1-2"]\n', "", 1)
    items = list(pipeline(tmp_path, dialect).read_all(sorted(tmp_path.glob("*.s4p"))))
    (record,) = [item for item in items if isinstance(item, Record)]
    names = [
        (of["parameter"], of.get("end"), of["pairs"]) for of in record.document["results"]["sweeps"]
    ]
    assert names.count(("return_loss", "near", ["1-2"])) == 2
    outcomes = {
        of.outcome.value
        for of in judged(record).margins
        if (of.parameter, of.end, of.pairs) == ("return_loss", "near", ("1-2",))
    }
    assert outcomes == {"undecided"}


def test_files_of_two_links_are_not_read_together(tmp_path: Path) -> None:
    files = {**FILES, NAMES[1]: FILES[NAMES[1]].replace("B-02", "B-03")}
    records, problems = read_folder(tmp_path, files, DIALECT)
    assert records == []
    assert "'B-02' stands under 'Link' here, and 'B-03' in B-02_36.s2p, line 1" in problems[0]


def test_a_file_that_lacks_is_named(tmp_path: Path) -> None:
    files = {name: content for name, content in FILES.items() if name != NAMES[2]}
    records, problems = read_folder(tmp_path, files, DIALECT)
    assert records == []
    assert (
        "the file B-02_12-36.s2p, with the other parts of its tests, is not at hand" in problems[0]
    )


def test_only_pairs_of_the_map_stand_besides(tmp_path: Path) -> None:
    with pytest.raises(BadDialect, match=r"join\.1\.touchstone\.besides: 4-5 has no port"):
        read_folder(tmp_path, FILES, DIALECT.replace('besides = ["1-2",', 'besides = ["4-5",'))
