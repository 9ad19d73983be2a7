"""Results in one file of XML and the places of their links in another, as in the guide."""

from pathlib import Path

from tests.guide import every_block, told
from tests.joined.test_join import read

BLOCKS = every_block()
AT = next(at for at, (_, text) in enumerate(BLOCKS) if 'other = "{}-places.xml"' in text)
NAMES = ("autumn-round.xml", "autumn-places.xml")
FILES = dict(zip(NAMES, (text for _, text in BLOCKS[AT - 2 : AT]), strict=True))
DIALECT, LINES = BLOCKS[AT][1], BLOCKS[AT + 1][1]


def test_the_example_of_the_guide_reads_as_it_says(tmp_path: Path) -> None:
    records, problems = read(tmp_path, FILES, DIALECT)
    assert problems == []
    assert told(records[0].document) == LINES.splitlines()
    places = [record.document["link"]["near"]["place"] for record in records]
    assert [(of["building"], of["floor"], of["panel"], of["port"]) for of in places] == [
        ("North mill", "1", "A", "7"),
        ("North mill", "2", "C", "31"),
    ]
