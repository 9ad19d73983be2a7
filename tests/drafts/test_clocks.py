"""A day and a time of day in two texts, however the time is written."""

from pathlib import Path

import pytest

from sweepbook.draft.dates import is_clock

from .drafting import draft_of, read
from .links import link, lists

OLD = "<started>2026-02-28T17:05:09Z</started>"


@pytest.mark.parametrize(
    ("written", "read_as"),
    [
        ("<datum>28.02.2026</datum><uhrzeit>17:05 Uhr</uhrzeit>", "17:05:00-00:00"),
        ('<when day="2026-02-28" time="5:05 PM"/>', "17:05:00-00:00"),
        ("<when><hour>17.05</hour><day>28.02.2026</day></when>", "17:05:00-00:00"),
        ('<when day="28.02.2026" time="17:05 MESZ"/>', "17:05:00+02:00"),
        ('<when day="2026-02-28" time="17:05:09+01:00"/>', "17:05:09+01:00"),
        ("<date>28/02/2026</date><heure>17h05</heure>", "17:05:00-00:00"),
        ("<started>28.02.2026, 17:05 Uhr</started>", "17:05:00-00:00"),
        ("<started>28.02.2026 17.05.09</started>", "17:05:09-00:00"),
        ("<started>Sat 28 Feb 2026 17:05:09</started>", "17:05:09-00:00"),
        ("<started>Samstag, 28.02.2026 17:05 +01:00</started>", "17:05:00+01:00"),
    ],
)
def test_times(written: str, read_as: str, tmp_path: Path) -> None:
    text = lists([link("L-1", 35.5), link("L-2", 80.0)]).replace(OLD, written)
    draft = draft_of(tmp_path, text, "export.xml")
    records, problems = read(tmp_path / "export.xml", draft)
    assert problems == []
    for record in records:
        assert record.document["test"]["started"]["rfc3339"] == f"2026-02-28T{read_as}"


@pytest.mark.parametrize("text", ["21.5", "21.50", "25:70 h", "2026", "17 05", "3.2 h"])
def test_what_is_no_time_of_day_where_none_is_asked_for(text: str) -> None:
    assert not is_clock(text)
