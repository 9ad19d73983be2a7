"""Axes that curves share, and which of them is that of a curve."""

from collections.abc import Iterator, Mapping
from functools import partial

from sweepbook.dialect.raw import Fault, Name
from sweepbook.numerals import Notation
from sweepbook_plugins.xml import lists
from sweepbook_plugins.xml.found import Axis, CurveAt, Found
from sweepbook_plugins.xml.lists import Listed
from sweepbook_plugins.xml.tree import text_at

Axes = Mapping[str | Name, Axis]
"""Axes by the name that curves call them by, or by what they are of."""
UNNAMED = ""
"""Name of an axis without a name."""


def axes(found: Found, notation: Notation) -> Axes:
    """The axes that a walk has found; of two with one name neither can be used.

    Each is read once: what was found around the tests is asked for by every test.
    """
    read = found.read
    waiting, found.axes = found.axes, []
    for form, element, place, of in waiting:
        called = (text_at(element, form.name) or "").strip() if form.name else UNNAMED
        name = called if of is None else of.bare
        listed: Listed | Fault
        try:
            listed = lists.read(element, form.frequencies, notation, partial(str, place))
        except Fault as fault:
            listed = fault
        if name in read:
            message = f"{shown(name)} stands in {read[name].place} already"
            listed = Fault(place, message)
        read[name] = Axis(listed, place)
    return read


def name_of(at: CurveAt, known: Axes) -> str | Name:
    """The name of the axis of a curve: what it says, or what it is of, as far as an axis is."""
    if at.form.axis:
        return (text_at(at.element, at.form.axis) or "").strip()
    return next((name for name in _wider(at.name.bare) if name in known), UNNAMED)


def shown(name: str | Name) -> str:
    """An axis for people."""
    if isinstance(name, Name):
        return f"the axis of '{name}'"
    return f"the axis {name!r}" if name else "an axis without a name"


def _wider(name: Name) -> Iterator[Name]:
    """The name of a curve, then with less and less of what tells it from others."""
    yield name
    yield name._replace(end=None)
    yield name._replace(pairs=())
    yield name._replace(pairs=(), end=None)
