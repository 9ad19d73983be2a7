"""Lines right above titles that are no headings: remarks, and what says which pair comes first."""

from itertools import pairwise

from sweepbook.draft import phrases
from sweepbook.draft.legend_order import first_in
from sweepbook.draft.trade_words import ENDS
from sweepbook_plugins.csv.draft.above import lone
from sweepbook_plugins.csv.draft.text import Text

_MARKS = ("# ", "// ", "; ")
_LEAST_LETTERS = 3
_OF_ENDS = tuple({word for ends in ENDS for word in ends if len(word) >= _LEAST_LETTERS})


def asides_in(text: Text) -> set[int]:
    """Positions of the lines above titles that no heading is, and that hide none above them.

    Of remarks below one heading that are not always the same each may tell its table.
    """
    above = (at for at, row in enumerate(text.rows[:-1]) if row and _is_alone(text, at))
    over_titles = [at for at in above if len(text.rows[at + 1]) > 1]
    between = {at for at in over_titles if _is_between(text, at)}
    headings = {text.lines[at - 1]: text.lines[at] for at in between}
    telling = {
        line
        for line, below in pairwise(text.lines)
        if line in headings and below.strip() != headings[line].strip()
    }
    orders = {at for at in over_titles if first_in(text.lines[at].strip())}
    return orders | {at for at in between if text.lines[at - 1] not in telling}


def is_remark(text: Text, at: int) -> bool:
    """Whether a line is a remark, by the mark that it begins with, and no heading of anything."""
    line = text.lines[at].strip()
    alone = len(text.rows[at]) == 1 and line.startswith(_MARKS)
    return alone and _says_no_parameter(line)


def _says_no_parameter(line: str) -> bool:
    return phrases.parameter_in(line) is None and any(map(str.isalnum, line))


def _is_alone(text: Text, at: int) -> bool:
    """Whether a line is one text: a remark may hold the delimiter, and its mark may be that too."""
    marked = text.lines[at].lstrip().startswith(_MARKS)
    return len(text.rows[at]) == 1 or (marked and len(text.rows[at]) < len(text.rows[at + 1]))


def _is_between(text: Text, at: int) -> bool:
    """Whether a remark stands right between a heading that says what is measured and titles.

    One that says at which end, or of which pair, is a part of the heading.
    """
    line = text.lines[at].strip()
    heading = text.lines[at - 1].strip() if at and lone(text.rows[at - 1]) else ""
    if not line.startswith(_MARKS) or not _says_no_parameter(line):
        return False
    tells = phrases.has(line, _OF_ENDS) or any(map(str.isdigit, line))
    named = phrases.parameter_in(heading) is not None and not heading.startswith(line[:2].strip())
    return named and not tells
