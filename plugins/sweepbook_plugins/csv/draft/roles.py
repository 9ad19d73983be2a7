"""Which column of a table whose rows say what they hold is what."""

import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import pairwise

from sweepbook.dialect.parameters import can_be_swept
from sweepbook.dialect.wiring import scheme_said
from sweepbook.draft import phrases, tongues, tongues_more
from sweepbook.draft.absent_words import says
from sweepbook.draft.legend import Legend
from sweepbook.draft.naming import settle
from sweepbook.draft.numbers import is_frequency, is_numeric, is_sweep
from sweepbook.draft.parsed import UNIT_WORDS
from sweepbook.draft.trade_words import END_TITLES, NO_VALUE
from sweepbook.draft.verdicts import are_verdicts, verdict_of
from sweepbook.word_lists import words_of
from sweepbook_plugins.csv.draft.teller import teller_of
from sweepbook_plugins.csv.draft.text import Cells

_MOST_WORDS = 400
_MOST_KINDS = 6
_WITH_NONE = 3
"""Words for both ends and for none."""
_FEW_NUMBERS = 20
"""A column of so few different numbers holds names of pairs, or the like."""
_VALUE_WORDS = (
    *words_of("value, reading, measured, db, level, loss, result"),
    *tongues.WORDS["value"],
    *tongues_more.WORDS["value"],
)

_CONTACTS = re.compile(r"[1-8][.,+-][1-8]")


@dataclass
class Roles:
    """Positions of columns.

    Attributes:
        frequency, value: of the axis and of what is measured; None where there is none.
        names: that name a row: parameter, pairs, end, alone or together.
        subject: the one of these that names the parameter.
        test: that tells tests apart, or None.
        test_sure: whether its texts show that.
        kind: that tells what a row holds, or None.
        unit: that holds the unit of what is measured, or None.
        free: all others.
        rivals: those of numbers that might hold what is measured too.
        titled: those of numbers whose titles name what is measured, where no cell does.
    """

    frequency: int | None = None
    value: int | None = None
    names: list[int] = field(default_factory=list)
    subject: int | None = None
    test: int | None = None
    test_sure: bool = False
    kind: int | None = None
    unit: int | None = None
    free: list[int] = field(default_factory=list)
    rivals: list[int] = field(default_factory=list)
    titled: list[int] = field(default_factory=list)


def roles_of(
    titles: Sequence[str], rows: Sequence[Cells], legend: Legend, *, alone: bool,
    starts: Sequence[int] = (0,),
) -> Roles:  # fmt: skip
    """Find what each column is.

    Args:
        titles: of the columns.
        rows: their cells.
        legend: what the file explains of pairs and ends.
        alone: whether the file holds no other kind of table; only then may a column tell tests
            apart.
        starts: positions of the rows with which each file begins.
    """
    roles = Roles()
    columns = [[row[at] for row in rows] for at in range(len(titles))]
    words = [list(dict.fromkeys(filter(None, column))) for column in columns]
    roles.frequency = axis_at(titles, columns)
    subjects = (
        at for at in range(len(titles)) if at != roles.frequency and _subject(words[at], legend)
    )
    roles.subject = max(subjects, key=lambda at: len(words[at]), default=None)
    at = roles.frequency
    points = rows if at is None else [row for row in rows if row[at]]
    roles.value = _value(titles, points, roles)
    if roles.subject is None and roles.frequency is not None:
        roles.titled = [at for at, title in enumerate(titles) if _is_measured(title, columns[at])]
    if roles.titled:
        roles.value, roles.rivals = roles.titled[0], []
    roles.unit = next((at for at, column in enumerate(columns) if _units(column)), None)
    taken = {roles.frequency, roles.subject, roles.value, roles.unit, *roles.titled}
    rest = [at for at in range(len(titles)) if at not in taken]
    roles.kind = _kind(columns, words, rest, roles.frequency)
    rest = [at for at in rest if at != roles.kind]
    if alone:
        axis = None if roles.frequency is None else columns[roles.frequency]
        roles.test, roles.test_sure = teller_of(titles, columns, rest, axis, starts)
    rest = [at for at in rest if at != roles.test]
    if roles.subject is None and roles.frequency is not None and not roles.titled:
        said = {at: list(dict.fromkeys(filter(None, (row[at] for row in points)))) for at in rest}
        lettered = [
            at
            for at in rest
            if len(said[at]) > 1
            and _lettered(said[at])
            and not _told(said[at], legend)
            and not all(map(scheme_said, said[at]))
        ]
        roles.subject = max(lettered, key=lambda at: len(said[at]), default=None)
        rest = [at for at in rest if at != roles.subject]
    roles.names = _naming(titles, columns, words, rest, roles, legend)
    if roles.subject is not None:
        roles.names = sorted([*roles.names, roles.subject])
    roles.free = [at for at in rest if at not in roles.names]
    return roles


