"""Look-ups of names of one dialect, each made once, and what comes near a name that is none."""

import difflib
from collections.abc import Hashable, Iterable, Sequence
from functools import lru_cache
from typing import TYPE_CHECKING

from sweepbook.dialect.model import Dialect, Meaning
from sweepbook.dialect.names import Namer
from sweepbook.dialect.raw import Name
from sweepbook.dialect.undeclared import Lacking
from sweepbook_plugins.csv.axes import frequency_of
from sweepbook_plugins.csv.forms import RowsForm, Section, Templates, Titles
from sweepbook_plugins.csv.line_marks import ANY_NUMBER, NUMBER

if TYPE_CHECKING:
    from sweepbook_plugins.csv.place import Place

MOST_COMPARED = 20_000
LISTED = 5
WORDS = "words.parameters, words.pairs and words.ends"
_NOTHING = ("",)
"""A second column that says nothing, so that a text with two meanings is no fault here."""


class Names:
    """Makes each look-up of a dialect once.

    Attributes:
        meaning: what the dialect says.
        roles: what was worked out below titles that came before; see `Roles.below`.
        columns: likewise; see `CurveRowColumns.below`.
    """

    def __init__(self, meaning: Meaning) -> None:
        self.meaning = meaning
        self.roles: dict[Hashable, object] = {}
        self.columns: dict[Hashable, object] = {}
        self._made: dict[tuple[tuple[Templates, ...], bool], Namer] = {}
        self._near: dict[tuple[str, Templates], str] = {}
        self._lacks: dict[Templates, Lacking] = {}
        self._lacking: dict[tuple[str, Templates], str] = {}
        self._texts: dict[Templates, frozenset[str]] = {}

    def namer(self, columns: tuple[Templates, ...], *, bare: bool = False) -> Namer:
        """What looks up the texts of these columns.

        Raises:
            Ambiguous: a text could mean two things.
            ValueError: a template cannot be used.
        """
        known = self._made.get((columns, bare))
        if known is None:
            plain = [[of.replace(NUMBER, ANY_NUMBER) for of in some] for some in columns]
            known = self._made[columns, bare] = Namer(plain, self.meaning.grammar, bare=bare)
        return known

    def name(
        self,
        place: "Place",
        columns: tuple[Templates, ...],
        texts: tuple[str, ...],
        *,
        bare: bool = False,
    ) -> Name | None:
        """What the texts name together with the headings above them.

        A table that may stand anywhere can say it all by itself: what the headings say then
        does not count where it contradicts.

        Args:
            place: where the table stands.
            columns: templates of each text.
            texts: the texts.
            bare: whether a name may do without its pairs.
        """
        found = self.namer((*place.templates, *columns), bare=bare).name((*place.texts, *texts))
        if found is None and place.headings and not place.section.heading:
            found = self.namer(columns, bare=bare).name(texts)
        return found

    def texts(self, templates: Templates) -> frozenset[str]:
        """Every text that one of the templates gives, whatever it means there."""
        if templates not in self._texts:
            self._texts[templates] = self.namer((templates, _NOTHING)).texts()[0]
        return self._texts[templates]

    def held(self, templates: Templates, texts: Iterable[str]) -> frozenset[str]:
        """Those of some texts that one of the templates gives; {number} stands for any number."""
        texts = frozenset(texts)
        found = self.texts(tuple(of for of in templates if NUMBER not in of)) & texts
        framed = [of.partition(NUMBER) for of in templates if NUMBER in of]
        for before, _, after in framed:
            found |= {text for text in texts if _number_within(text, before, after)}
        return found

    def todo(self, text: str, templates: Templates, where: str) -> str:
        """What to do about a text that no template stands for, in words.

        Args:
            text: a heading, a title, a cell.
            templates: of such texts.
            where: the key of these.
        """
        if lacking := self.lacking(text, templates):
            return f": {lacking}; else see {where}"
        return f"{self.near(text, templates)}; see {where}, {WORDS}"

    def lacking(self, text: str, templates: Templates) -> str:
        """The words that lack for a text to be known, each with its table; "" for none."""
        key = (text, templates)
        if key not in self._lacking:
            if len(self._lacking) >= MOST_COMPARED:
                return ""
            if templates not in self._lacks:
                self._lacks[templates] = Lacking(templates, self.meaning.grammar)
            found = self._lacks[templates].of(text)
            self._lacking[key] = ", and ".join(of.told for of in found)
        return self._lacking[key]

    def near(self, text: str, templates: Templates) -> str:
        """The nearest text that was declared, in words; "" where none is near."""
        key = (text, templates)
        if key not in self._near and len(self._near) < MOST_COMPARED:
            texts = self.texts(templates)
            texts -= {text, ""}
            close = difflib.get_close_matches(text, sorted(texts)[:MOST_COMPARED], 1, 0.7)
            self._near[key] = f"; {close[0]!r} would be known" if close else ""
        return self._near.get(key, "")


@lru_cache(maxsize=64)
def names_of(dialect: Dialect) -> Names:
    """The look-ups of a dialect."""
    return Names(dialect.meaning)


def of_lines(upper: Sequence[Sequence[str]], lower: Sequence[str]) -> tuple[str, ...]:
    """Titles that begin in lines above and end in the lowest.

    A blank cell above repeats the last one, down to where a line further up begins another.
    """
    if not upper:
        return tuple(map(str.strip, lower))
    width = max(map(len, (*upper, lower)))
    titles = [""] * width
    begun: set[int] = set()
    for line in upper:
        above = ""
        for at in range(width):
            cell = line[at].strip() if at < len(line) else ""
            above = cell or ("" if at in begun else above)
            titles[at] = f"{titles[at]} {above}".strip()
            begun |= {at} if cell else set()
    ends = [cell.strip() for cell in lower] + [""] * (width - len(lower))
    return tuple(f"{title} {end}".strip() for title, end in zip(titles, ends, strict=True))


def are_titles(section: Section, cells: Iterable[str], names: Names) -> bool:
    """Whether these stripped cells are the line of titles of the section's table."""
    form = section.form
    if form is None:
        return False
    held = set(cells)
    if not section.titles <= held:
        return False
    if isinstance(form, RowsForm) and form.curve and form.curve.frequency_titles:
        notation = names.meaning.numbers.notation
        if all(frequency_of(cell, form.curve, notation) is None for cell in held):
            return False
    return all(_holds_one(names.held(choice, held), choice) for choice in form.choices)


def _holds_one(found: Iterable[str], choice: Titles) -> bool:
    """Whether one of the titles found is of a column: a blank cell is no pair without a name."""
    return any(title or title in choice for title in found)


def known_titles(section: Section, cells: Sequence[str], names: Names) -> int:
    """How many of these cells are titles of the section's table."""
    form = section.form
    if form is None:
        return 0
    choices = [*form.choices] if isinstance(form, RowsForm) else [*form.choices, form.name]
    texts = form.titles.union(*(names.held(choice, cells) for choice in choices))
    return sum(cell in texts for cell in cells)


def _number_within(text: str, before: str, after: str) -> bool:
    """Whether a text is a whole number between two others."""
    number = text.removeprefix(before).removesuffix(after)
    return number.isascii() and number.isdigit() and text == f"{before}{number}{after}"


def listed(texts: Iterable[str]) -> str:
    """The first five texts in quotes, and how many more there are."""
    found = list(texts)
    more = f" and {len(found) - LISTED} more" if len(found) > LISTED else ""
    return ", ".join(map(repr, found[:LISTED])) + more
