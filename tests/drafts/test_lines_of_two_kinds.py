"""Drafts of files whose key lines have cells, but for lists of contacts behind a colon."""

from pathlib import Path

import pytest

from .drafting import curves, draft_of, read, written
from .links import KHZ, WORDS, Link, link, shifted

RAW = ("insertion_loss", "return_loss", "next")
SIDES = {None: "", "near": ", SIDE A", "far": ", SIDE B"}
STRAIGHT = [[of, of] for of in "12345678S"]
CROSSED = [["1", "3"], ["2", "6"], ["3", "1"], ["6", "2"], *([of, of] for of in "4578S")]


def export(one: Link, wires: list[list[str]], mark: str) -> str:
    """Sections with cells in all lines, but for the contacts of each end."""
    lines = ["[Facts]", f"Circuit;{one.label}", "Limit;TIA-568.2-D Cat 6A PL", "Outcome;PASS", ""]
    lines += ["[Wires]", *(f"{end}{mark}{' '.join(of[at] for of in wires)}"
                           for at, end in enumerate("AB"))]  # fmt: skip
    lines += ["Outcome;PASS", ""]
    for parameter, end in dict.fromkeys((parameter, end) for parameter, end, _ in one.curves):
        some = {pairs: of for (p, e, pairs), of in one.curves.items() if (p, e) == (parameter, end)}
        if parameter in RAW:
            lines += [f"[{WORDS[parameter]}{SIDES[end]}]", ";".join(["MHz", *map("/".join, some)])]
            for at, khz in enumerate(KHZ):
                cells = [shifted(of[at], 2) for of in some.values()]
                lines.append(";".join([shifted(khz, 3), *cells]))
            lines.append("")
    return "\n".join(lines)


@pytest.mark.parametrize("mark", [": ", "=", ":"])
@pytest.mark.parametrize("wires", [STRAIGHT, CROSSED])
def test_contacts_behind_a_mark_are_keys_and_no_heading(
    mark: str, wires: list[list[str]], tmp_path: Path
) -> None:
    one = link("D-7", 33.5)
    draft = draft_of(tmp_path, export(one, wires, mark))
    assert f'\npreamble.separator = [";", "{mark}"]\n' in draft
    (record,), problems = read(tmp_path / "export.csv", draft)
    assert problems == []
    assert curves(record.document) == written(one, *RAW)
    found = record.document["results"]["wire_map"]
    assert sorted(found["pins"]) == sorted(of for of in wires if "S" not in of)
    assert found["screen"] == "continuous"


def test_sentences_one_below_the_other_part_nothing(tmp_path: Path) -> None:
    remarks = "NEXT: of both ends, pair by pair.\nRL: as seen from each of the ends.\n"
    text = export(link("D-7", 33.5), STRAIGHT, ";")
    assert "separator" not in draft_of(tmp_path, f"Sheet of a test\n{remarks}\n{text}")
