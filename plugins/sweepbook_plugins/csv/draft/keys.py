"""What stands beside the tables of an export nobody has described: key lines, tests, headings."""

import re
from bisect import bisect_right
from collections import Counter
from collections.abc import Callable, Iterator, Mapping, Sequence

from sweepbook.draft import phrases, tongues, tongues_more
from sweepbook.draft.evidence import Evidence
from sweepbook.draft.fields import guess
from sweepbook.draft.numbers import is_numeric
from sweepbook.draft.verdicts import verdict_of
from sweepbook.draft.zones import is_of_clocks
from sweepbook_plugins.csv.draft import separators
from sweepbook_plugins.csv.draft.counted_keys import counted, counting, one_each
from sweepbook_plugins.csv.draft.named_cells import called
from sweepbook_plugins.csv.draft.parted import some_lack_tables, usual_count
from sweepbook_plugins.csv.draft.separators import LEAST_WORDS, SEPARATORS, is_sentence
from sweepbook_plugins.csv.draft.shape import Shape
from sweepbook_plugins.csv.draft.text import Text
from sweepbook_plugins.csv.draft.values_below import with_values_below
from sweepbook_plugins.csv.line_marks import NUMBER, mark_of

_RELEASE = re.compile(r"[^\W\d_].*\s[vV]?[0-9]+(?:\.[0-9]+)*")
_COMMENTS = ("#", "!", "//", ";", "%")
_MOST_NUMBERS = 5
"""Numbers that a key may have before its value: a test number, pins, a date in its parts."""
_VALUES = ("value", "values", *tongues.WORDS["value"], *tongues_more.WORDS["value"])


def find_tests(text: Text, shape: Shape, loose: Sequence[int]) -> None:
    """What every test begins with, where the same tables come again and again.

    Some tests may lack tables that the others have.
    """
    count = usual_count(shape.tables)
    if count < 2:
        return
    whole = Counter(map(_whole(text), loose))
    begins: dict[int, str] = {}
    for at in loose:
        line = text.lines[at].strip()
        alone = whole[line] >= count and len(text.rows[at]) == 1
        alone = alone and not states_verdict(text.rows[at])
        begins[at] = line if alone else _start(text, at)
    behind = {at: text.lines[at].strip().removeprefix(start) for at, start in begins.items()}
    numbered = counting(begins, behind, [seen.start for seen in shape.tables])
    starts: dict[str, list[int]] = {}
    for at, start in begins.items():
        starts.setdefault(numbered.get(at, start), []).append(at)
    lines = [line.strip() for line in text.lines]
    for start, same in starts.items():
        if same[0] >= shape.tables[0].start or not (
            len(same) == count or some_lack_tables(shape.tables, same, [*starts.values()])
        ):
            continue
        begin = start.partition("{}")[0].rstrip()
        others = _begin_so(lines, begin) > len(same)
        if others and (mark := f"{start}{text.delimiter}") and len(text.rows[same[0]]) > 1:
            others = _begin_so(lines, mark) > len(same)
            start = mark if mark.strip() == mark else f"{mark}{{}}"
        if not others:
            shape.first_line, shape.starts = start, same
            shape.counted = one_each(numbered, same)
            shape.noise += _closing(text, shape, whole, loose)
            return


def _begin_so(lines: Sequence[str], start: str) -> int:
    """How many lines begin as those of tests do."""
    if NUMBER in start:
        return sum(map(bool, map(mark_of(f"{start}{{}}").found, lines)))
    return sum(line.startswith(start) for line in lines)


def _whole(text: Text) -> Callable[[int], str]:
    return lambda at: text.lines[at].strip()


def _closing(
    text: Text, shape: Shape, whole: Mapping[str, int], loose: Sequence[int]
) -> Iterator[str]:
    """Lines that stand behind the last table of every test, alone on their lines."""
    starts = shape.starts
    places: dict[str, list[int]] = {}
    for at, line in enumerate(text.lines):
        places.setdefault(line.strip(), []).append(at)
    stops = [seen.stop for seen in shape.tables]
    ends = [stops[at - 1] if (at := bisect_right(stops, start)) else 0 for start in starts[1:]]
    ends.append(stops[-1])
    for line in dict.fromkeys(map(_whole(text), (at for at in loose if at > starts[0]))):
        there = places[line]
        if whole[line] == len(starts) == len(there) and not _has_digit(line):
            alone = all(len(text.rows[at]) == 1 for at in there)
            alone = alone and not states_verdict(text.rows[there[0]])
            if alone and all(at >= end for at, end in zip(there, ends, strict=True)):
                yield line


