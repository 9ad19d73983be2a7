"""Rows of cells below titles that state single figures of a test."""

from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, NamedTuple

from sweepbook.dialect.names import Namer, placeholders
from sweepbook.dialect.raw import Cell, Name, RawFigure
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


@dataclass
class Stated:
    """What the rows of an element state.

    Attributes:
        figures: the figures.
        is_known: whether anything is known by the name of a row.
        left: texts that nothing took, by path from the element around the rows.
        notes: what to say of them.
    """

    figures: list[RawFigure] = field(default_factory=list)
    is_known: bool = False
    left: dict[str, str] = field(default_factory=dict)
    notes: list[str] = field(default_factory=list)


class _Figure(NamedTuple):
    """A cell of a row: its role, the title above it and what it is of."""

    role: str
    title: str
    name: Name


def read(
    element: "_Element",
    form: RowForm,
    namers: Namers,
    words: Sequence[str],
    path: str,
    place: Callable[[], str],
) -> Stated:
    """The figures in the rows of an element.

    Args:
        element: that which holds the rows and their titles.
        form: how they are written.
        namers: what looks up names.
        words: the texts of the element that a namer takes first.
        path: path of the element, for keys.
        place: where it stands, for messages.

    Raises:
        Fault: a row has another number of cells than there are titles, or a title comes twice.
    """
    table = xml_titled.read(element, form.path, form.titles, form.ignored, place)
    others = form.titles.others
    columns = {title: texts for title, texts in table.columns.items() if title not in others}
    result = Stated()
    if not columns:
        return result
    if lacking := [title for title, _ in form.name if title not in columns]:
        result.notes.append(_NO_TITLE.format(listed(lacking)))
        return result
    rows = _Rows(form, namers, words, columns)
    where, row = place().partition(", ")[2], "/".join(step.shown for step in form.path.steps)
    for at, cells in enumerate(zip(*columns.values(), strict=True)):
        texts = dict(zip(columns, cells, strict=True))
        for one in rows.take(texts):
            spot = f"line {table.line_of(at)}, {where}, row {at + 1}, {one.title!r}"
            key = joined(path, f"{row}/{one.title}")
            result.figures.append(RawFigure(one.name, one.role, Cell(texts[one.title], spot), key))
    result.is_known = bool(rows.known)
    if not result.is_known:
        result.notes.append(_NO_ROW.format(listed([*rows.strange])))
        return result
    left = {**rows.left, **{of: table.columns[of] for of in table.columns if of in others}}
    result.left = {f"{row}/{of}": "\n".join(some) for of, some in left.items() if any(some)}
    if rows.strange:
        result.left[row] = "\n".join(rows.strange.values())
        result.notes.append(_NO_ROW.format(listed([*rows.strange])))
    unknown = [of for of, some in rows.left.items() if of not in rows.taken and any(some)]
    if unknown := [*unknown, *table.others]:
        result.notes.append(_NO_FIGURE.format(listed(unknown)))
    return result


class _Rows:
    """Sorts the cells of rows by what they are.

    Args:
        form: how rows are written.
        namers: what looks up names.
        words: the texts around the rows that a namer takes first.
        columns: the columns by their titles.

    Attributes:
        known: how many rows had a name that is known.
        taken: titles of columns that a figure was taken from.
        left: texts of known rows that are no figures, by title.
        strange: other rows, by their name.
    """

    def __init__(
        self, form: RowForm, namers: Namers, words: Sequence[str], columns: Collection[str]
    ) -> None:
        self._form = form
        self._namers = namers
        self._words = words
        self._naming = [title for title, _ in form.name]
        self._titles = {of: _below(of, namers[of], columns) for of in form.roles.values()}
        self.known = 0
        self.taken: set[str] = set()
        self.left: dict[str, list[str]] = {}
        self.strange: dict[str, str] = {}

    def take(self, texts: Mapping[str, str]) -> list[_Figure]:
        """The figures of a row, whose texts are given by title."""
        named = [texts[title] for title in self._naming]
        known = list(self._known(named))
        if not known:
            name = " ".join(filter(None, named))
            shown = "; ".join(f"{title}: {text}" for title, text in texts.items() if text)
            self.strange[name] = "\n".join(filter(None, (self.strange.get(name), shown)))
            return []
        self.known += 1
        found = [one for one in known if texts[one.title]]
        if {one.role for one in found} <= {"frequency"}:
            found = []
        self.taken.update(one.title for one in found)
        for title in texts.keys() - {*self._naming, *(one.title for one in found)}:
            self.left.setdefault(title, []).append(texts[title])
        return found

    def _known(self, named: Sequence[str]) -> Iterator[_Figure]:
        """The cells that may be figures of a row, as what names it tells."""
        for role, wanted in self._form.roles.items():
            for title in self._titles[wanted]:
                name = self._namers[wanted].name([*self._words, *named, title])
                if name is not None:
                    yield _Figure(role, title, name)


def _below(wanted: Titles, namer: Namer, columns: Collection[str]) -> list[str]:
    """The columns that titles, or templates of them, stand for.

    Of titles as they stand the first that is there; of templates all that there are.
    """
    plain = [title for title in wanted if not placeholders(title)]
    templates = namer.texts()[-1].difference(plain)
    first = [title for title in plain if title in columns][:1]
    return [*first, *(title for title in columns if title and title in templates)]
