"""Which role a row has where rows say what they hold: told once for each distinct naming."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from operator import itemgetter
from typing import TYPE_CHECKING, NamedTuple

from sweepbook.dialect.model import BARE_ROLES
from sweepbook.dialect.names import placeholders
from sweepbook.dialect.parameters import can_be_swept
from sweepbook.dialect.raw import Name
from sweepbook_plugins.csv.forms import FigureForm, NameColumns, RowsForm, Titles, is_template
from sweepbook_plugins.csv.names import Names
from sweepbook_plugins.csv.rows import Row

if TYPE_CHECKING:
    from sweepbook_plugins.csv.place import Place

MOST_PLACES = 100
"""Lines of titles whose roles are kept for the next file."""

Texts = tuple[str, ...]


def _say_pairs(titles: Titles) -> bool:
    """Whether titles of columns say themselves which pairs their cells are of."""
    said = [placeholders(title) for title in titles]
    return all("pairs" in of or "first_pair" in of for of in said)


def getter(positions: Sequence[int]) -> Callable[[Row], Texts]:
    """A function that takes these cells out of a row, always as a tuple."""
    if len(positions) == 1:
        only = positions[0]
        return lambda row: (row[only],)
    return itemgetter(*positions) if positions else lambda row: ()


class Entry(NamedTuple):
    """One cell of a row that is a single figure: its role, its position, and what it is of."""

    role: str
    position: int
    name: Name


@dataclass(frozen=True, slots=True)
class Role:
    """What rows of one naming can be.

    Attributes:
        points: position of the value and name of the curve, for each curve the row has a point of.
        curve: name of the curve that the row is the whole of.
        figures: entries of each form of single figures that it fits.
        key: what the row is called if it is neither.
        aside: whether its kind, or what names it, says that it is none of them, as limits are.
        may_be_point: whether the kind of row allows a point.
        may_be_property: whether the kind of row allows a property.
    """

    points: tuple[tuple[int, Name], ...]
    figures: tuple[tuple[Entry, ...], ...]
    key: str
    aside: bool
    curve: Name | None
    may_be_point: bool
    may_be_property: bool


class Roles:
    """Looks up the role of a row by the cells that name it."""

    def __init__(self, form: RowsForm, place: "Place", names: Names) -> None:
        self._form = form
        self._place = place
        self._names = names
        self._at = {title: position for position, title in enumerate(place.titles)}
        self.positions = self._naming_positions()
        self.naming = getter(self.positions)
        self._others = names.texts(form.other_names) if form.other_names else frozenset()
        self._known: dict[Texts, Role] = {}
        self._columns: dict[Titles, list[tuple[int, str]]] = {}

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

    def columns_of(self, wanted: Titles) -> list[tuple[int, str]]:
        """Position and title of each column that titles, or templates of them, stand for.

        Of titles as they stand the first that is there; of templates all that there are.
        """
        if wanted not in self._columns:
            self._columns[wanted] = self._found(wanted)
        return self._columns[wanted]

    def _found(self, wanted: Titles) -> list[tuple[int, str]]:
        plain = [title for title in wanted if title in self._at and not is_template(title)]
        found = [(self._at[title], title) for title in plain[:1]]
        if templates := tuple(filter(is_template, wanted)):
            texts = self._names.texts(templates).difference(plain)
            found += [(at, of) for at, of in enumerate(self._place.titles) if of and of in texts]
        return found

    def _find(self, row: Sequence[str]) -> Role:
        form = self._form
        kind = row[self._at[form.kind]].strip() if form.kind is not None else None

        def allowed(kinds: frozenset[str]) -> bool:
            return kind is None or kind in kinds

        may_be_point = form.point is not None and allowed(form.point.kinds)
        points: list[tuple[int, Name]] = []
        if form.point and may_be_point:
            points = self._named(form.point.name, form.point.value, row, bare=False)
        figures = [self._entries(of, row) for of in form.figures if allowed(of.kinds)]
        key = self._key(row)
        naming = {key, *(row[at].strip() for at in self.positions)}
        return Role(
            points=tuple(points),
            figures=tuple(entries for entries in figures if entries),
            key=key,
            aside=kind in form.other_kinds or not naming.isdisjoint(self._others),
            curve=self._curve(row) if form.curve and allowed(form.curve.kinds) else None,
            may_be_point=may_be_point,
            may_be_property=form.properties is not None and allowed(form.properties.kinds),
        )

    def _curve(self, row: Sequence[str]) -> Name | None:
        """What a row is the whole curve of."""
        assert self._form.curve is not None
        columns = self._form.curve.name
        cells = tuple(row[self._at[of]] for of in columns.titles)
        found = self._names.name(self._place, columns.templates, cells)
        return found if found and can_be_swept(found.parameter) else None

    def _entries(self, form: FigureForm, row: Sequence[str]) -> tuple[Entry, ...]:
        others = [titles for role, titles in form.roles.items() if role not in BARE_ROLES]
        bare = all(_say_pairs(titles) for titles in others)
        return tuple(
            Entry(role, position, name)
            for role, titles in form.roles.items()
            for position, name in self._named(
                form.name, titles, row, bare=bare and role in BARE_ROLES
            )
        )

    def _named(
        self, columns: NameColumns, titles: Titles, row: Sequence[str], *, bare: bool
    ) -> list[tuple[int, Name]]:
        """Position and name of each cell below titles, or templates of them, that has one."""
        templates = columns.templates
        cells = tuple(row[self._at[of]] for of in columns.titles)
        name, place = self._names.name, self._place
        found = [
            (at, name(place, (*templates, titles), (*cells, of), bare=bare))
            for at, of in self.columns_of(titles)
        ]
        return [(at, of) for at, of in found if of is not None]

    def _key(self, row: Sequence[str]) -> str:
        """What to call a row that has no name: its key column first, then what else names it."""
        form = self._form
        first = [self._at[form.properties.key]] if form.properties else []
        named = {
            title
            for of in (form.point, form.curve, *form.figures)
            if of
            for title in of.name.titles
        }
        if form.properties:
            named.add(form.properties.key)
        kind = [self._at[form.kind]] if form.kind is not None and form.kind not in named else []
        order = dict.fromkeys([*first, *self.positions])
        if kind and row[kind[0]].strip() in form.other_kinds:
            order, kind = dict.fromkeys([*kind, *order]), []
        texts = [row[position].strip() for position in order if position not in kind]
        return " ".join(text for text in texts if text)

    @classmethod
    def below(cls, form: RowsForm, place: "Place", names: Names) -> "Roles":
        """The roles below some titles and headings: the same ones for file after file."""
        below = (place.section.where, place.titles, place.headings)
        known = names.roles.get(below)
        if not isinstance(known, cls):
            known = cls(form, place, names)
            if len(names.roles) < MOST_PLACES:
                names.roles[below] = known
        return known

    def _naming_positions(self) -> list[int]:
        form = self._form
        titles = [form.kind] if form.kind is not None else []
        titles += form.point.name.titles if form.point else []
        titles += form.curve.name.titles if form.curve else []
        for figures in form.figures:
            titles += figures.name.titles
        titles += [form.properties.key] if form.properties else []
        return [self._at[title] for title in dict.fromkeys(titles)]
