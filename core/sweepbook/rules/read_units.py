"""The rule about units that the source names beside its numbers."""

from collections.abc import Iterator

from sweepbook.dialect.other_units import is_note
from sweepbook.rules.case import Case
from sweepbook.rules.model import Hit


def units_are_as_read(case: Case) -> Iterator[Hit]:
    """Yield what the reader noted of a unit that the source names and it did not read in."""
    for number, note in enumerate(case.document.get("resolved", {}).get("notes", ())):
        if is_note(note):
            yield Hit(f"$.resolved.notes[{number}]", {"problem": note})
