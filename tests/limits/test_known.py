"""Every limit that is known has a home, and nothing is in a table that is not known."""

import json
from pathlib import Path

import pytest

from sweepbook.limits.library import Library
from sweepbook.limits.not_usable import untold

KNOWN: dict[str, dict[str, list[str]]] = json.loads(
    Path(__file__).with_name("known.json").read_text("utf-8")
)["tables"]
PATHS = Library.load().paths()
# The table with a consolidation point rests on remarks beside the entries of the one without.
WITH_CP = "iso-11801-1-2017/class-ea/permanent-link-cp"


def known(path: str) -> dict[str, list[str]]:
    return KNOWN[path.removesuffix("-cp") if path == WITH_CP else path]


def test_291_limits_are_listed() -> None:
    assert sum(len(words) for table in KNOWN.values() for words in table.values()) == 291


@pytest.mark.parametrize("path", KNOWN)
def test_a_known_limit_has_a_home(path: str, library: Library) -> None:
    if path not in PATHS:
        assert set(KNOWN[path]) == {"D"}
        kept_free = [entry for entry in untold() if path in entry.paths]
        listed = {(x.parameter, x.configuration) for entry in kept_free for x in entry.parameters}
        assert {(word, path.rsplit("/", 1)[1]) for word in KNOWN[path]["D"]} <= listed
        return
    table = library.table(path)
    for grade, words in known(path).items():
        for word in words:
            if grade == "D":
                assert word in {entry.parameter for entry in table.not_usable}
            else:
                assert table.parameters[word].grade == grade, word


@pytest.mark.parametrize("path", PATHS)
def test_a_table_holds_nothing_else_but_the_length(path: str, library: Library) -> None:
    table = library.table(path)
    usable = {word for grade, words in known(path).items() if grade < "D" for word in words}
    held = {word for word, limit in table.parameters.items() if limit.grade < "D"}
    assert held == usable | {"length"}
    assert {entry.parameter for entry in table.not_usable} == set(known(path).get("D", ()))


def test_no_path_is_both_a_table_and_kept_free() -> None:
    assert not {path for entry in untold() for path in entry.paths} & set(PATHS)
