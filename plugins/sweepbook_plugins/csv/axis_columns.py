"""Columns of frequencies in a table with one column a curve: one for all curves, or several."""

from sweepbook.dialect.raw import Name
from sweepbook_plugins.csv.forms import NUMBER, CurvesForm, is_template
from sweepbook_plugins.csv.names import Names
from sweepbook_plugins.csv.place import Place


class AxisColumns:
    """The columns of frequencies of a table, and which of them a curve goes by.

    Attributes:
        positions: theirs, rising.
    """

    def __init__(self, form: CurvesForm, place: Place, names: Names) -> None:
        held = names.held(form.frequency, place.titles)
        self.positions = tuple(at for at, title in enumerate(place.titles) if title in held)
        templates = tuple(of for of in form.frequency if is_template(of) and NUMBER not in of)
        naming = names.texts(templates) if templates else frozenset()
        self._named: dict[Name, int] = {}
        for at in self.positions:
            title = place.titles[at]
            name = names.name(place, (templates,), (title,)) if title in naming else None
            if name is not None:
                self._named.setdefault(name, at)

    @property
    def alone(self) -> bool:
        """Whether there is one for all curves."""
        return len(self.positions) == 1

    def of(self, position: int, name: Name) -> int:
        """Position of the frequencies of a curve; -1 where it has none.

        That is the only column of them; else the one whose title names the same curve; else, where
        not all titles of them name curves, the nearest one to the left.

        Args:
            position: of the curve.
            name: what it is of.
        """
        if self.alone:
            return self.positions[0]
        if name in self._named:
            return self._named[name]
        if len(self._named) == len(self.positions):
            return -1
        return max((at for at in self.positions if at < position), default=-1)
