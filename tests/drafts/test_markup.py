"""XML of which no draft of text tables is made, and lines between marks that are no XML."""

from pathlib import Path

import pytest

from sweepbook.registry import load
from sweepbook.source import Source

from .drafting import LIBRARY
from .links import KHZ, PAIRS, link, shifted

ONE = link("B-31", 44.0)
LOSSES = {pairs[0]: of for (name, _, pairs), of in ONE.curves.items() if name == "insertion_loss"}


def rows(mark: str) -> list[str]:
    """A table: the frequency, and a column a pair."""
    made = [mark.join(["kHz", *(f"Insertion loss {pair}" for pair in PAIRS)])]
    for at, khz in enumerate(KHZ):
        made.append(mark.join([str(khz), *(shifted(LOSSES[pair][at], 2) for pair in PAIRS)]))
    return made


def table(mark: str) -> str:
    """The same below a key, as a text table."""
    return "\n".join([f"Cable ID{mark}{ONE.label}", "", *rows(mark), ""])


def csv_draft(*paths: Path) -> list[str] | None:
    """The names of the tables that text tables would have; None where there are none."""
    draft = load().formats["csv"].draft
    assert draft is not None
    tables = draft([Source(path) for path in paths], LIBRARY)
    return None if tables is None else [of.name for of in tables]


@pytest.mark.parametrize("mark", [";", "|", ","])
@pytest.mark.parametrize(
    "top",
    [
        '<?xml version="1.0"?>\n<dump>',
        '\ufeff\n <?xml version="1.0"?><!-- pins\nby number --><dump>',
        '<!-- of the north hall -->\n<dump xmlns="urn:k" day="3"><set/>',
    ],
    ids=["declaration", "marks before it", "elements alone"],
)
def test_rows_within_xml_are_no_text_table(top: str, mark: str, tmp_path: Path) -> None:
    """The same rows by themselves are one."""
    (tmp_path / "bare.txt").write_text(table(mark), encoding="utf-8")
    assert csv_draft(tmp_path / "bare.txt") is not None
    text = f"{top}\n{table(mark)}</dump>\n"
    (tmp_path / "within.txt").write_text(text, encoding="utf-8")
    assert csv_draft(tmp_path / "within.txt") is None


@pytest.mark.parametrize("head", ["<LINK>", "<LINK>\n<TEST>"])
def test_headings_between_marks_are_no_xml(head: str, tmp_path: Path) -> None:
    (tmp_path / "export.txt").write_text(f"{head}\n{table(';')}", encoding="utf-8")
    assert csv_draft(tmp_path / "export.txt") is not None


def test_xml_beside_text_tables_is_told_as_left_out(tmp_path: Path) -> None:
    """Whatever the ending of its name."""
    (tmp_path / "a.txt").write_text(table(";"), encoding="utf-8")
    (tmp_path / "b.dat").write_text('<?xml version="1.0"?>\n<set>a;b</set>\n', encoding="utf-8")
    draft = load().formats["csv"].draft
    assert draft is not None
    tables = draft([Source(tmp_path / "a.txt"), Source(tmp_path / "b.dat")], LIBRARY)
    assert tables is not None
    told = [note.text for note in tables[0].notes if "b.dat" in note.text]
    assert len(told) == 1
    assert "a.txt" not in told[0]


def test_many_remarks_above_a_table_are_passed_over_at_once(tmp_path: Path) -> None:
    """Each of them once: to try how many of them one may hold takes twice as long for each more."""
    remarks = "<!-- of the north hall -->\n" * 100
    (tmp_path / "export.txt").write_text(f"{remarks}{table(';')}", encoding="utf-8")
    assert csv_draft(tmp_path / "export.txt") is not None
