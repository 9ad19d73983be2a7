"""Results in one file of XML and the places of their links in another, as in the guide."""

from pathlib import Path

from tests.guide import job, told
from tests.joined.test_join import read

FILES, DIALECT, LINES = job("example-places", "autumn-round.xml", "autumn-places.xml")


def test_the_example_of_the_guide_reads_as_it_says(tmp_path: Path) -> None:
    records, problems = read(tmp_path, FILES, DIALECT)
    assert problems == []
    assert told(records[0].document) == LINES
    places = [record.document["link"]["near"]["place"] for record in records]
    assert [(of["building"], of["floor"], of["panel"], of["port"]) for of in places] == [
        ("North mill", "1", "A", "7"),
        ("North mill", "2", "C", "31"),
    ]