def _start(text: Text, at: int) -> str:
    """What a line begins with that may be the same in every test: its key, or all but a value."""
    line, row = text.lines[at].strip(), text.rows[at]
    if len(row) > 1:
        return row[0]
    for separator in SEPARATORS:
        if line.find(separator) > 0:
            return line.partition(separator)[0] + separator.rstrip()
    words = line.split()
    values = [word for word in words if _has_digit(word)]
    if len(values) == 1 and len(words) > 1:
        return line.replace(values[0], "{}").removesuffix("{}").rstrip()
    return line if len(words) < 2 or not any(map(str.isalnum, words[-1])) else " ".join(words[:-1])


def hand_over(shapes: Sequence[Shape], evidence: Evidence) -> None:
    """Hand over the keys of lines with their texts, and which of them stand in every test."""
    tests: list[set[str]] = []
    for shape in shapes:
        mine: list[set[str]] = [set() for _ in shape.starts or [0]]
        for at, key, value in shape.keys:
            evidence.put_line(key, value)
            place = bisect_right(shape.starts, at)
            for one in (mine[place - 1 : place] or mine) if value else ():
                one.add(key)
        tests += mine
        evidence.titled += shape.titled
    evidence.in_all |= set.intersection(*tests)


def value_of(line: str, mark: str) -> str:
    """What stands in a line where the mark of a test has {}, or behind it."""
    if NUMBER in mark:
        return mark_of(mark).value(line)
    start, _, end = mark.partition("{}")
    return line.removeprefix(start).removesuffix(end).strip()


def sort_loose(text: Text, shape: Shape, loose: Sequence[int]) -> None:
    """Key lines with the heading that they stand below, and the first line of the file."""
    remarks = _of_marks(text, loose)
    shape.comments += [of for of in dict.fromkeys(remarks.values()) if of not in shape.comments]
    numbers = {at for at in loose if _holds_numbers_alone(text.rows[at])}
    loose = [at for at in loose if at not in remarks and at not in numbers]
    titles = _titles_of_keys(text, shape, loose)
    shape.noise += [text.lines[at].strip() for at in titles]
    loose = [at for at in loose if at not in titles]
    separators.settle(text, shape, loose)
    heading, starts, headings = "", set(shape.starts), dict.fromkeys(shape.headings)
    over = _over_keys(text, shape)
    titled = with_values_below(text, shape, loose)
    for place, at in enumerate(loose):
        line, row = text.lines[at].strip(), text.rows[at]
        heading = "" if at in starts else heading
        heading = over.get(at, heading)
        parted = separators.told(line, row, shape)
        told = value_of(line, shape.first_line) if at in starts else ""
        if at in titled:
            keys = [(at, _below(heading, key), value) for key, value in titled[at]]
            shape.keys += keys
            shape.titled += [tuple(key for _, key, _ in keys)] if keys else []
        elif at in starts and len(row) == 1 and not parted and (told or place):
            shape.keys.append((at, shape.first_line, told))
        elif parted:
            key, value = parted
            key = counted(key) if at in shape.counted else key
            shape.keys.append((at, _below(heading, key), value))
        elif place == 0 and _opens(text, at):
            shape.opening = line
        elif len(row) > 1 and row[0]:
            if place == 0 and not shape.starts and _names_the_make(row):
                shape.opening = line
            _keys(shape, at, heading, row)
        elif _is_comment(line) or _goes_on_opening(text, shape, loose, place):
            continue
        elif _heads_keys(text, shape, loose[place : place + 2]):
            heading = line
            headings[line] = None
    shape.headings = [*headings]


def _holds_numbers_alone(row: Sequence[str]) -> bool:
    """Whether a line begins with many numbers: a row that some fault parts from its table."""
    return len(row) > _MOST_NUMBERS and all(map(is_numeric, row[:_MOST_NUMBERS]))


def _heads_keys(text: Text, shape: Shape, lines: Sequence[int]) -> bool:
    """Whether a line is the heading of the next one, a key line of its test.

    No sentence is, and none that says in which zone times are.
    """
    at, *following = lines
    begins = any(of in shape.starts for of in following)
    sentence = is_sentence(text.lines[at]) or is_of_clocks(text.lines[at])
    return not begins and not sentence and _is_key_line(text, following, shape.separator)


