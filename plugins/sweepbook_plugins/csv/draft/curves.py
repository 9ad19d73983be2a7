"""A table with one column a curve: its curves, and the dialect's lines for it."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import pairwise

from sweepbook.draft import phrases
from sweepbook.draft.document import FOUND, PARAMETER, Note, Table
from sweepbook.draft.evidence import Evidence, SeenCurve, thin
from sweepbook.draft.legend import Legend
from sweepbook.draft.naming import settle
from sweepbook.draft.numbers import is_frequency, is_numeric, is_sweep
from sweepbook.draft.reading import Understood
from sweepbook.draft.trade_words import LIMIT, MARGIN
from sweepbook.draft.verdicts import are_verdicts
from sweepbook_plugins.csv.draft import axes
from sweepbook_plugins.csv.draft.stated import Stated, as_figures, stated
from sweepbook_plugins.csv.draft.text import Cells

_PAIRS, _MOST_NAMES = 4, 100
_MOST_OTHERS = 12
TITLE = "the title of a column"
_BESIDE = "other_columns"
_WHY = "limits or margins at each frequency, which go to extra and are worked out from the curves"


@dataclass
class CurvesTable:
    """A table with one column a curve.

    Attributes:
        titles: of its columns.
        rows: its rows.
        around: texts of headings above it, by slot.
        frequency: position of the axis, or of the first of several.
        axes: positions of all of them.
        test: position of the column that tells tests apart, or None.
        units: the row of units below the titles, or ().
        others: first cells of rows that are no points.
        stated: of those that state something of each curve, by role.
        verdicts: texts of verdicts among them.
    """

    titles: Sequence[str]
    rows: Sequence[Cells]
    around: dict[str, str] = field(default_factory=dict)
    frequency: int = 0
    test: int | None = None
    units: Sequence[str] = ()
    others: list[str] = field(default_factory=list)
    axes: list[int] = field(default_factory=list)
    stated: Stated = field(default_factory=dict)
    verdicts: list[str] = field(default_factory=list)

    def __post_init__(self) -> None:
        self.frequency = axis_of(self.titles, self.rows) or 0
        for at in range(self.frequency):
            texts = [row[at] for row in self.rows]
            changes = sum(a != b for a, b in pairwise(texts))
            if all(texts) and changes + 1 == len(set(texts)) and changes * 4 < len(texts):
                self.test = at
                break
        points = [row for row in self.rows if not self._is_other(row)]
        if len(points) * 2 > len(self.rows):
            self._take_others()
            self.rows = points
        self.axes = axes.positions(self.titles, self.rows, self.frequency)

    def _is_other(self, row: Cells) -> bool:
        """Whether a row is no point: words stand where the frequency does, or only verdicts."""
        return _is_text(row[self.frequency]) or _states_verdicts(row, self.frequency)

    def _take_others(self) -> None:
        """Take the rows that are no points."""
        rows = [row for row in self.rows if self._is_other(row)]
        cells = {row[self.frequency]: row[self.frequency + 1 :] for row in rows}
        filled = {text: [of for of in some if of and of != text] for text, some in cells.items()}
        self.stated = stated(filled)
        self.verdicts = filled[self.stated["verdict"]] if "verdict" in self.stated else []
        others = [text for text in filled if text not in self.stated.values()]
        self.others = others[:_MOST_OTHERS]

    def into(self, evidence: Evidence) -> None:
        """Hand over the curves of the first test, and what else its first columns say."""
        rows = self.rows
        for at in range(self.frequency):
            for text in dict.fromkeys(row[at] for row in rows):
                evidence.put(self.titles[at], text)
        if self.test is not None:
            rows = [row for row in rows if row[self.test] == rows[0][self.test]]
        alone = len(self.axes) == 1
        lone = self._is_named_above()
        for at in self._values():
            if _holds_words([row[at] for row in rows]):
                continue
            texts = {**self.around, **({} if lone else {TITLE: self.titles[at]})}
            axis = axes.beside(self.axes, at)
            points = [(row[axis], row[at]) for row in rows if alone or row[axis]]
            frequency, value = ([point[part] for point in points] for part in (0, 1))
            evidence.curves.append(SeenCurve(texts, thin(frequency), thin(value)))
        evidence.verdicts += self.verdicts
        evidence.axis_names.append(self.titles[self.frequency])
        if self.units:
            evidence.axis_names.append(self.units[self.frequency].strip("[]()"))

    @property
    def beside(self) -> list[str]:
        """Titles of the columns beside those of curves."""
        return list(filter(_beside_curves, self.titles))

    def notes(self) -> list[Note]:
        """What is told of these."""
        return [Note(FOUND, _WHY, self.beside)] if self.beside else []

    def _values(self) -> list[int]:
        """Positions of the columns that may be curves."""
        every = range(self.frequency + 1, len(self.titles))
        return [at for at in every if not _beside_curves(self.titles[at]) and at not in self.axes]

    def _is_named_above(self) -> bool:
        """Whether headings or lines above name the only curve, so that its title need not."""
        above = any(map(phrases.parameter_in, self.around.values()))
        return above and len(self._values()) == 1

    def lines(self, found: Understood, *, told: bool = False) -> list[tuple[str, object]]:
        """Keys and values of csv.curves.

        Args:
            found: what names are made of.
            told: whether a heading says what is measured.
        """
        named = [text for text in found.templates.get(TITLE, []) if "{" in text]
        if told and not named:
            named = [self.titles[at] for at in self._values()]
        if not told and not any(PARAMETER in text for text in named):
            named = [f"{PARAMETER} {{pairs}}", *named]
        lines: list[tuple[str, object]] = []
        if self.test is not None:
            lines.append(("test", self.titles[self.test]))
        lines.append(("frequency", axes.frequency(self.titles, self.axes, found.naming)))
        lines.append(("name", named[0] if len(named) == 1 else named or ["{pairs}"]))
        if self.beside:
            templates = dict.fromkeys(found.naming.parse(title).template for title in self.beside)
            lines.append((_BESIDE, list(templates)))
        rows = [*(self.units[self.frequency : self.frequency + 1]), *self.others]
        if rows:
            lines.append(("other_rows", rows))
        if self.stated:
            lines.append(("figures", as_figures(self.stated)))
        return lines


def curve_lines(table: CurvesTable, found: Understood, where: str = "csv") -> Table:
    """The table `curves` of a dialect, which names columns of one table alone.

    Args:
        table: what it is of.
        found: what names are made of.
        where: the layout's table in the dialect.
    """
    lines = Table(f"[{where}.curves]")
    titles = [of for of in table.titles[table.frequency + 1 :] if of not in table.beside]
    for key, value in table.lines(found):
        notes = [Note(FOUND, "the titles of curves", titles)] if key == "name" else []
        notes = table.notes() if key == _BESIDE else notes
        if key in ("test", "frequency"):
            at = table.test if key == "test" else table.frequency
            notes = [Note(FOUND, "", [row[at or 0] for row in table.rows])]
        lines.add(key, value, *notes)
    return lines


def _beside_curves(title: str) -> bool:
    """Whether a title is of a limit or a margin at each frequency, not of a measurement."""
    return phrases.has(title, (*LIMIT, *MARGIN))


def _holds_words(column: Sequence[str]) -> bool:
    """Whether a column holds different texts, and hardly a number: no curve with gaps."""
    texts = {text for text in column if text and not is_numeric(text)}
    return len(texts) > 1 and not _mostly_numbers(column)


def axis_of(titles: Sequence[str], rows: Sequence[Cells]) -> int | None:
    """The column of frequencies: by its title, else the first one if it runs up as sweeps do."""
    for at, title in enumerate(titles):
        if is_frequency(title):
            return at
    first = [row[0] for row in rows if not _states_verdicts(row, 0)]
    return 0 if is_sweep(first) else None


def _states_verdicts(row: Cells, axis: int) -> bool:
    """Whether a row has verdicts alone, and nothing where the frequency stands in others."""
    return not row[axis] and are_verdicts(row[axis + 1 :])


def are_curves(titles: Sequence[str], rows: Sequence[Cells], legend: Legend) -> bool:
    """Whether a table has one column a curve: an axis, and titles that are all different things.

    Args:
        titles: of the columns.
        rows: their cells.
        legend: what the file explains of pairs.
    """
    axis = axis_of(titles, rows)
    if axis is None or _is_stated(titles, axis):
        return False
    every = axes.positions(titles, [row for row in rows if not _is_text(row[axis])], axis)
    rest = [title for at, title in enumerate(titles) if at > axis and at not in every]
    rest = [title for title in rest if not _beside_curves(title)]  # which may come again
    if len({*rest, *titles[:axis]}) < len(rest) + axis:
        return False
    naming = settle(rest, legend)
    parsed = list(map(naming.parse, rest))
    if not any(part.pairs for part in parsed) and _names_pairs(rows, axis, legend):
        return False
    named = sum(bool(part.parameter or part.pairs) for part in parsed)
    numeric = sum(_mostly_numbers([row[at] for row in rows]) for at in range(axis, len(titles)))
    return 0 < len(rest) <= 2 * named and numeric * 2 > len(titles) - axis


def _is_stated(titles: Sequence[str], axis: int) -> bool:
    """Whether a column of frequencies says where a margin is of the parameter that it names."""
    named = phrases.parameter_in(titles[axis])
    margins = (title for title in titles if phrases.has(title, MARGIN))
    told = {of.meaning for title in margins if (of := phrases.parameter_in(title))}
    return named is not None and named.meaning in told


def _names_pairs(rows: Sequence[Cells], axis: int, legend: Legend) -> bool:
    """Whether a column before the axis holds the pairs of its rows."""
    for at in range(axis):
        words = list(dict.fromkeys(row[at] for row in rows if row[at]))
        if not _PAIRS <= len(words) <= _MOST_NAMES:
            continue
        naming = settle(words, legend)
        if all(naming.parse(word).pairs for word in words):
            return True
    return False


def _is_text(cell: str) -> bool:
    """Whether a cell of the axis holds words."""
    return cell[:1].isalpha() and not is_numeric(cell)


def _mostly_numbers(column: Sequence[str]) -> bool:
    return sum(map(is_numeric, column)) * 2 >= len(column) > 0
