"""Rows of cells below titles that state single figures of a test."""

from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, NamedTuple

from sweepbook.dialect.names import Namer, placeholders
from sweepbook.dialect.raw import Cell, Name, RawFigure
from sweepbook.dialect.stating import states
from sweepbook_plugins.xml import titled as xml_titled
from sweepbook_plugins.xml.found import joined, listed
from sweepbook_plugins.xml.layout import RowForm
from sweepbook_plugins.xml.plan import Namers

if TYPE_CHECKING:
    from lxml.etree import _Element

_NO_TITLE = (
    "no column of these rows has the title {}; they are kept in extra; see xml.figures.row with "
    "its titles, cells, separator and name"
)
_NO_ROW = (
    "nothing is known by the name {} of these rows; they are kept in extra; see "
    "xml.figures.row.name, words.parameters, words.pairs and words.ends"
)
_NO_FIGURE = (
    "no figure is known by {} of these rows; what stands there is kept in extra; see "
    "xml.figures.row, and its other_columns for what is no figure"
)

Titles = tuple[str, ...]


class Form(NamedTuple):
    """A form of rows, and what looks up the names of figures in them.

    Attributes:
        number: of the form.
        row: how rows are written.
        namers: what looks up names.
        words: the texts of the element around the rows that a namer takes first.
    """

    number: int
    row: RowForm
    namers: Namers
    words: Sequence[str]


@dataclass
class Stated:
    """What the rows of an element state.

    Attributes:
        figures: the figures.
        known: numbers of the forms that know a row by its name.
        left: texts that nothing took, by path from the element around the rows.
        notes: what to say of them.
    """

    figures: list[RawFigure] = field(default_factory=list)
    known: set[int] = field(default_factory=set)
    left: dict[str, str] = field(default_factory=dict)
    notes: list[str] = field(default_factory=list)


class _Figure(NamedTuple):
    """A cell of a row: its role, the title above it and what it is of."""

    role: str
    title: str
    name: Name


def read(element: "_Element", forms: Sequence[Form], path: str, place: Callable[[], str]) -> Stated:
    """The figures in the rows of an element.

    Args:
        element: that which holds the rows and their titles.
        forms: how they are written; all say the same of where rows, titles and cells stand.
        path: path of the element, for keys.
        place: where it stands, for messages.

    Raises:
        Fault: a row has another number of cells than there are titles, or a title comes twice.
    """
    first = forms[0].row
    others = frozenset().union(*(form.row.titles.others for form in forms))
    titles = replace(first.titles, others=others)
    table = xml_titled.read(element, first.path, titles, first.ignored, place)
    columns = {title: texts for title, texts in table.columns.items() if title not in others}
    result = Stated()
    if not columns:
        return result
    lacking = [[of for of, _ in form.row.name if of not in columns] for form in forms]
    if all(lacking):
        result.notes.append(_NO_TITLE.format(listed(lacking[0])))
        return result
    fitting = [form for form, lacks in zip(forms, lacking, strict=True) if not lacks]
    rows = _Rows([_Reading(form, columns) for form in fitting])
    where, row = place().partition(", ")[2], "/".join(step.shown for step in first.path.steps)
    for at, cells in enumerate(zip(*columns.values(), strict=True)):
        texts = dict(zip(columns, cells, strict=True))
        for one in rows.take(texts):
            spot = f"line {table.line_of(at)}, {where}, row {at + 1}, {one.title!r}"
            key = joined(path, f"{row}/{one.title}")
            result.figures.append(RawFigure(one.name, one.role, Cell(texts[one.title], spot), key))
    result.known = rows.known
    if rows.strange:
        result.notes.append(_NO_ROW.format(listed([*rows.strange])))
    if not rows.known:
        return result
    left = {**rows.left, **{of: table.columns[of] for of in table.columns if of in others}}
    result.left = {f"{row}/{of}": "\n".join(some) for of, some in left.items() if any(some)}
    if rows.strange:
        result.left[row] = "\n".join(rows.strange.values())
    unknown = [of for of, some in rows.left.items() if of not in rows.taken and any(some)]
    if unknown := [*unknown, *table.others]:
        result.notes.append(_NO_FIGURE.format(listed(unknown)))
    return result


class _Reading:
    """Looks up what the cells of rows are by one form.

    Args:
        form: the form.
        columns: titles of the columns.
    """

    def __init__(self, form: Form, columns: Collection[str]) -> None:
        self._form = form
        self._titles = {of: _below(of, form.namers[of], columns) for of in form.row.roles.values()}
        self.naming = [title for title, _ in form.row.name]
        self.number = form.number

    def of(self, texts: Mapping[str, str]) -> Iterator[_Figure]:
        """The cells that are figures as the names of their row tell, filled or not."""
        named = [*self._form.words, *(texts[title] for title in self.naming)]
        for role, wanted in self._form.row.roles.items():
            for title in self._titles[wanted]:
                name = self._form.namers[wanted].name([*named, title])
                if name is not None:
                    yield _Figure(role, title, name)


class _Rows:
    """Sorts the cells of rows by what they are.

    Args:
        readings: what looks them up.

    Attributes:
        known: numbers of the forms that knew a row by its name.
        taken: titles of columns that a figure was taken from.
        left: texts of known rows that are no figures, by title.
        strange: other rows, by their name.
    """

    def __init__(self, readings: Sequence[_Reading]) -> None:
        self._readings = readings
        self._naming = list(dict.fromkeys(title for of in readings for title in of.naming))
        self.known: set[int] = set()
        self.taken: set[str] = set()
        self.left: dict[str, list[str]] = {}
        self.strange: dict[str, str] = {}

    def take(self, texts: Mapping[str, str]) -> list[_Figure]:
        """The figures of a row, whose texts are given by title."""
        found: list[_Figure] = []
        is_known = False
        for reading in self._readings:
            told = list(reading.of(texts))
            if told:
                is_known = True
                self.known.add(reading.number)
            filled = [one for one in told if texts[one.title]]
            if states({one.role for one in filled}, {one.role for one in told}):
                found += filled
        if not is_known:
            name = " ".join(texts[title] for title in self._naming if texts[title])
            shown = "; ".join(f"{title}: {text}" for title, text in texts.items() if text)
            self.strange[name] = "\n".join(filter(None, (self.strange.get(name), shown)))
            return []
        self.taken.update(one.title for one in found)
        for title in texts.keys() - {*self._naming, *(one.title for one in found)}:
            self.left.setdefault(title, []).append(texts[title])
        return found


def _below(wanted: Titles, namer: Namer, columns: Collection[str]) -> list[str]:
    """The columns that titles, or templates of them, stand for.

    Of titles as they stand the first that is there; of templates all that there are.
    """
    plain = [title for title in wanted if not placeholders(title)]
    templates = namer.texts()[-1].difference(plain)
    first = [title for title in plain if title in columns][:1]
    return [*first, *(title for title in columns if title and title in templates)]
