"""Lists of numbers, as texts: in one text, in one element each, or as runs with a step."""

from collections.abc import Callable, Sequence
from itertools import islice
from typing import TYPE_CHECKING, NamedTuple

from sweepbook import numerals
from sweepbook.dialect import runs
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


def read(
    element: "_Element",
    form: ListForm,
    notation: numerals.Notation,
    place: Callable[[], str],
    values: int = 0,
) -> Listed:
    """Read a list.

    Args:
        element: what the paths of the form begin at.
        form: how the list is written.
        notation: the decimal mark of runs.
        place: place of the element, for messages.
        values: how many frequencies a run has that does not say it.

    Raises:
        Fault: there is none, a run is no run, or it is too long.
    """
    if form.text is not None:
        text = text_at(element, form.text)
        if text is None:
            raise Fault(place(), "there is no list of numbers; see xml.curves and xml.axes")
        listed = in_text(element, form.text, form.separator, place, text)
    elif form.point is not None:
        listed = _in_elements(element, form.point, place)
    elif form.run is not None:
        texts = _runs(element, form.run, notation, place, values)
        listed = Listed(texts, lambda position: f"{place()}, frequency {position + 1}")
    else:
        listed = Listed([], lambda position: place())
    return bounded(listed, place)


def bounded(listed: Listed, place: Callable[[], str]) -> Listed:
    """A list that is none without numbers, and has no more than a curve can have.

    Raises:
        Fault: it has none, or is too long.
    """
    count = len(listed.texts)
    if not count:
        raise Fault(place(), "there are no numbers where a list of them is expected; see [xml]")
    if count > MOST_POINTS:
        raise Fault(place(), f"the list has more than {MOST_POINTS:,} numbers")
    return listed


def in_text(
    element: "_Element", path: Path, separator: str | None, place: Callable[[], str], text: str
) -> Listed:
    """Cut a list that is one text, however long it is.

    Args:
        element: what the path of the text begins at.
        path: where it stands.
        separator: what stands between two numbers.
        place: place of the element, for messages.
        text: the list.
    """

    def place_of(position: int) -> str:
        """The line is that of the element and as many more as there are line ends before."""
        holder = find(element, path)
        first = (holder.sourceline or 0) if holder is not None and path.attribute is None else 0
        if not first:
            return f"{place()}, value {position + 1}"
        pieces = split(text, separator)
        at = 0
        for piece in islice(pieces, position + 1):
            at = text.index(piece, at) + len(piece)
        line = first + text.count("\n", 0, at - len(pieces[position]))
        return f"line {line}, {place().partition(', ')[2]}, value {position + 1}"

    return Listed(split(text, separator), place_of)


def _in_elements(element: "_Element", path: Path, place: Callable[[], str]) -> Listed:
    found = every(element, path)
    if path.attribute is None:
        texts = [text_of(each).strip() for each in found]
    else:
        texts = [(each.get(path.attribute) or "").strip() for each in found]

    def place_of(position: int) -> str:
        rest = place().partition(", ")[2]
        return f"line {found[position].sourceline}, {rest}, value {position + 1}"

    return Listed(texts, place_of)


def _runs(
    element: "_Element",
    form: RunForm,
    notation: numerals.Notation,
    place: Callable[[], str],
    values: int,
) -> list[str]:
    """The frequencies of runs, one after the other, expanded exactly in decimal."""
    texts: list[str] = []
    for run in every(element, form.path):
        try:
            start, step = (
                runs.number((text_at(run, path) or "").strip(), what, notation)
                for path, what in ((form.start, "start"), (form.step, "step"))
            )
            if form.count is not None:
                count = runs.count((text_at(run, form.count) or "").strip())
            elif form.stop is None:
                count = values
            else:
                last = (text_at(run, form.stop) or "").strip()
                count = runs.count_to(start, runs.rising(step), runs.number(last, "stop", notation))
            runs.rising(step)
        except ValueError as error:
            raise Fault(place(), str(error)) from error
        if len(texts) + count > MOST_POINTS:
            raise Fault(place(), f"the runs have more than {MOST_POINTS:,} frequencies")
        texts += runs.texts(start, step, count, notation.decimal)
    return texts
