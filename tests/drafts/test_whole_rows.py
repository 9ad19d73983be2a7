"""Drafts for marked rows of which some hold a whole curve, and some the frequencies of others."""

from pathlib import Path

import pytest

from .drafting import curves, draft_of, read, written
from .links import KHZ, Link, link, shifted

LINKS = [link("L-1", 35.5), link("L-2", 80.0)]
NAMES = {"insertion_loss": "IL", "return_loss": "RL", "next": "NEXT"}
SIDES = {None: "*", "near": "A", "far": "B"}
HEADS = (
    "JOB{0}job{0}operator",
    "TST{0}no{0}label{0}limit{0}date{0}time{0}result",
    "LEN{0}no{0}p12{0}p36{0}p45{0}p78{0}result",
    "FRQ{0}no{0}n{0}f1..fn",
    "CRV{0}no{0}meas{0}pair{0}unit{0}n{0}v1..vn",
)
LISTED = {"f1..fn": "f1{0}f2{0}...{0}fn", "v1..vn": "v1{0}v2{0}...{0}vn"}


def marked(links: list[Link], heads: str = "#{}", mark: str = ",", *, listed: bool = False) -> str:
    """Remarks name the columns; of the frequencies and values only the first and the last."""
    named = [head.format(mark) for head in HEADS]
    if listed:
        for short, long in LISTED.items():
            named = [head.replace(short, long.format(mark)) for head in named]
    lines = [*(heads.format(head) for head in named), mark.join(("JOB", "NW", "J. Okoro"))]
    count = len(KHZ)
    for number, one in enumerate(links, 41):
        no = f"{number:05}"
        about = (one.label, "TIA Cat 6A PL", "2026-02-28", "17:05", "PASS")
        lines.append(mark.join(("TST", no, *about)))
        lines.append(mark.join(("LEN", no, *[str(one.metres)] * 4, "PASS")))
        lines.append(mark.join(("FRQ", no, str(count), *map(str, KHZ))))
        for (name, end, pairs), values in one.curves.items():
            if name in NAMES:
                told = "-".join(pair.replace("-", "") for pair in pairs)
                head = ("CRV", no, NAMES[name], told, SIDES[end], str(count))
                lines.append(mark.join((*head, *(shifted(db, 2) for db in values))))
    return "\n".join(lines) + "\n"


@pytest.mark.parametrize("listed", [False, True])
@pytest.mark.parametrize(
    ("heads", "mark"), [("#{}", ","), ("# {}", ","), ("#,{}", ","), ("#{}", ";"), ("//{}", "\t")]
)
def test_remarks_name_the_columns_of_rows_with_a_curve_each(
    heads: str, mark: str, listed: bool, tmp_path: Path
) -> None:
    draft = draft_of(tmp_path, marked(LINKS, heads, mark, listed=listed))
    first = "f1" if listed else "f1..fn"
    assert f'columns = ["kind", "no", "n", "{first}"]\nfrequencies = "{first}"' in draft
    assert "preamble" not in draft
    records, problems = read(tmp_path / "export.csv", draft)
    assert [of for of in problems if of.lost_record] == []
    assert [record.label for record in records] == ["L-1", "L-2"]
    for one, record in zip(LINKS, records, strict=True):
        assert curves(record.document) == written(one, *NAMES)
        assert record.document["stated"]["overall"]["verdict"] == "pass"


def test_one_test_alone(tmp_path: Path) -> None:
    draft = draft_of(tmp_path, marked(LINKS[:1]))
    (record,), _ = read(tmp_path / "export.csv", draft)
    assert curves(record.document) == written(LINKS[0], *NAMES)


def test_a_test_without_curves_begins_as_the_others(tmp_path: Path) -> None:
    without = Link("L-3", 12.0)
    text = marked([LINKS[0], without, LINKS[1]])
    lines = [line for line in text.split("\n") if not line.startswith("FRQ,00042")]
    draft = draft_of(tmp_path, "\n".join(lines))
    assert 'test.first_line = "TST,"' in draft
    records, _ = read(tmp_path / "export.csv", draft)
    assert [record.label for record in records] == ["L-1", "L-3", "L-2"]
    assert curves(records[2].document) == written(LINKS[1], *NAMES)


def test_remarks_that_name_columns_are_no_keys_where_rows_stay_unknown(tmp_path: Path) -> None:
    """Titles of frequencies stand below, so that this file is one of curves in rows."""
    rows = "".join(f"{pair},1.9,3.7,9.1,19.4,40.2\n" for pair in ("12", "36", "45", "78"))
    head = "#TST,label\nTST,L-1\n#LIM,limit\nLIM,TIA Cat 6A PL\n"
    draft = draft_of(tmp_path, f"{head}Pair,1 MHz,4 MHz,25 MHz,100 MHz,500 MHz\n{rows}")
    assert 'comment = "#"' in draft
    assert "#TST" not in draft.partition("[fields]")[2]
    assert "preamble.names" not in draft


def test_a_mark_that_no_row_has_without_it_begins_a_key(tmp_path: Path) -> None:
    rows = "".join(f"{pair},1.9,3.7,9.1,19.4,40.2\n" for pair in ("12", "36", "45", "78"))
    text = f"#Cable,L-1\n#Limit,TIA Cat 6A PL\nPair,1 MHz,4 MHz,25 MHz,100 MHz,500 MHz\n{rows}"
    assert 'link.label = "#Cable"' in draft_of(tmp_path, text)
