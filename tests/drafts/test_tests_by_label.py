"""Drafts of XML in which no curve is known: elements with a label each are its tests."""

from pathlib import Path

from .drafting import draft_of, read
from .links import KHZ, PAIRS, Link, link, shifted

RAW = ("insertion_loss", "return_loss", "next")
LINKS = [link("L-1", 35.5), link("L-2", 80.0), link("L-3", 60.0)]
ENDS = (("remote", "far"), ("local", "near"))


def rows_of(one: Link) -> str:
    """Rows of numbers that nothing titles."""
    curves = [values for (name, *_), values in one.curves.items() if name in RAW]
    rows = (
        " ".join([str(khz), *(shifted(values[at], 2) for values in curves)])
        for at, khz in enumerate(KHZ)
    )
    return "".join(f"<row>{row}</row>" for row in rows)


def entry(one: Link, number: int) -> str:
    lengths = "".join(f' pair{at}="{one.metres + at:.1f}"' for at in range(1, len(PAIRS) + 1))
    return (
        f'<entry number="{number}" result="good"><link>{one.label}</link>'
        f"<limit>TIA-568.2-D Cat 6A PL</limit><tested>2026-03-0{number}T08:00:00Z</tested>"
        f'<length unit="m" result="good"{lengths}/>'
        '<check of="Return loss" result="good" worst-pair="2" worst-end="'
        f'{ENDS[number % 2][0]}" margin-db="3.{number}"/>'
        f"<sweep>{rows_of(one)}</sweep></entry>"
    )


def export(*tests: str) -> str:
    return f"<survey><site>Quay 4</site>{''.join(tests)}</survey>\n"


def test_elements_with_a_label_each_are_tests(tmp_path: Path) -> None:
    text = export(*(entry(one, number) for number, one in enumerate(LINKS, 1)))
    draft = draft_of(tmp_path, text, "export.xml")
    assert "# worked out: each element of this path has a label of its own" in draft
    assert '\ntest = "/survey/entry"\n' in draft
    records, problems = read(tmp_path / "export.xml", draft)
    assert problems == []
    assert [record.label for record in records] == [one.label for one in LINKS]
    for number, (one, record) in enumerate(zip(LINKS, records, strict=True), 1):
        document = record.document
        assert document["test"]["started"]["rfc3339"] == f"2026-03-0{number}T08:00:00+00:00"
        lengths = [of["length_m"] for of in document["results"]["scalars"]]
        assert lengths == [round(one.metres + at, 1) for at in range(1, len(PAIRS) + 1)]
        (margin,) = [of for of in document["stated"]["items"] if "worst_margin" in of]
        assert (margin["parameter"], margin["end"]) == ("return_loss", ENDS[number % 2][1])
        assert margin["worst_margin"]["margin_db"] == float(f"3.{number}")
        assert document["link"]["near"]["place"]["site"] == "Quay 4"


def test_one_test_alone_is_the_one_of_the_file(tmp_path: Path) -> None:
    draft = draft_of(tmp_path, export(entry(LINKS[0], 1)), "export.xml")
    assert "# ASSUMED: the file holds one test" in draft


def test_parts_of_a_test_that_each_name_what_they_measure_are_none(tmp_path: Path) -> None:
    """They have a number, a time and a verdict each, as tests have."""
    parts = "".join(
        f"<part><id>M-00{at}</id><of>{word}</of><tested>2026-03-01T08:0{at}:00Z</tested>"
        f"<result>good</result>{rows_of(LINKS[0])}</part>"
        for at, word in enumerate(("Return loss", "NEXT", "FEXT"), 1)
    )
    text = f"<survey><link>L-1</link><limit>TIA-568.2-D Cat 6A PL</limit>{parts}</survey>\n"
    draft = draft_of(tmp_path, text, "export.xml")
    assert '\ntest = "/survey"\n' in draft
