"""Tables of curves that key lines above them name: "Measurement;NEXT", then "Pair;12-36"."""

from collections.abc import Sequence
from dataclasses import replace

from sweepbook.draft.document import Table, one_of
from sweepbook.draft.naming import Naming, settle
from sweepbook.draft.numbers import is_frequency, is_numeric
from sweepbook.draft.reading import Understood
from sweepbook_plugins.csv.draft.curves import CurvesTable
from sweepbook_plugins.csv.draft.separators import SEPARATORS
from sweepbook_plugins.csv.draft.shape import Seen
from sweepbook_plugins.csv.draft.text import Text

LEAST_TABLES = 3
_MOST_KEYS = 12

Named = tuple[tuple[str, str], ...]
"""Beginnings of lines with what stands behind them, in order."""


def slot(key: str) -> str:
    """What the place of a text is called that names a curve."""
    return f"the line {key}"


def find(
    text: Text, tables: Sequence[Seen], least: int = LEAST_TABLES
) -> tuple[list[Seen], set[int]]:
    """Such tables with what names them, all others as they are; and the lines that name them.

    Args:
        text: the file.
        tables: in order.
        least: so many tables with lines above them show that these name curves.
    """
    above = {at: lines_above(text, seen) for at, seen in enumerate(tables) if _has_axis(seen)}
    above = {at: lines for at, lines in above.items() if lines}
    if len(above) < least:
        return list(tables), set()
    pairs = {line: pair(text, line) for lines in above.values() for line in lines}
    telling = _telling_keys(list(pairs.values()))
    telling |= _sides([[pairs[line] for line in lines] for lines in above.values()], telling)
    made, taken = list(tables), set()
    for at, lines in above.items():
        named = tuple(pairs[line] for line in lines if pairs[line][0] in telling)
        if not named:
            continue
        top = lines[0] - 1
        heading = text.lines[top].strip() if top >= 0 and len(text.rows[top]) == 1 else ""
        made[at] = replace(made[at], heading=heading, outer="", named=named)
        taken |= {*lines, *([top] if heading else [])}
    return (made, taken) if len(taken) >= least else (list(tables), set())


def sections(tables: Sequence[tuple[Seen, CurvesTable]], found: Understood) -> list[Table]:
    """A section for each line that names curves, within that of the line above it.

    Args:
        tables: the tables, with what they hold.
        found: what names are made of.
    """
    made: dict[tuple[str, str], Table] = {}
    for seen, curves in tables:
        within = ""
        if seen.heading:
            _section(made, seen.heading, "")
            within = seen.heading
        section = None
        for key, text in seen.named:
            template = found.naming.parse_in(slot(key), text).template
            heading = f"{key}{template}"
            section = _section(made, heading, within)
            within = heading
        if section is not None and all(line.key != "curves" for line in section.lines):
            section.add("curves", dict(curves.lines(found, told=True)), *curves.notes())
    return list(made.values())


def _section(made: dict[tuple[str, str], Table], heading: str, within: str) -> Table:
    known = made.get((heading, within))
    if known is None:
        known = made[heading, within] = Table("[[csv.sections]]")
        known.add("heading", one_of([heading]))
        if within:
            known.add("within", within)
    return known


def _has_axis(seen: Seen) -> bool:
    """Whether a table may hold a curve below its first column."""
    return not seen.wide and not seen.given and any(map(is_frequency, seen.titles[:1]))


def lines_above(text: Text, seen: Seen) -> list[int]:
    """Positions of the key lines right above a table's titles, from the first one on."""
    at = seen.start - (3 if seen.units else 2)
    found: list[int] = []
    while at >= 0 and pair(text, at)[0] and len(found) < _MOST_KEYS:
        found.insert(0, at)
        at -= 1
    return found


def pair(text: Text, at: int) -> tuple[str, str]:
    """What a key line begins with, the mark behind its key included, and the rest; else blanks.

    The rest may hold the delimiter, where another mark stands behind the key.
    """
    row, line = text.rows[at], text.lines[at].strip()
    while row and not row[-1]:
        row = row[:-1]
    mark = next((mark for mark in SEPARATORS if row and row[0].find(mark) > 0), None)
    if mark is not None and line.startswith(row[0]):
        key, _, rest = line.partition(mark)
        return f"{key}{mark}{rest[: len(rest) - len(rest.lstrip())]}", rest.strip()
    if len(row) == 2 or (len(row) == 1 and len(text.rows[at]) > 1):
        return f"{row[0]}{text.delimiter}", row[1] if len(row) == 2 else ""
    return "", ""


def _telling_keys(pairs: Sequence[tuple[str, str]]) -> set[str]:
    """The keys whose texts name a curve; none where none of them names parameters."""
    texts: dict[str, dict[str, None]] = {}
    for key, text in pairs:
        texts.setdefault(key, {})[text] = None
    varied = {key: [*some] for key, some in texts.items() if len(some) > 1}
    naming = settle([text for some in varied.values() for text in some])
    told = {key: sum(_names(text, naming) for text in some) for key, some in varied.items()}
    parameters = any(naming.parse(text).parameter for some in varied.values() for text in some)
    return {key for key, some in varied.items() if told[key] * 2 >= len(some) and parameters}


def _sides(tables: Sequence[Sequence[tuple[str, str]]], telling: set[str]) -> set[str]:
    """A key of two words without which two tables would be of one name, as a word for an end is.

    Args:
        tables: keys and texts of the lines above each table.
        telling: keys that name its curve.
    """
    if not telling:
        return set()
    texts: dict[str, set[str]] = {}
    for key, text in (of for lines in tables for of in lines if of[0] not in telling):
        texts.setdefault(key, set()).add(text)
    for key in (key for key, some in texts.items() if len(some) == len(("near", "far"))):
        names = [[of for of in lines if of[0] in telling] for lines in tables]
        ended = [[of for of in lines if of[0] in (*telling, key)] for lines in tables]
        if len({*map(tuple, names)}) < len({*map(tuple, ended)}) == len(tables):
            return {key}
    return set()


def _names(text: str, naming: Naming) -> bool:
    """Whether a text names a parameter, a pair or an end, and is no other number."""
    part = naming.parse(text)
    said = bool(part.parameter or part.pairs or part.end)
    return said and (not is_numeric(text) or bool(part.pairs))