def _is_key_line(text: Text, next_one: Sequence[int], separator: str) -> bool:
    """Whether the next line, if any, is a key and a value: in cells, or with a mark between."""
    return any(
        len(text.rows[at]) > 1 or (bool(separator) and text.lines[at].find(separator) > 0)
        for at in next_one
    )


def _over_keys(text: Text, shape: Shape) -> dict[int, str]:
    """The heading of a table by the positions of key lines between both."""
    found = {}
    for seen in shape.tables:
        at = seen.start - 1
        while seen.heading and at >= 0 and text.rows[at] and text.lines[at].strip() != seen.heading:
            found[at] = seen.heading
            at -= 1
    return found


def _keys(shape: Shape, at: int, heading: str, row: Sequence[str]) -> None:
    """Keep a key and its value; further cells are values of their own."""
    first = counted(row[0]) if at in shape.counted else row[0]
    for key, value in called(first, row[1:], shape.names):
        shape.keys.append((at, _below(heading, key), value))


def _of_marks(text: Text, loose: Sequence[int]) -> dict[int, str]:
    """The marks of comments by the positions of lines that tell of rows which begin without them.

    So `#TST,no,label` names the columns of rows such as `TST,1,A-17`, and is no key itself.
    """
    firsts = {row[0] for row in text.rows if len(row) > 1}
    found = {}
    for at in loose:
        first = text.rows[at][0] if len(text.rows[at]) > 1 else ""
        mark = next((mark for mark in _COMMENTS if first.startswith(mark)), "")
        rest = first.removeprefix(mark).strip()
        if mark and rest in firsts and not is_numeric(rest):
            found[at] = mark
    return found


def _is_comment(line: str) -> bool:
    """Whether a line begins with a mark of comments and goes on with words, as no heading does."""
    mark = next((mark for mark in _COMMENTS if line.startswith(mark)), "")
    inside = line.strip(mark) if mark else ""
    return bool(mark) and not line.endswith(mark) and len(inside.split()) >= LEAST_WORDS


def _names_the_make(row: Sequence[str]) -> bool:
    """Whether the first line is a name and a number of some release, and says nothing of a test."""
    return len(row) == 2 and _has_digit(row[1]) and not guess({row[0]: [row[1]]}, None)


def _opens(text: Text, at: int) -> bool:
    """Whether the first line is no heading, and no key with a value: or a release that is alone."""
    row = text.rows[at]
    if len(row) > 1 and row[0]:
        return _is_release(row) and not any(text.rows[at + 1 : at + 2])
    return not text.lines[at].strip().startswith("[")


def _titles_of_keys(text: Text, shape: Shape, loose: Sequence[int]) -> Sequence[int]:
    """The first of several key lines where it titles their two columns, as Field;Value does."""
    others = [at for at in loose[1:] if len(text.rows[at]) == len(text.rows[loose[0]])]
    titled = len(others) > 1 and phrases.whole(text.rows[loose[0]][-1], _VALUES)
    alone = titled and len(text.rows[loose[0]]) == len(("key", "value"))
    return loose[:1] if alone and loose[0] not in shape.starts else ()


def _goes_on_opening(text: Text, shape: Shape, loose: Sequence[int], place: int) -> bool:
    """Whether a line just below the first one is of the title, too, and no heading of all keys.

    A blank line is below it, as below no heading of the file, and it has no frame.
    """
    if place != 1 or not shape.opening or loose[:2] != [loose[0], loose[0] + 1]:
        return False
    apart = [at for at in loose[1:] if _is_word(text, at) and not any(text.rows[at + 1 : at + 2])]
    line = text.lines[loose[1]].strip()
    return apart == loose[1:2] and line[0].isalnum() and line[-1] != ":"


def _is_word(text: Text, at: int) -> bool:
    return len(text.rows[at]) == 1 and any(map(str.isalpha, text.rows[at][0]))


def _is_release(row: Sequence[str]) -> bool:
    """Whether a line is a name with the number of a release, and a remark."""
    named = len(row) == 2 and _RELEASE.fullmatch(row[0]) and not _has_digit(row[1])
    return bool(named) and not states_verdict(row) and not guess({row[0]: [row[1]]}, None)


def _has_digit(text: str) -> bool:
    return any(char.isdigit() for char in text)


def states_verdict(row: Sequence[str]) -> bool:
    """Whether a line is a key and a verdict, in two cells or in one."""
    for mark in (":", "="):
        row = [part for cell in row for part in cell.split(mark)]
    return any(verdict_of(part.strip()) for part in row[1:])


def _below(heading: str, key: str) -> str:
    return f"{heading}/{key}" if heading else key
