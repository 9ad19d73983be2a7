"""Many places of a document looked up at once are what one would find one by one."""

from typing import Any

import pytest

from sweepbook.looking import look_for, look_for_all

PATHS = (
    "label", "link.near.place.floor", "link.near.place.port", "link.near.termination",
    "origin.0.name", "origin.1.name", "link.near.place.room", "", "results",
)  # fmt: skip
WHOLE = {
    "label": "A",
    "link": {"near": {"place": {"floor": "1", "port": 7}, "termination": "T"}},
    "origin": [{"name": "a.csv"}],
    "results": {"scalars": []},
}


def one_by_one(document: Any, path: str) -> Any:
    """The plain way: a step at a time, and None as soon as there is none."""
    for step in path.split("."):
        if isinstance(document, list) and step.isdigit():
            document = document[int(step)] if int(step) < len(document) else None
        else:
            document = document.get(step) if isinstance(document, dict) else None
    return document if isinstance(document, str | int) else None


@pytest.mark.parametrize(
    "document",
    [
        WHOLE,
        {},
        {**WHOLE, "link": "A", "origin": {}},
        {**WHOLE, "link": {"near": []}, "origin": ["a", {"name": "b"}]},
        {**WHOLE, "link": {"near": {"place": None, "termination": ["T"]}}, "label": None},
        ["no", "document"],
        None,
    ],
)
def test_it_finds_what_is_there_and_no_more(document: Any) -> None:
    wanted = [one_by_one(document, path) for path in PATHS]
    assert look_for(PATHS, (str, int))(document) == wanted
    texts = [one if isinstance(one, str) else "" for one in wanted]
    assert look_for(PATHS, (str,), missing="")(document) == texts
    groups = (PATHS[:3], PATHS[2:7], PATHS[::-1])
    told = [tuple(one_by_one(document, path) for path in group) for group in groups]
    assert look_for_all(groups, (str, int))(document) == told
