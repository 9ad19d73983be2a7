"""Lists of numbers, as texts: in one text, in one element each, or as runs with a step."""

from collections.abc import Callable, Iterator, Sequence
from decimal import Decimal
from itertools import islice
from typing import TYPE_CHECKING, NamedTuple

from sweepbook import numerals
from sweepbook.dialect.raw import Fault
from sweepbook.tokens import split
from sweepbook_plugins.xml.layout import ListForm, RunForm
from sweepbook_plugins.xml.paths import Path
from sweepbook_plugins.xml.tree import every, find, text_at, text_of

if TYPE_CHECKING:
    from lxml.etree import _Element

MOST_POINTS = 1_000_000


class Listed(NamedTuple):
    """A list of numbers as texts.

    Attributes:
        texts: n texts.
        place_of: place of the text at a position, for messages.
    """

    texts: Sequence[str]
    place_of: Callable[[int], str]


def read(element: "_Element", form: ListForm, notation: numerals.Notation, place: str) -> Listed:
    """Read a list.

    Args:
        element: what the paths of the form begin at.
        form: how the list is written.
        notation: the decimal mark of runs.
        place: place of the element, for messages.

    Raises:
        Fault: there is none, a run is no run, or it is too long.
    """
    if form.text is not None:
        listed = _in_text(element, form.text, form.separator, place)
    elif form.point is not None:
        listed = _in_elements(element, form.point, place)
    elif form.run is not None:
        texts = list(_runs(element, form.run, notation, place))
        listed = Listed(texts, lambda position: f"{place}, frequency {position + 1}")
    else:
        listed = Listed([], lambda position: place)
    if not listed.texts:
        raise Fault(place, "there are no numbers where a list of them is expected; see [xml]")
    if len(listed.texts) > MOST_POINTS:
        raise Fault(place, f"the list has more than {MOST_POINTS:,} numbers")
    return listed


def _in_text(element: "_Element", path: Path, separator: str | None, place: str) -> Listed:
    text = text_at(element, path)
    if text is None:
        raise Fault(place, "there is no list of numbers; see xml.curves and xml.axes")
    holder = find(element, path)
    first = (holder.sourceline or 0) if holder is not None and path.attribute is None else 0
    rest = place.partition(", ")[2]

    def place_of(position: int) -> str:
        """The line is that of the element and as many more as there are line ends before."""
        if not first:
            return f"{place}, value {position + 1}"
        pieces = text.split(separator) if separator and separator.strip() else text.split()
        at = 0
        for piece in islice(pieces, position + 1):
            at = text.index(piece, at) + len(piece)
        line = first + text.count("\n", 0, at - len(pieces[position].lstrip()))
        return f"line {line}, {rest}, value {position + 1}"

    return Listed(split(text, separator), place_of)


def _in_elements(element: "_Element", path: Path, place: str) -> Listed:
    found = every(element, path)
    if path.attribute is None:
        texts = [text_of(each).strip() for each in found]
    else:
        texts = [(each.get(path.attribute) or "").strip() for each in found]
    rest = place.partition(", ")[2]
    return Listed(
        texts,
        lambda position: f"line {found[position].sourceline}, {rest}, value {position + 1}",
    )


def _runs(
    element: "_Element", form: RunForm, notation: numerals.Notation, place: str
) -> Iterator[str]:
    """The frequencies of runs, one after the other, expanded exactly in decimal."""
    total = 0
    for run in every(element, form.path):
        start = _decimal(run, form.start, notation, place, "start")
        step = _decimal(run, form.step, notation, place, "step")
        if step <= 0:
            raise Fault(place, f"the step of a run is above 0, read was {step}")
        if form.count is not None:
            count = _count(run, form.count, place)
        else:
            stop = _decimal(run, form.stop or form.start, notation, place, "stop")
            steps = (stop - start) / step
            if steps < 0 or steps != steps.to_integral_value():
                raise Fault(place, f"no whole number of steps of {step} leads {start} to {stop}")
            count = int(steps) + 1
        total += count
        if total > MOST_POINTS:
            raise Fault(place, f"the runs have more than {MOST_POINTS:,} frequencies")
        yield from _run(start, step, count, notation.decimal)


def _run(start: Decimal, step: Decimal, count: int, mark: str) -> Iterator[str]:
    """The numbers of one run in decimal: counted in whole steps of their last digit."""
    exponents = [one.as_tuple().exponent for one in (start, step)]
    places = max(0, *[-exponent for exponent in exponents if isinstance(exponent, int)])
    first, each = (int(one.scaleb(places)) for one in (start, step))
    numbers = range(first, first + count * each, each)
    if not places:
        yield from map(str, numbers)
        return
    for number in numbers:
        sign, digits = "-" * (number < 0), str(abs(number)).rjust(places + 1, "0")
        yield f"{sign}{digits[:-places]}{mark}{digits[-places:]}"


def _decimal(
    run: "_Element", path: Path, notation: numerals.Notation, place: str, what: str
) -> Decimal:
    text = (text_at(run, path) or "").strip()
    try:
        numerals.parse(text, notation)
    except numerals.NotANumber as error:
        raise Fault(place, f"the {what} of a run is a number, read was {text!r:.60}") from error
    plain = text.replace(notation.thousands, "") if notation.thousands else text
    return Decimal(plain.replace(notation.decimal, "."))


def _count(run: "_Element", path: Path, place: str) -> int:
    text = (text_at(run, path) or "").strip()
    if not text.isascii() or not text.isdigit() or len(text) > 9 or int(text) == 0:
        raise Fault(place, f"the count of a run is a whole number above 0, read was {text!r:.60}")
    return int(text)
