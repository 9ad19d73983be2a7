"""Files that hold parts of two tests rather than of one: what they say contradicts."""

from collections.abc import Iterator, Mapping
from datetime import date

from sweepbook.dialect.dates import NotADate
from sweepbook.dialect.model import Meaning
from sweepbook.dialect.raw import Cell, Fault
from sweepbook.source import Source

ONE_WORD = (
    "link.label",
    "test.limit",
    "test.configuration",
    "test.near.instrument.serial",
    "test.far.instrument.serial",
    "stated.overall",
)
"""Fields of which a test has one: where two files say two things, neither is taken."""

BEGUN = "test.started"
"""Here two files may say two times, of one test that goes on past midnight at most."""


def contradicting(
    known: Mapping[str, Cell], new: Mapping[str, Cell], source: Source, meaning: Meaning
) -> Iterator[Fault]:
    """Yield what one file says of a test and another one contradicts.

    Args:
        known: texts by key of the other files.
        new: those of this one.
        source: this file.
        meaning: which keys are fields.
    """
    for path in ONE_WORD:
        for key in meaning.fields.get(path, ()):
            if key in known and key in new and known[key].text != new[key].text:
                message = (
                    f"{new[key].text!r:.60} stands under {key!r} in {source.name}, and "
                    f"{known[key].text!r:.60} in another file of the test; see join.file and "
                    f"fields.{path}"
                )
                yield Fault(known[key].place, message)
    (first, of), (later, other) = (_day(told, meaning) for told in (known, new))
    if of and other and abs((of - other).days) > 1:
        yield Fault(
            first.place,
            f"the test began at {later.text!r:.60} by {source.name}, and at {first.text!r:.60} by "
            "another file: these are parts of two tests; put the files of one test together, or "
            f"see join.file and fields.{BEGUN}",
        )


def _day(properties: Mapping[str, Cell], meaning: Meaning) -> tuple[Cell, date | None]:
    """When a test began by one file, as a text, and the day; None where that cannot be told."""
    cells = [properties[key] for key in meaning.fields.get(BEGUN, ()) if key in properties]
    text = " ".join(filter(None, (cell.text.strip() for cell in cells)))
    began = Cell(text, cells[0].place if cells else "")
    try:
        return began, meaning.calendar.day(text)
    except NotADate:
        return began, None
