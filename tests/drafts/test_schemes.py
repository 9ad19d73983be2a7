"""Drafts where tests say the wiring scheme by which their pairs are numbered.

T568A and T568B call pairs 2 and 3 the other way round (ANSI/TIA-568, recalled).
"""

import re
from collections.abc import Callable
from pathlib import Path

import pytest

from .drafting import curves, draft_of, read, written
from .links import link, lists, long, wide

LINK, OTHER = link("W-1", 30.0), link("W-2", 61.0)
RAW = ("insertion_loss", "return_loss", "next")
NUMBERS = {
    "T568A": {"45": "1", "36": "2", "12": "3", "78": "4"},
    "T568B": {"45": "1", "12": "2", "36": "3", "78": "4"},
}


def numbered(text: str, scheme: str) -> str:
    """A text with the numbers of pairs in the place of their contacts."""
    return re.sub(r"\b(12|36|45|78)\b", lambda of: NUMBERS[scheme][of[1]], text)


def in_a_key_line(scheme: str) -> str:
    lines = wide(LINK, *RAW).replace("Outcome;PASS", f"Outcome;PASS\nPlan;{scheme}").splitlines()
    return "\n".join(numbered(line, scheme) if "Freq" in line else line for line in lines) + "\n"


def in_a_column(scheme: str) -> str:
    first, *rows = long([LINK, OTHER], lambda _, end: end).splitlines()
    pairs = re.compile(r"(?<=,)([1347])-([2568])(?=,)")
    rows = [pairs.sub(lambda of: NUMBERS[scheme][of[1] + of[2]], row) for row in rows]
    return "\n".join([f"{first},Plan", *(f"{row},{scheme}" for row in rows), ""])


def in_an_attribute(scheme: str) -> str:
    return _list(scheme).replace("<link ", f'<link plan="{scheme}" ')


def around_the_tests(scheme: str) -> str:
    return _list(scheme).replace("<survey>", f'<survey><wiring plan="TIA {scheme}"/>')


def _list(scheme: str) -> str:
    """`lists` numbers pairs by T568B."""
    other = {"2": "3", "3": "2"} if scheme == "T568A" else {}
    turn = re.compile(r'(pair|from|to)="([23])"')
    return turn.sub(lambda of: f'{of[1]}="{other.get(of[2], of[2])}"', lists([LINK]))


@pytest.mark.parametrize(
    ("export", "name", "key"),
    [
        (in_a_key_line, "export.csv", "Plan"),
        (in_a_column, "export.csv", "Plan"),
        (in_an_attribute, "export.xml", "@plan"),
        (around_the_tests, "export.xml", "/survey/wiring/@plan"),
    ],
)
@pytest.mark.parametrize("seen", ["T568A", "T568B"])
def test_a_test_of_the_other_scheme_is_read_by_the_same_draft(
    seen: str, export: Callable[[str], str], name: str, key: str, tmp_path: Path
) -> None:
    draft = draft_of(tmp_path, export(seen), name)
    assert f'\nscheme = "{seen}"\n' in draft
    assert f'\nkey = "{key}"\n' in draft
    draft = draft.replace('first = "TO-BE-SETTLED"', 'first = "disturbing"')
    for scheme in NUMBERS:
        (tmp_path / name).write_text(export(scheme), encoding="utf-8")
        (record, *_), problems = read(tmp_path / name, draft)
        assert problems == []
        found = {of: values for of, values in curves(record.document).items() if of[0] in RAW}
        assert found == written(LINK, *RAW)
