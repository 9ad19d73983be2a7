"""Columns of frequencies in a table with one column a curve: one for all curves, or several."""

from bisect import bisect_left
from collections.abc import Sequence
from typing import TYPE_CHECKING

from sweepbook.dialect.raw import Name
from sweepbook.numerals import NotANumber, Notation, parse_column
from sweepbook_plugins.csv.forms import CurvesForm, is_template
from sweepbook_plugins.csv.line_marks import NUMBER
from sweepbook_plugins.csv.names import Names
from sweepbook_plugins.csv.place import Place

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

_LEAST_EVEN = 10
_EVEN = 0.75
"""Of the steps of a limit that rises, rounded to hundredths or not, 0.6 at most are so; of those of
sweeps, whose steps change a few times, nearly all."""


class AxisColumns:
    """The columns of frequencies of a table, and which of them a curve goes by.

    Attributes:
        positions: theirs, rising.
        several: whether the dialect has curves go by different ones.
    """

    def __init__(self, form: CurvesForm, place: Place, names: Names) -> None:
        held = names.held(form.frequency, place.titles)
        self.positions = tuple(at for at, title in enumerate(place.titles) if title in held)
        self.several = len(self.positions) > 1 or any(map(is_template, form.frequency))
        templates = tuple(of for of in form.frequency if is_template(of) and NUMBER not in of)
        naming = names.texts(templates) if templates else frozenset()
        self._named: dict[Name, list[int]] = {}
        for at in self.positions:
            title = place.titles[at]
            name = None
            if title in naming:
                name = names.name(place, (templates,), (title,), bare=True)
            if name is not None:
                self._named.setdefault(name, []).append(at)
        taken = {at for named in self._named.values() for at in named}
        self._free = [at for at in self.positions if at not in taken]

    @property
    def alone(self) -> bool:
        """Whether there is one for all curves."""
        return len(self.positions) == 1

    def of(self, position: int, name: Name) -> int:
        """Position of the frequencies of a curve; -1 where it has none.

        That is the column whose title names the same curve; else, of those whose titles name none,
        the only column of frequencies or the nearest one to the left.

        Args:
            position: of the curve.
            name: what it is of.
        """
        if own := self._own(name):
            return _nearest(own, position, own[0])
        return _nearest(self._free, position, self._free[0] if self.alone and self._free else -1)

    def by_place(self, position: int, name: Name) -> range:
        """Positions between a curve and its frequencies, where it goes by these as the nearest."""
        at = -1 if self._own(name) else self.of(position, name)
        return range(0) if at < 0 else range(at + 1, position)

    def _own(self, name: Name) -> Sequence[int]:
        """Positions of the columns whose titles tell of a curve, those that tell most of it."""
        if not self._named:
            return ()
        told = (
            Name(name.parameter, pairs, end)
            for pairs in (name.pairs, ())
            for end in (name.end, None)
        )
        return next((self._named[of] for of in told if of in self._named), ())


def _nearest(positions: Sequence[int], position: int, other: int) -> int:
    """The last of some rising positions before another one; `other` where none is before it."""
    before = bisect_left(positions, position)
    return positions[before - 1] if before else other


def may_be_axis(
    title: str, texts: Sequence[str], known: frozenset[str], notation: Notation
) -> bool:
    """Whether the texts of a column that nothing names may be frequencies of other curves.

    They are rising numbers above 0. Where the dialect knows of one column of frequencies only,
    limits rise as well. Then half of the numbers or more stand there too, or they rise in even
    steps as no limit does, or the title says so; and they are not just the same.

    Args:
        title: of the column.
        texts: n of them, none blank.
        known: those of the only column of frequencies; none where there may be several.
        notation: how numbers are written.
    """
    if known and known == frozenset(texts):
        return False
    try:
        values, _ = parse_column(texts, notation)
    except NotANumber:
        return False
    rises = values.size > 0 and bool(values[0] > 0.0) and bool((values[1:] > values[:-1]).all())
    return rises and (not known or _shares(texts, known) or _is_even(values) or _says_so(title))


def _shares(texts: Sequence[str], known: frozenset[str]) -> bool:
    if not known.issuperset((texts[0], texts[-1])):
        return False
    return len(known.intersection(texts)) * 2 >= len(texts)


def _is_even(values: "NDArray[np.float64]") -> bool:
    """Whether most steps between numbers are the same as the one before, as in an axis."""
    if values.size < _LEAST_EVEN:
        return False
    steps = (values[1:] - values[:-1]).round(9)
    return float((steps[1:] == steps[:-1]).mean()) >= _EVEN


def _says_so(title: str) -> bool:
    from sweepbook.draft.numbers import is_frequency

    return is_frequency(title)
