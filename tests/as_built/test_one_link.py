"""One link whose tests name its place in different fields, or leave it out, has one row."""

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from sweepbook.judging.assessment import Assessment
from sweepbook.project.job import Job
from sweepbook_plugins.asbuilt import database as asbuilt

from .made_up import ask, assessed, delivery, dump, record, write

LINKS = "SELECT label, natural_key FROM link ORDER BY natural_key"
HISTORY = "SELECT sequence, is_current, started FROM test_history ORDER BY sequence"
LEFT = """
    SELECT COUNT(*) FROM cable WHERE link_id NOT IN (SELECT link_id FROM test)
    UNION ALL SELECT COUNT(*) FROM end_said WHERE link_id NOT IN (SELECT link_id FROM test)
"""


def _test(day: int, **place: str) -> Assessment:
    end: dict[str, Any] = {"place": place} if place else {}
    made = record(
        "A-1", end, {}, f"2026-03-0{day}T09:00:00Z", f"2026-03-0{day}T18:00:00Z",
        (f"{day}.csv", "all"), link={"cable": {"maker": f"Maker {day}"}},
    )  # fmt: skip
    return assessed(made)


SITE, BUILDING, NEITHER = _test(1, site="Quay"), _test(2, building="Quay"), _test(3)


@pytest.mark.parametrize("parts", [(3,), (1, 3), (2, 3), (1, 2, 3)])
def test_tests_of_one_link_are_of_one_row_whenever_they_come(
    tmp_path: Path, parts: tuple[int, ...]
) -> None:
    every = [SITE, BUILDING, NEITHER]
    for part in parts:
        target = write(tmp_path / "a.sqlite", *every[:part])
    ((label, key),) = ask(target, LINKS)
    assert (label, key) == ("A-1", '["Library","","","a-1"]')
    assert [row[:2] for row in ask(target, HISTORY)] == [(1, 0), (2, 0), (3, 1)]
    assert ask(target, LEFT) == [(0,), (0,)]
    assert ask(target, "SELECT COUNT(*) FROM cable") == [(3,)]
    assert dump(target) == dump(write(tmp_path / "new.sqlite", *every))


def test_tests_of_another_site_than_the_jobs_are_of_another_link(tmp_path: Path) -> None:
    made = delivery([SITE, NEITHER, _test(4, site="Depot"), BUILDING])
    target = tmp_path / "a.sqlite"
    asbuilt.write(replace(made, about=replace(made.about, job=Job(site="quay"))), target)
    keys = [key for _, key in ask(target, LINKS)]
    assert keys == ['["Library","","","a-1"]', '["Library","depot","","a-1"]']
    assert ask(target, "SELECT COUNT(*) FROM test GROUP BY link_id ORDER BY 1") == [(1,), (3,)]
