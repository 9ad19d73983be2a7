"""Which role a row has in a file with one row a point: told once for each distinct naming."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from operator import itemgetter

from sweepbook.dialect.model import BARE_ROLES, Meaning
from sweepbook.dialect.names import Grammar, Namer
from sweepbook.dialect.raw import Name
from sweepbook_plugins.csv_layout import FigureForm, NameColumns, RowsForm

Texts = tuple[str, ...]


def getter(positions: Sequence[int]) -> Callable[[list[str]], Texts]:
    """A function that takes these cells out of a row, always as a tuple."""
    if len(positions) == 1:
        only = positions[0]
        return lambda row: (row[only],)
    return itemgetter(*positions) if positions else lambda row: ()


@dataclass(frozen=True, slots=True)
class Role:
    """What rows of one naming can be.

    Attributes:
        point: name of a curve, if it can be a point.
        figures: form and name, for each form of single figures that it fits.
        key: what the row is called if it is neither.
        may_be_point: whether the kind of row allows a point.
        may_be_property: whether the kind of row allows a property.
    """

    point: Name | None
    figures: tuple[tuple[FigureForm, Name], ...]
    key: str
    may_be_point: bool
    may_be_property: bool


class Roles:
    """Looks up the role of a row by the cells that name it."""

    def __init__(self, form: RowsForm, titles: Sequence[str], meaning: Meaning) -> None:
        self._form = form
        self._at = {title: position for position, title in enumerate(titles)}
        grammar = meaning.grammar
        self._point = _Naming(form.point.name, grammar, self._at, bare=False)
        self._figures = [
            (figures, _Naming(figures.name, grammar, self._at, bare=_bare(figures)))
            for figures in form.figures
        ]
        self.positions = self._naming_positions()
        self.naming = getter(self.positions)
        self._known: dict[Texts, Role] = {}

    def of(self, texts: Texts, row: Sequence[str]) -> Role:
        """The role of a row.

        Args:
            texts: what `naming` took out of the row.
            row: the row.
        """
        role = self._known.get(texts)
        if role is None:
            role = self._find(row)
            if len(self._known) < 10_000:
                self._known[texts] = role
        return role

    def _find(self, row: Sequence[str]) -> Role:
        form = self._form
        kind = row[self._at[form.kind]].strip() if form.kind is not None else None

        def allowed(kinds: frozenset[str]) -> bool:
            return kind is None or kind in kinds

        may_be_point = allowed(form.point.kinds)
        figures = [
            (figures, name)
            for figures, naming in self._figures
            if allowed(figures.kinds) and (name := naming.name(row)) is not None
        ]
        return Role(
            point=self._point.name(row) if may_be_point else None,
            figures=tuple(figures),
            key=self._key(row),
            may_be_point=may_be_point,
            may_be_property=form.properties is not None and allowed(form.properties.kinds),
        )

    def _key(self, row: Sequence[str]) -> str:
        """What to call a row that has no name: its key column first, then what else names it."""
        form = self._form
        first = [self._at[form.properties.key]] if form.properties else []
        kind = [self._at[form.kind]] if form.kind is not None else []
        order = dict.fromkeys([*first, *self.positions])
        texts = [row[position].strip() for position in order if position not in kind]
        return " ".join(text for text in texts if text)

    def _naming_positions(self) -> list[int]:
        form = self._form
        titles = [form.kind] if form.kind is not None else []
        titles += form.point.name.titles
        for figures in form.figures:
            titles += figures.name.titles
        titles += [form.properties.key] if form.properties else []
        return [self._at[title] for title in dict.fromkeys(titles)]


class _Naming:
    """The columns of one form that name a row."""

    def __init__(
        self, columns: NameColumns, grammar: Grammar, at: Mapping[str, int], *, bare: bool
    ) -> None:
        self._namer = Namer(columns.templates, grammar, bare=bare)
        self._take = getter([at[title] for title in columns.titles])

    def name(self, row: Sequence[str]) -> Name | None:
        return self._namer.name(self._take(list(row)))


def _bare(figures: FigureForm) -> bool:
    """Whether the rows may name a parameter without its pairs: none of them is a measurement."""
    return set(figures.roles) <= BARE_ROLES
