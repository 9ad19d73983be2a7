"""Whether what passes a contract's table passes the one that it is based on, and the other way."""

import json
from pathlib import Path
from typing import Any

import pytest

from sweepbook.limits.compare import asks_no_less
from sweepbook.limits.library import Library
from sweepbook.schedule.asked import Answer, Asked, answer

TIA, ISO = "tia-568.2-d/cat6a/permanent-link", "iso-11801-1-2017/class-ea/permanent-link"
OWN = "hall/own/permanent-link"


def _with(folder: Path, base: str, **changes: Any) -> Library:
    contract = {
        "schema": "urn:sweepbook:limits-0",
        "path": OWN,
        "title": "Hall",
        "document": "Hall",
        "edition": "1",
        "published_year": 2024,
        "based_on": base,
        "sources": {"c": "Clause 1"},
        **changes,
    }
    path = folder / "own.json"
    path.write_text(json.dumps(contract))
    return Library.load(tables=[path])


def _adjusted(**how: Any) -> dict[str, Any]:
    return {"adjustments": [{"parameters": ["next"], "source": "c", **how}]}


@pytest.mark.parametrize("base", [TIA, ISO])
@pytest.mark.parametrize(
    ("changes", "of_test", "of_base"),
    [
        (_adjusted(tighter_by=3, unit="dB"), Answer.HIGHER, Answer.LESSER),
        (_adjusted(obligation="informative"), Answer.LESSER, Answer.HIGHER),
        ({"without": ["return_loss"]}, Answer.LESSER, Answer.HIGHER),
        (
            {"without": ["return_loss"], **_adjusted(tighter_by=3, unit="dB")},
            Answer.OTHER,
            Answer.OTHER,
        ),
    ],
)
def test_a_contract_is_higher_only_where_nothing_of_its_base_is_given_up(
    base: str, changes: dict[str, Any], of_test: Answer, of_base: Answer, tmp_path: Path
) -> None:
    library = _with(tmp_path, base, **changes)
    configuration = library.table(base).configuration
    assert answer(Asked(base, configuration), OWN, library) is of_test
    assert answer(Asked(OWN, configuration), base, library) is of_base


@pytest.mark.parametrize("base", [TIA, ISO])
def test_every_table_asks_no_less_than_itself(base: str) -> None:
    table = Library.load().table(base)
    assert asks_no_less(table, table)


def test_a_table_of_fewer_megahertz_asks_less() -> None:
    library = Library.load()
    six, six_a = (library.table(f"tia-568.2-d/{name}/channel") for name in ("cat6", "cat6a"))
    assert not asks_no_less(six, six_a)
