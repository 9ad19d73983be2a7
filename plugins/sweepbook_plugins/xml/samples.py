"""Lists in which each piece holds a frequency and its value: `1.0:60.2 1.3:59.8`."""

import re

from sweepbook.dialect.raw import Fault
from sweepbook_plugins.xml.layout import SampleForm
from sweepbook_plugins.xml.lists import Listed

_FORM = re.compile(r"\{(frequency|value)\}([^{}]+)\{(?:frequency|value)\}")


def form_of(text: str) -> SampleForm:
    """A form taken apart; the schema has seen that it names both, and a text between them."""
    match = _FORM.fullmatch(text)
    assert match is not None
    return SampleForm(text, match[2], match[1] == "value")


def parted(listed: Listed, form: SampleForm) -> tuple[list[str], list[str]]:
    """The frequencies and the values of a list, n texts each.

    Raises:
        Fault: a piece does not hold two texts.
    """
    mark = form.between if form.between.strip() else None
    pieces = [piece.split(mark) for piece in listed.texts]
    for at, piece in enumerate(pieces):
        if len(piece) != 2:
            said = f"'{listed.texts[at]:.60}' is not of the form '{form.text}'"
            raise Fault(listed.place_of(at), f"{said}; see sample and separator of xml.curves")
    first, second = ([text.strip() for text in texts] for texts in zip(*pieces, strict=True))
    return (second, first) if form.turned else (first, second)
