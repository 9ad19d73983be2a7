"""Rows that judge a parameter and state its worst margin: pairs and end are of the margin alone."""

from collections.abc import Collection, Sequence
from typing import NamedTuple

from sweepbook.draft.two_pairs import Names, templates_of

_PAIRS = ({"{pairs}"}, {"{pairs}", "{first_pair}"}, {"{pairs}", "{pairs} {end}"})
_END = {"{end}"}
_OF_A_CASE = ("{pairs}", "{first_pair}", "{second_pair}", "{end}")

Subject = tuple[object, str | None]
"""What tells the test of a row from others, and the parameter of the row."""


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


def parted(names: Names, roles: Collection[str], subjects: Sequence[Subject]) -> Parted:
    """Part them, so that the verdict is that of the parameter and not of its worst pair.

    Rows of one test in which a parameter comes twice judge pairs or ends, and are let be.

    Args:
        names: templates by the title of a column, of those that name a row.
        roles: what the figures of a row are.
        subjects: the test and the parameter of each row; none where tests are not known.
    """
    whole = Parted(names, {}, {})
    groups = sorted({role.partition(".")[0] for role in roles if "." in role})
    others = {role for role in roles if "." not in role} - {"verdict"}
    several = len({parameter for _, parameter in subjects}) > 1
    once = len(set(subjects)) == len(subjects) and all(of is not None for _, of in subjects)
    if "verdict" not in roles or "worst_margin" not in groups or others or not (several and once):
        return whole
    of_case = {title: told for title, of in names.items() if (told := _of_a_case(of))}
    left = {title: of for title, of in names.items() if title not in of_case}
    if not left or not of_case or any("{parameter}" in str(names[of]) for of in of_case):
        return whole
    if set(of_case.values()) <= {"pairs", "end"} and len(set(of_case.values())) == len(of_case):
        beside = {f"{of}.{told}": at for of in groups for at, told in of_case.items()}
        return Parted(left, beside, {}) if "pairs" in of_case.values() else whole
    return Parted(names, {}, left)


def _of_a_case(of: object) -> str:
    """What a column says of a case: "pairs" or "end" alone, "part" of a name, "" for nothing."""
    told = set(templates_of(of))
    if told in _PAIRS:
        return "pairs"
    if told == _END:
        return "end"
    return "part" if any(word in template for template in told for word in _OF_A_CASE) else ""
