"""Cells within key lines that name the cell behind them, as in Delay;ns;Pair 1;163;Pair 2;166."""

import re
from collections.abc import Sequence

from sweepbook.draft import dates, phrases
from sweepbook.draft.absent_words import NOT_MEASURED
from sweepbook.draft.fields import guess
from sweepbook.draft.key_words import INSIDE, INSTRUMENTS, VERSIONS
from sweepbook.draft.naming import Naming, settle
from sweepbook.draft.numbers import is_numeric
from sweepbook.draft.parsed import UNIT_WORDS
from sweepbook.draft.trade_words import LIMIT, MARGIN
from sweepbook.draft.verdicts import verdict_of
from sweepbook_plugins.csv.draft.text import Cells

_LEAST = 3
"""A key, a name and a value."""
_LONGEST = 40
_LEAST_LINES = 3
"""So many lines at least have a second key in one column, one below the other."""
_SAYS = re.compile(r"\w\s*[:=]\s*[^\W\d]")
"""A text that says by itself what something is, as "frequency: kHz", and names no other."""
_BESIDE = (*LIMIT, *MARGIN)


def names_in(rows: Sequence[Cells]) -> list[str]:
    """The texts of cells that name the next one, in the order they come.

    Args:
        rows: key lines as cells.
    """
    turns = {tuple(row): _turns(row[1:]) for row in rows if len(row) >= _LEAST}
    naming = settle([name for some in turns.values() for name, _ in some])
    found: dict[str, None] = {}
    for row, some in turns.items():
        if row[1] in UNIT_WORDS and is_numeric(row[2]) and not any(map(is_numeric, row[3:4])):
            found[row[1]] = None
        known = [_is_known(name, value, naming) for name, value in some]
        if phrases.whole(row[0], INSTRUMENTS):
            told = [_is_of_a_tester(name) for name, _ in some]
            known = [one or other for one, other in zip(known, told, strict=True)]
        sure = len(some) == 1 and _is_sure(*some[0], naming)
        if sure or (len(some) > 1 and sum(known) * 2 >= len(some)):
            found |= dict.fromkeys(name for name, _ in some)
    for at in range(2, max(map(len, rows), default=0) - 1):
        found |= dict.fromkeys(_second_keys([row for row in rows if len(row) > at + 1], at))
    return list(found)


def _second_keys(rows: Sequence[Cells], at: int) -> list[str]:
    """What stands in one column as the keys of a second block, beside that of the lines' own keys.

    A column of blanks parts the blocks, or most of them are keys that are known.
    """
    rows = [row for row in rows if _may_name(row[at]) and row[at + 1]]
    parted = [row for row in rows if at > 2 and not row[at - 1]]
    rows = parted if parted or at > 2 else rows
    names = [row[at] for row in rows]
    others = {cell for row in rows for place, cell in enumerate(row) if place != at}
    if len({*names}) < max(len(names), _LEAST_LINES) or not others.isdisjoint(names):
        return []
    known = sum(_is_known(row[at], row[at + 1], settle(names)) for row in rows)
    return names if known and (parted or known * 2 >= len(rows)) else []


def called(key: str, values: Sequence[str], names: Sequence[str]) -> list[tuple[str, str]]:
    """Keys and texts of a key line, as the reader has them."""
    made: list[tuple[str, str]] = []
    name = ""
    for position, value in enumerate(values, 1):
        if _is_name(values, position, names) and not name:
            name = value
            continue
        if position == 1 or value:
            made.append((key if position == 1 else f"{key}/{name or position}", value))
        name = ""
    return made


def _is_name(values: Sequence[str], position: int, names: Sequence[str]) -> bool:
    """Whether the cell at a position, counted from 1, names the next one, which is no name."""
    behind = values[position : position + 1]
    return values[position - 1] in names and bool(behind) and behind[0] not in names


def _turns(values: Sequence[str]) -> list[tuple[str, str]]:
    """Names and values that stand by turns at the end of a line."""
    found: list[tuple[str, str]] = []
    for at in range(len(values) - 2, -1, -2):
        name, value = values[at], values[at + 1]
        if not _may_name(name) or not value:
            break
        found.append((name, value))
    return found[::-1]


def _may_name(text: str) -> bool:
    lettered = any(map(str.isalpha, text)) and len(text) <= _LONGEST and not _SAYS.search(text)
    return lettered and not is_numeric(text) and not verdict_of(text) and text not in UNIT_WORDS


def _is_sure(name: str, value: str, naming: Naming) -> bool:
    """Whether a text names a pair or a limit, and the next cell holds its number."""
    if not is_numeric(value) and not phrases.whole(value, NOT_MEASURED):
        return False
    return bool(naming.parse(name).pairs) or phrases.has(name, _BESIDE)


def _is_of_a_tester(name: str) -> bool:
    """Whether a text is called as the number or the version of what its line names."""
    return phrases.whole(name, (*VERSIONS, *(word for _, some in INSIDE for word in some)))


def _is_known(name: str, value: str, naming: Naming) -> bool:
    if _is_sure(name, value, naming) or phrases.parameter_in(name):
        return True
    return dates.is_day(value) or any(not one.by_text for one in guess({name: [value]}, None))
