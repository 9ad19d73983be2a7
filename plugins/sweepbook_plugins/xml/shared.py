"""Forms that one element may have: each text that names it is looked up once for all of them."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import lru_cache
from typing import TYPE_CHECKING, NamedTuple

from sweepbook.dialect.raw import Name
from sweepbook_plugins.xml.layout import CurveForm, FigureForm, RowForm, TableForm
from sweepbook_plugins.xml.paths import Path
from sweepbook_plugins.xml.plan import Named, Plan
from sweepbook_plugins.xml.tree import text_at

if TYPE_CHECKING:
    from lxml.etree import _Element

LONGEST_NAME = 60
LONGEST_KNOWN = 1_000
"""Characters of all texts that name an element; longer ones are hardly met twice."""
MOST_KNOWN = 10_000
"""Elements of different names; what they are of is looked up once."""


RowsOf = tuple[int, RowForm, Named]
"""Number of a form of rows of figures, how they are written, and what looks up their names."""


class Told(NamedTuple):
    """What the texts that name an element tell.

    Attributes:
        said: these texts for people: `[@of=echo, @pair=2]`.
        names: what it is of, by each form that can tell.
    """

    said: str
    names: Mapping[int, Name]


@dataclass(frozen=True, eq=False)
class Shared:
    """Forms of one element.

    Attributes:
        numbers: their numbers.
        sources: what the texts that name it are called, and where they stand.
        named: each form with the positions of its own among these texts, by number.
        tables: those of tables by number.
        curves: those of other curves by number, points before lists.
        figures: those of single figures by number.
        rows: those of rows of figures by number; those together that are of the same rows.
        attributes: names of the attributes that the texts are, where they all are such.
        refers: whether an attribute of the element chooses what stands at the path of one.
        ups: how many elements up their names say what an element is of.
    """

    numbers: frozenset[int]
    sources: tuple[tuple[str, Path], ...]
    named: tuple[tuple[int, Named, tuple[int, ...]], ...]
    tables: tuple[tuple[int, CurveForm, TableForm, Named], ...]
    curves: tuple[tuple[int, CurveForm], ...]
    figures: tuple[tuple[int, FigureForm], ...]
    rows: tuple[tuple[RowsOf, ...], ...]
    attributes: tuple[str, ...] | None
    refers: bool
    ups: tuple[int, ...]
    _told: dict[tuple[str | None, ...], Told] = field(default_factory=dict)

    def texts(self, element: "_Element") -> list[str | None]:
        """The texts that name an element, None for one that is not there."""
        if self.attributes is not None:
            return [*map(element.get, self.attributes)]
        if self.refers:
            get = element.get
            return [text_at(element, path.begun_at(get)) for _, path in self.sources]
        return [text_at(element, path) for _, path in self.sources]

    def key(self, element: "_Element", texts: Sequence[str | None]) -> tuple[str | None, ...]:
        """All that tells what an element is of."""
        if not self.ups:
            return tuple(texts)
        return (*texts, *[_local(element, up) for up in self.ups])

    def told(self, element: "_Element", texts: Sequence[str | None]) -> Told:
        """What these texts of an element tell."""
        key = self.key(element, texts)
        known = self._told.get(key)
        if known is None:
            if len(self._told) >= MOST_KNOWN:
                self._told.clear()
            known = Told(self._said(texts), dict(self._names(element, texts)))
            if are_short(key):
                self._told[key] = known
        return known

    def _said(self, texts: Sequence[str | None]) -> str:
        told = [
            f"{called}={text.strip()[:LONGEST_NAME]}"
            for (called, _), text in zip(self.sources, texts, strict=True)
            if text is not None
        ]
        return f"[{', '.join(told)}]" if told else ""

    def strange(self, texts: Sequence[str | None]) -> list[str]:
        """The texts of an element that the form nearest to them has no template for, for people."""
        failing: list[list[str]] = []
        for _, named, own in self.named:
            known = named.namer.texts()[len(named.tags) :]
            failing.append([])
            for at, some in zip(own, known, strict=False):
                text = (texts[at] or "").strip()
                if text not in some:
                    shown = repr(text[:LONGEST_NAME]) if text else "nothing"
                    failing[-1].append(f"{shown} at {self.sources[at][0]}")
        return min(failing, key=len, default=[])

    def columns(
        self,
        number: int,
        element: "_Element",
        texts: Sequence[str | None],
        columns: Iterable[str],
    ) -> dict[str, Name]:
        """What the columns of a table are of, those that are known, by what names them.

        Args:
            number: number of the form of the table.
            element: the table.
            texts: those that name it.
            columns: what names each column.
        """
        named = next(named for at, named, _ in self.named if at == number)
        words = self.words(number, element, texts)
        names = {column: named.namer.name([*words, column]) for column in columns}
        return {column: name for column, name in names.items() if name is not None}

    def words(self, number: int, element: "_Element", texts: Sequence[str | None]) -> Sequence[str]:
        """The texts of an element that the namer of a form takes first."""
        _, named, own = next(of for of in self.named if of[0] == number)
        return self._words(element, texts, named, own)

    def _names(
        self, element: "_Element", texts: Sequence[str | None]
    ) -> Iterator[tuple[int, Name]]:
        for number, named, own in self.named:
            form = named.form
            inside = form.table if isinstance(form, CurveForm) else form.row
            if inside is None and (
                name := named.namer.name(self._words(element, texts, named, own))
            ):
                yield number, name

    def _words(
        self, element: "_Element", texts: Sequence[str | None], named: Named, own: Sequence[int]
    ) -> list[str]:
        """The texts of an element that a form looks up."""
        words = [_local(element, up) for up, _ in named.tags]
        return [*words, *[texts[at] or "" for at in own]]


def are_short(texts: Iterable[str | None]) -> bool:
    """Whether some texts are short enough to be kept in mind."""
    return sum(len(text) for text in texts if text is not None) <= LONGEST_KNOWN


@lru_cache(maxsize=1024)
def shared(plan: Plan, numbers: tuple[int, ...]) -> Shared:
    """The forms of these numbers."""
    sources: dict[str, Path] = {}
    for number in numbers:
        sources |= {called: path for called, path, _ in plan.forms[number].form.name.sources}
    at = {called: position for position, called in enumerate(sources)}
    named = {
        number: tuple(at[called] for called, _, _ in plan.forms[number].form.name.sources)
        for number in numbers
    }
    forms = [(number, plan.forms[number].form) for number in named]
    curves = [(number, form) for number, form in forms if isinstance(form, CurveForm)]
    figures = [(number, form) for number, form in forms if isinstance(form, FigureForm)]
    points_first = [(number, form) for number, form in curves if form.table is None]
    tables = [(number, form, form.table, plan.forms[number]) for number, form in curves]
    return Shared(
        frozenset(numbers),
        tuple(sources.items()),
        tuple((number, plan.forms[number], own) for number, own in named.items()),
        tuple((number, form, table, of) for number, form, table, of in tables if table),
        tuple(sorted(points_first, key=lambda numbered: numbered[1].point is None)),
        tuple((number, form) for number, form in figures if form.row is None),
        _same_rows((number, form.row, plan.forms[number]) for number, form in figures if form.row),
        _attributes(sources.values()),
        any(path.refers for path in sources.values()),
        tuple(dict.fromkeys(up for number in named for up, _ in plan.forms[number].tags)),
    )


def _same_rows(forms: Iterable[RowsOf]) -> tuple[tuple[RowsOf, ...], ...]:
    """Forms of rows, those together that say the same of where rows, titles and cells stand."""
    found: dict[object, list[RowsOf]] = {}
    for of in forms:
        titles = replace(of[1].titles, others=frozenset())
        found.setdefault((of[1].path, titles), []).append(of)
    return tuple(map(tuple, found.values()))


def _attributes(paths: Iterable[Path]) -> tuple[str, ...] | None:
    """The names of the attributes of an element that some paths lead to; None if one does not."""
    found = []
    for path in paths:
        if path.steps or path.up or path.attribute is None:
            return None
        found.append(path.attribute)
    return tuple(found)


def _local(element: "_Element", up: int) -> str:
    """Name of an element, or of one above it, without its namespace."""
    found: _Element | None = element
    for _ in range(up):
        found = None if found is None else found.getparent()
    return "" if found is None else str(found.tag).rpartition("}")[2]
