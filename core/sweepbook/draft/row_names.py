"""What names rows of single figures: two columns of pairs, and a worst case beside a verdict."""

from collections.abc import Collection, Sequence
from typing import NamedTuple

from sweepbook.dialect.parameters import parameters
from sweepbook.draft.document import one_of
from sweepbook.draft.figure_names import subject
from sweepbook.draft.reading import Understood

Names = dict[str, object]
"""Templates by the title of a column."""

_PAIRS, _FIRST, _SECOND = "{pairs}", "{first_pair}", "{second_pair}"
_OF_PAIRS = ({"{pairs}"}, {"{pairs}", "{first_pair}"}, {"{pairs}", "{pairs} {end}"})
_END = {"{end}"}
_OF_A_CASE = ("{pairs}", "{first_pair}", "{second_pair}", "{end}")

Subject = tuple[object, str | None]
"""What tells the test of a row from others, and the parameter of the row."""


def of_worst_cases(names: Names) -> tuple[Names, Names]:
    """The columns that name a worst margin, and those of a worst value with pairs of its own.

    Such a table has two columns of pairs, of which the second stands beside the value.
    """
    paired = _paired(names)
    if len(paired) != 2:
        return names, {}
    first, second = paired
    return (
        {title: of for title, of in names.items() if title != second},
        {title: of for title, of in names.items() if title != first},
    )


def as_one_name(
    names: Names, titles: Sequence[str], columns: Sequence[Sequence[str]], found: Understood
) -> Names:
    """The columns with those of first and second pair called so, where both name one curve.

    They do where each row has as many pairs in both together as its parameter needs, and two in
    some row. Otherwise the columns as they are.

    Args:
        names: templates by title, of the columns that name a row.
        titles: of all columns.
        columns: their cells.
        found: what names are made of.
    """
    paired = _paired(names)
    if len(paired) != 2:
        return names
    at = [list(titles).index(title) for title in paired]
    counts = set()
    for row in zip(*columns, strict=True):
        told = [len(found.naming.parse(row[one]).pairs) for one in at]
        word = subject(row, found)
        if word is None or max(told) > 1 or sum(told) not in parameters()[word].pairs:
            return names
        counts.add(sum(told))
    if max(counts, default=0) < 2:
        return names
    first, second = (_templates_of(names[title]) for title in paired)
    both = [of.replace(_PAIRS, _FIRST) for of in first]
    second = list(dict.fromkeys(of.replace(_PAIRS, _SECOND) for of in second))
    alone = first if min(counts) < 2 else []
    return names | {
        paired[0]: one_of(list(dict.fromkeys([*alone, *both]))),
        paired[1]: one_of(second),
    }


def _paired(names: Names) -> list[str]:
    return [title for title, of in names.items() if _PAIRS in str(of)]


def _templates_of(of: object) -> list[str]:
    """The templates of a column, be it one or several."""
    return list(map(str, of)) if isinstance(of, list | tuple) else [str(of)]


class Parted(NamedTuple):
    """The names of such rows.

    Attributes:
        names: templates by title of the columns that name what is stated.
        beside: column by role, of the pairs and the end of what is stated.
        judged: the columns that name the verdict, where these are others; else none.
    """

    names: Names
    beside: dict[str, str]
    judged: Names


def parted(
    names: Names,
    roles: Collection[str],
    subjects: Sequence[Subject],
    filled: Sequence[Collection[str]] = (),
) -> Parted:
    """Part them, so that the verdict is that of the parameter and not of its worst pair.

    Of rows with a verdict, those of one test in which a parameter comes twice judge pairs or ends,
    and are let be.

    Args:
        names: templates by the title of a column, of those that name a row.
        roles: what the figures of a row are.
        subjects: the test and the parameter of each row; none where tests are not known.
        filled: which of these roles each row fills; none where each fills all.
    """
    whole = Parted(names, {}, {})
    groups = sorted({role.partition(".")[0] for role in roles if "." in role})
    others = {role for role in roles if "." not in role} - {"verdict"}
    held = filled or [roles] * len(subjects)
    judges = [at for at in range(len(subjects)) if "verdict" in held[at]]
    valued = any(not others.isdisjoint(held[at]) for at in judges)
    subjects = [subjects[at] for at in judges]
    several = len({parameter for _, parameter in subjects}) > 1
    once = len(set(subjects)) == len(subjects) and all(of is not None for _, of in subjects)
    if "verdict" not in roles or "worst_margin" not in groups or valued or not (several and once):
        return whole
    of_case = {title: told for title, of in names.items() if (told := _of_a_case(of))}
    left = {title: of for title, of in names.items() if title not in of_case}
    if not left or not of_case or any("{parameter}" in str(names[of]) for of in of_case):
        return whole
    alone = set(of_case.values()) <= {"pairs", "end"} and not others  # a value is of its pair
    if alone and len(set(of_case.values())) == len(of_case):
        beside = {f"{of}.{told}": at for of in groups for at, told in of_case.items()}
        return Parted(left, beside, {}) if "pairs" in of_case.values() else whole
    return Parted(names, {}, left)


def _of_a_case(of: object) -> str:
    """What a column says of a case: "pairs" or "end" alone, "part" of a name, "" for nothing."""
    told = set(_templates_of(of))
    if told in _OF_PAIRS:
        return "pairs"
    if told == _END:
        return "end"
    return "part" if any(word in template for template in told for word in _OF_A_CASE) else ""