def _naming(
    titles: Sequence[str], columns: Sequence[Cells], words: Sequence[Cells], rest: Sequence[int],
    roles: Roles, legend: Legend,
) -> list[int]:  # fmt: skip
    """The columns that name a row besides the one with its parameter: pairs and ends."""
    varying = [
        at
        for at in rest
        if 0 < len(words[at]) <= _MOST_WORDS and not _of_tests(columns, roles.test, at)
    ]
    said_in = {at: list(filter(says, words[at])) for at in varying}
    found: list[int] = []
    naming = settle([word for at in varying for word in said_in[at]], legend)
    for at in varying:
        if any(map(_is_decimal, words[at])):
            continue
        parsed = [naming.parse(word) for word in said_in[at]]
        said = sum(bool(part.pairs or part.end) and len(part.template) < 40 for part in parsed)
        often = Counter(part.template for part in parsed)
        whole = sum(
            "{" in part.template and (often[part.template] > 1 or not _spare(part.template))
            for part in parsed
        )
        few = len(parsed) == 2 or (len(parsed) == _WITH_NONE and _are_ends(titles[at]))
        few = few and not any(map(verdict_of, said_in[at])) and not said
        if (said * 2 > len(parsed) and whole * 2 > len(parsed)) or (few and _sides(columns[at])):
            found.append(at)
    return found


def _are_ends(title: str) -> bool:
    """Whether a column is called after ends, so that a third word may stand for none."""
    return phrases.whole(title, END_TITLES)


def axis_at(titles: Sequence[str], columns: Sequence[Cells]) -> int | None:
    """The column that is called so; else the only one whose numbers run up again and again."""
    for at, title in enumerate(titles):
        if is_frequency(title):
            return at
    running = [at for at, column in enumerate(columns) if is_sweep(column)]
    return running[0] if len(running) == 1 else None


def _subject(words: Sequence[str], legend: Legend) -> bool:
    """Whether many of the texts of a column name parameters."""
    if not words or len(words) > _MOST_WORDS:
        return False
    named = sum(word in legend.words or phrases.parameter_in(word) is not None for word in words)
    return named >= 2 and named * 3 >= len(words)


def _value(titles: Sequence[str], points: Sequence[Cells], roles: Roles) -> int | None:
    found = []
    for at, title in enumerate(titles):
        if at in (roles.frequency, roles.subject) or is_frequency(title):
            continue
        cells = [row[at] for row in points if row[at]]
        if len(cells) * 2 > len(points) and sum(map(is_numeric, cells)) * 2 > len(cells):
            named = phrases.has(title, _VALUE_WORDS)
            other = phrases.has(title, NO_VALUE)
            found.append((named and not other, not other, len(set(cells)), at))
    if not found:
        return None
    best = max(found)
    roles.rivals = [at for *_, count, at in found if at != best[3] and count > _FEW_NUMBERS]
    return best[3]


def _is_measured(title: str, column: Cells) -> bool:
    """Whether a title names a parameter that has curves, and numbers stand below it."""
    named = phrases.parameter_in(title)
    if named is None or not can_be_swept(named.meaning):
        return False
    filled = [cell for cell in column if cell]
    other = phrases.has(title, NO_VALUE) or is_frequency(title)
    return not other and sum(map(is_numeric, filled)) * 2 > len(filled) > 0


def _units(column: Cells) -> bool:
    """Whether nearly all texts of a column are units of what is measured."""
    filled = [cell for cell in column if cell]
    return 0 < len(filled) <= sum(cell in UNIT_WORDS for cell in filled) * 10 // 9


def _kind(
    columns: Sequence[Cells], words: Sequence[Cells], rest: Sequence[int], frequency: int | None
) -> int | None:
    """The column whose every text stands on rows that all have a frequency, or all have none."""
    if frequency is None:
        return None
    for at in rest:
        if not 2 <= len(words[at]) <= _MOST_KINDS or "" in columns[at]:
            continue
        with_one = {text for text, f in zip(columns[at], columns[frequency], strict=True) if f}
        without = {text for text, f in zip(columns[at], columns[frequency], strict=True) if not f}
        if with_one and without and not with_one & without:
            return at
    return None


def _of_tests(columns: Sequence[Cells], test: int | None, at: int) -> bool:
    """Whether a column holds one text in each of several tests, and not the same in all."""
    if test is None:
        return False
    pairs = set(zip(columns[test], columns[at], strict=True))
    return len({text for _, text in pairs}) > 1 and len(pairs) == len({of for of, _ in pairs})


def _spare(template: str) -> bool:
    """Whether letters or digits are left beside the placeholders of a template."""
    outside = "".join(part.partition("}")[2] for part in f"}}{template}".split("{"))
    return sum(char.isalnum() for char in outside) > 6


def _told(words: Sequence[str], legend: Legend) -> bool:
    """Whether all words are those of pairs or ends, and so name no parameter."""
    naming = settle(words, legend)
    return all(
        part.template in ("{pairs}", "{first_pair}{second_pair}", "{end}")
        for part in map(naming.parse, words)
    )


def _lettered(words: Sequence[str]) -> bool:
    """Whether the texts of a column are words, and no verdicts or long notes."""
    if len(words) > _MOST_WORDS or are_verdicts(words):
        return False
    return sum(any(map(str.isalpha, word)) for word in words) * 2 > len(words)


def _is_decimal(text: str) -> bool:
    """Whether a text is a number with decimals or a sign, and not two contacts such as 3,6."""
    signs = any(mark in text for mark in ".,-+")
    return signs and is_numeric(text) and not _CONTACTS.fullmatch(text)


def _sides(column: Cells) -> bool:
    """Whether a column of two words changes often, as ends do and properties do not."""
    texts = list(filter(says, column))
    return sum(a != b for a, b in pairwise(texts)) > 2
