"""Curves: from elements to texts over texts."""

from collections.abc import Iterator, Sequence

from sweepbook.dialect.parameters import can_be_swept
from sweepbook.dialect.raw import Fault, Name, RawCurve
from sweepbook.numerals import Notation
from sweepbook.tokens import read_ahead
from sweepbook_plugins.xml import lists, samples, twice
from sweepbook_plugins.xml.axes import Axes, name_of, shown
from sweepbook_plugins.xml.found import LISTED, CurveAt, Found
from sweepbook_plugins.xml.lists import MOST_POINTS, Listed
from sweepbook_plugins.xml.paths import Names


def curves(found: Found, known: Axes, notation: Notation, names: Names) -> list[RawCurve]:
    """The curves that a walk has found; those that cannot be read become faults of it."""
    read = []
    first: dict[Name, CurveAt] = {}
    last: Sequence[str] = ()
    for at, listed in _listed(found.curves, notation):
        if (before := first.setdefault(at.name.bare, at)) is not at:
            found.fault(at.place(), twice.message(before, at, names))
            continue
        try:
            curve = _curve(at, known, notation, listed)
        except Fault as fault:
            found.fault(fault.place, fault.message)
            continue
        if curve.frequency is not last and curve.frequency == last:
            curve = curve._replace(frequency=last)
        last = curve.frequency
        read.append(curve)
    return read


def _listed(
    curves: Sequence[CurveAt], notation: Notation
) -> Iterator[tuple[CurveAt, Listed | None]]:
    """Curves with the lists of their values, which are read ahead: they are counted so as well."""
    found = [_in_text(at) for at in curves]
    read_ahead([listed.texts for listed in found if listed], notation.decimal)
    return zip(curves, found, strict=True)


def _in_text(at: CurveAt) -> Listed | None:
    """The values of a curve where they are one text, else None."""
    form = at.form.values
    if not at.text or form is None or form.text is None or at.form.sample is not None:
        return None
    return lists.in_text(at.element, form.text, form.separator, at.place, at.text)


def _curve(at: CurveAt, known: Axes, notation: Notation, listed: Listed | None) -> RawCurve:
    """One curve.

    Args:
        at: where it stands.
        known: the axes by name.
        notation: the decimal mark.
        listed: its values, where they have been cut before.

    Raises:
        Fault: it has no axis, or not as many values as the axis has frequencies.
    """
    points = at.points
    if points is not None:
        column = f", {at.column}" if at.column else ""

        def point(position: int) -> str:
            rest = at.place().partition(", ")[2]
            return f"line {points.line_of(position)}, {rest}, point {position + 1}"

        values = Listed(points.value, lambda position: f"{point(position)}{column}")
        _check_length(at, len(points.value))
        if points.frequency:
            return RawCurve(at.name, points.frequency, values.texts, values.place_of, point)
    elif listed is not None:
        values = lists.bounded(listed, at.place)
    elif at.form.values is not None:
        values = lists.read(at.element, at.form.values, notation, at.place)
        if at.form.sample is not None:
            pair = samples.parted(values, at.form.sample)
            return RawCurve(at.name, *pair, values.place_of, values.place_of)
    else:
        raise Fault(at.place(), "the curve has neither points nor values; see xml.curves")
    count = len(values.texts)
    axis = _axis(at, known, notation, count)
    if len(axis.texts) != count:
        if not can_be_swept(at.name.parameter):
            raise Fault(
                at.place(),
                f"'{at.name}' is a single figure and no curve; narrow the path of xml.curves to "
                "what is swept, and give this an xml.figures of its own",
            )
        why, called = _other_length(at, values, axis, notation), _called(at, known)
        raise Fault(
            at.place(),
            f"the curve '{at.name}' has {count} values where {called} has "
            f"{len(axis.texts)} frequencies{why}; see xml.curves with its separator, and xml.axes",
        )
    return RawCurve(at.name, axis.texts, values.texts, values.place_of, axis.place_of)


def _other_length(at: CurveAt, values: Listed, axis: Listed, notation: Notation) -> str:
    """What shows why: numbers cut in two at their decimal mark, or the first of them as read."""
    separator = (at.form.values.separator or "").strip() if at.form.values else ""
    if separator in (".", ",") and separator != notation.decimal:
        whole = all(text.lstrip("+-").isdigit() for text in values.texts)
        if whole and len(values.texts) == 2 * len(axis.texts):
            return (
                f", and all are whole numbers: as if {separator!r} were the decimal mark as well "
                "as the separator, so that where one ends cannot be told; export otherwise"
            )
    return f"; the first values read are {', '.join(map(repr, values.texts[:3]))}"


def _called(at: CurveAt, known: Axes) -> str:
    """What to call the frequencies of a curve."""
    if at.form.frequencies is not None:
        return "its own axis"
    name = name_of(at, known)
    return f"{shown(name) if name else 'the axis'} ({known[name].place})"


def _axis(at: CurveAt, known: Axes, notation: Notation, values: int) -> Listed:
    """The frequencies of a curve of so many values.

    Raises:
        Fault: there are none, or something is wrong with them.
    """
    form = at.form
    if form.frequencies is not None:
        return lists.read(at.element, form.frequencies, notation, at.place, values)
    name = name_of(at, known)
    if form.axis and not name:
        raise Fault(at.place(), f"the curve '{at.name}' names no axis; see xml.curves.axis")
    if name not in known:
        raise Fault(at.place(), _unknown(at, name, known))
    axis = known[name].listed
    if isinstance(axis, Fault):
        raise Fault(axis.place, axis.message)
    return axis


def _unknown(at: CurveAt, name: str | Name, known: Axes) -> str:
    """What to say of a curve whose axis is not there."""
    of = sorted(f"'{one}'" for one in known if isinstance(one, Name))
    called = [repr(one) for one in sorted(one for one in known if isinstance(one, str) and one)]
    if called and not at.form.axis:
        return (
            f"the axes here have names ({', '.join(called)}), and which of them the curve "
            f"'{at.name}' refers to is not said; name the text that does in xml.curves.axis"
        )
    if of and not at.form.axis:
        told = ", ".join(of[:LISTED]) + (f" and {len(of) - LISTED} more" if of[LISTED:] else "")
        return f"the axes here are of {told}, and none is of the curve '{at.name}'; see xml.axes"
    named = shown(name) if name else "the axis"
    return (
        f"{named} of the curve '{at.name}' is not known here (known are "
        f"{', '.join([*called, *of]) or 'none'}); it must stand in the same test, or before it "
        "around it; see xml.axes"
    )


def _check_length(at: CurveAt, length: int) -> None:
    if length > MOST_POINTS:
        raise Fault(at.place(), f"the curve has more than {MOST_POINTS:,} points")
