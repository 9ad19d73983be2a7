"""Drafts take wire maps whose contacts have words around them, as "remote pin 3"."""

from pathlib import Path

import pytest

from sweepbook.draft.wires_told import find
from tests.program import run

from .drafting import edited
from .test_csv import SETTLE, SETTLED
from .test_wires import LINKS, in_csv


@pytest.mark.parametrize(
    ("written", "nothing", "within"),
    [
        ("remote pin {}", "remote pin open", "remote pin {}"),
        ("to {} there", "open", "to {} there"),
        ("[{}]", "open", ""),
        ("{}", "open", ""),
    ],
)
def test_contacts_may_have_words_around_them(written: str, nothing: str, within: str) -> None:
    keys = {f"Local pin {n}": [written.format(n)] for n in (1, 3, 4, 5, 6, 7, 8)}
    keys["Local pin 2"] = [written.format(2), nothing]
    found = find(keys, None)
    if "[" in written:
        assert found is None
        return
    assert found is not None
    assert [(one.path, one.within) for one in found.filled] == [("results.wire_map.far", within)]
    assert found.form.open == {"open"}


def test_words_that_differ_from_contact_to_contact_are_none_around_them() -> None:
    keys = {f"Local pin {n}": [f"{'abcdefgh'[n - 1]} {n}"] for n in range(1, 9)}
    assert find(keys, None) is None


def test_a_wire_map_with_words_around_its_contacts_is_read(tmp_path: Path) -> None:
    one, wires = LINKS[1]
    lines = "\n".join(
        f"Local pin {near};{f'remote pin {far}' if far else 'remote pin open'}"
        for near, far in wires.items()
    )
    _, draft = in_csv(tmp_path, lines, wires, one)
    assert "\n[within]\n" in draft
    without = edited(draft, (SETTLE, SETTLED))
    fields = [of for of in without.splitlines() if of.startswith(("results.wire_map", "open = "))]
    for line in fields:
        without = without.replace(f"{line}\n", "")
    (tmp_path / "mine.toml").write_text(without, encoding="utf-8")
    result = run("dialect", "try", tmp_path / "mine.toml", tmp_path / "export.csv")
    said = " ".join(result.output.split())
    assert (
        'open = "open" in [wire_map], and results.wire_map.far = "remote pin {}" in [within]'
        in (said)
    )
