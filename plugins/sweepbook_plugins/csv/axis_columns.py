"""Columns of frequencies in a table with one column a curve: one for all curves, or several."""

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
        self._named: dict[int, Name] = {}
        for at in self.positions:
            title = place.titles[at]
            name = None
            if title in naming:
                name = names.name(place, (templates,), (title,), bare=True)
            if name is not None:
                self._named[at] = name
        self._free = tuple(at for at in self.positions if at not in self._named)

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
        own = [at for at, told in self._named.items() if _is_of(told, name)]
        if own:
            return max(own, key=lambda at: (_told(self._named[at]), at < position, at))
        if self.alone and self._free:
            return self._free[0]
        return max((at for at in self._free if at < position), default=-1)

    def by_place(self, position: int, name: Name) -> range:
        """Positions between a curve and its frequencies, where it goes by these as the nearest."""
        at = self.of(position, name)
        named = at < 0 or at in self._named or not self.several
        return range(0) if named else range(at + 1, position)


def _is_of(told: Name, name: Name) -> bool:
    """Whether all that a title of frequencies tells is so of a curve."""
    return (
        told.parameter == name.parameter
        and told.pairs in ((), name.pairs)
        and told.end in (None, name.end)
    )


def _told(name: Name) -> int:
    """How much a name tells."""
    return len(name.pairs) + (name.end is not None)
