"""Drafts of XML in which a word stands where others of its kind have a margin and a frequency."""

from pathlib import Path

import pytest

from .drafting import draft_of, read
from .links import KHZ, PAIRS, WORDS, link, shifted

LINKS = [link("B-04", 28.0), link("B-05", 63.5)]
LACKING = ("next", "far", ("1-2", "3-6"))
"""What was not judged in one of the tests."""
RAW = ("insertion_loss", "return_loss", "next")
SIDES = {None: "", "near": ' side="main"', "far": ' side="remote"'}


def sheet(form: str, word: str) -> str:
    """A curve each, with its margin in attributes of it or of an element in it."""
    axis = " ".join(map(str, KHZ))
    lines = ["<sheet>"]
    for number, one in enumerate(LINKS):
        lines.append(
            f'<run link="{one.label}"><norm>Cat 6A PL</norm><axis unit="kHz">{axis}</axis>'
        )
        for name, values in one.curves.items():
            if name[0] in RAW:
                lacks = number and name == LACKING
                margin, at = (word, word) if lacks else ("4.7", str(KHZ[5]))
                head = f'of="{WORDS[name[0]]}" pairs="{"/".join(name[2])}"{SIDES[name[1]]}'
                text = " ".join(shifted(value, 2) for value in values)
                lines.append(form.format(head=head, margin=margin, at=at, text=text))
        lines.append("</run>")
    return "\n".join([*lines, "</sheet>\n"])


FORMS = [
    '<curve {head} margin="{margin}" at="{at}">{text}</curve>',
    '<curve {head}><least margin="{margin}" khz="{at}"/><values>{text}</values></curve>',
    "<curve {head}><least><margin>{margin}</margin><khz>{at}</khz></least><values>{text}</values>"
    "</curve>",
]


@pytest.mark.parametrize("word", ["n/a", "s.o.", "---", "ei arvioitu"])
@pytest.mark.parametrize("form", FORMS)
def test_a_word_where_margins_stand_is_one_for_none(form: str, word: str, tmp_path: Path) -> None:
    draft = draft_of(tmp_path, sheet(form, word), "export.xml")
    records, problems = read(tmp_path / "export.xml", draft)
    assert problems == []
    count = len(PAIRS) * 3 + 12
    stated = [
        [of for of in record.document["stated"]["items"] if "worst_margin" in of]
        for record in records
    ]
    assert [len(some) for some in stated] == [count, count - 1]
    left = {(of["parameter"], of.get("end"), (*of["pairs"],)) for of in stated[1]}
    assert LACKING not in left
