"""Which lines are the headings right above a table."""

from collections.abc import Sequence

from sweepbook.dialect.parameters import quantity_of
from sweepbook.draft import phrases
from sweepbook.draft.absent_words import says
from sweepbook.draft.numbers import is_numeric
from sweepbook.draft.parsed import UNIT_WORDS, without
from sweepbook.draft.wire_texts import MOST
from sweepbook_plugins.csv.draft.keys import states_verdict
from sweepbook_plugins.csv.draft.separators import SEPARATORS, is_key
from sweepbook_plugins.csv.draft.text import Cells

_MOST_KEYS = 4
_CONTACTS = frozenset("12345678")


def headings(
    rows: Sequence[Cells], loose: Sequence[int], first: int, *, whole: bool = False
) -> tuple[int | None, int | None]:
    """The lines that are the headings right above a table: the inner and the outer one.

    Args:
        rows: the lines as cells.
        loose: positions of lines in no table.
        first: position of the table.
        whole: whether the heading has to say what is measured, and may have several cells.
    """
    if whole:
        one = loose[-1] if loose else None
        above = one is not None and _above(rows, one, first) and _names(rows[one])
        return (one, None) if above else (None, None)
    heading = loose[-1] if loose and _above(rows, loose[-1], first) else None
    if heading is None and (over := _over_keys(rows, loose, first)) is not None:
        return over, None
    outer = loose[-2] if heading and loose[-2:-1] == [heading - 1] else None
    return heading, outer if outer is not None and _above(rows, outer, heading or 0) else None


def _over_keys(rows: Sequence[Cells], loose: Sequence[int], first: int) -> int | None:
    """A heading that names what is measured, with key lines between it and its table."""
    at = first - 1
    while at >= 0 and len(rows[at]) == 2 and all(rows[at]) and first - at <= _MOST_KEYS:
        at -= 1
    if at < 0 or at == first - 1 or at not in loose[-_MOST_KEYS - 1 :] or len(rows[at]) != 1:
        return None
    return at if phrases.parameter_in(rows[at][0]) and _above(rows, at, at + 1) else None


def _above(rows: Sequence[Cells], line: int, at: int) -> bool:
    """Whether nothing but blank lines stands between, and the line is a heading by its words."""
    if any(rows[line + 1 : at]) or states_verdict(rows[line]):
        return False
    if _states_figure(rows[line]) or _states_wires(rows[line]):
        return False
    names = _names(rows[line])
    if lone(rows[line]):
        return not is_key(rows, line) or (names and not _names_wires(rows[line]))
    several = len(rows[line]) == 2 or len(rows[at]) != len(rows[line]) or _bracketed(rows[line])
    return several and names and (_holds_pairs(rows[line]) or not any(map(is_numeric, rows[line])))


def _holds_pairs(row: Cells) -> bool:
    """Whether cells are a name with pairs such as 1,2, whose contacts the delimiter parts."""
    text = ",".join(row)
    rest = without(text, phrases.parameter_in(text))
    pairs = phrases.PINS.find(rest)
    for pair in pairs:
        rest = without(rest, pair)
    return 0 < len(pairs) < 3 and not any(map(str.isdigit, rest))


def _states_figure(row: Cells) -> bool:
    """Whether a line is a key and a figure, in two cells or in one."""
    parts = [cell for cell in row if cell]
    if len(parts) == 1:
        mark = next((mark for mark in SEPARATORS if mark in parts[0]), None)
        parts = parts[0].split(mark, 1) if mark else parts
    if len(parts) != 2:
        return False
    key, value = parts[0], parts[1].strip()
    number, _, unit = value.partition(" ")
    whole = is_numeric(value) or (is_numeric(number) and unit in (*UNIT_WORDS, "dB"))
    named = phrases.parameter_in(key)
    if named and quantity_of(named.meaning) != "loss":
        lacking = bool(value) and not says(value)
        return is_numeric(number) or lacking  # maybe with a limit behind it
    if _holds_pairs(row):
        return False
    return whole and not phrases.PAIR_LIKE.fullmatch(value)


def _states_wires(row: Cells) -> bool:
    """Whether a line is the name of a wire map, and contacts in the next cell."""
    name = phrases.parameter_in(row[0]) if len(row) > 1 else None
    wires = name is not None and name.meaning == "wire_map"
    return wires and len(_CONTACTS.intersection(row[1])) >= MOST


def _names_wires(row: Cells) -> bool:
    """Whether a line names a wire map, which is stated behind the name, and no curves."""
    named = phrases.parameter_in(row[0])
    return named is not None and named.meaning == "wire_map"


def _names(row: Cells) -> bool:
    return phrases.parameter_in(" ".join(row)) is not None


def _bracketed(row: Cells) -> bool:
    """Whether cells are one text in brackets that the delimiter parts."""
    return row[0][:1] + row[-1][-1:] in ("[]", "()", "<>", "{}")


def lone(row: Cells) -> bool:
    """Whether one cell of a line holds something, and no other."""
    return sum(map(bool, row)) == 1
