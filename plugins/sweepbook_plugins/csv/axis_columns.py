"""Columns of frequencies in a table with one column a curve: one for all curves, or several."""

from bisect import bisect_left
from collections.abc import Sequence

from sweepbook.dialect.raw import Name
from sweepbook_plugins.csv.forms import NUMBER, CurvesForm, is_template
from sweepbook_plugins.csv.names import Names
from sweepbook_plugins.csv.place import Place


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
        at = -1 if not self.several or self._own(name) else self.of(position, name)
        return range(0) if at < 0 else range(at + 1, position)

    def _own(self, name: Name) -> Sequence[int]:
        """Positions of the columns whose titles tell of a curve, those that tell most of it."""
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
