"""Files of tests by their names: which belong to one test, and what names of each kind are like."""

from collections import Counter
from collections.abc import Mapping, Sequence
from typing import NamedTuple

from sweepbook.dialect.paired_names import turned, unpacked
from sweepbook.draft.joins import SHARED, patterns
from sweepbook.given import name_in, path_of
from sweepbook.source import Source

_MOST = 40
"""So many files of each kind show what names are like."""


class Forms(NamedTuple):
    """Such names.

    Attributes:
        curves: form of the names of files with curves, {} in it for what tells the test.
        beside: other files by the form of their names, that of most files first.
        tests: what tells the tests that have curves.
        lacking: by form, the tests that have no such file.
        told_by: "folders" or "names".
    """

    curves: str
    beside: Mapping[str, Sequence[Source]]
    tests: Sequence[str]
    lacking: Mapping[str, Sequence[str]]
    told_by: str


def forms_of(curves: Sequence[Source], others: Sequence[Source]) -> Forms | None:
    """The forms of some names; None where files with curves have not one, each for another test.

    Folders tell tests where there are several, or where names have nothing in common. Files that
    are not called alike for any test with curves are left out.

    Args:
        curves: the files with curves.
        others: those that may lie beside them.
    """
    folders = {path_of(source).parent for source in (*curves, *others)}
    named = _by_names(curves, others) if len(folders) == 1 else None
    form, *others_forms = named or _by_folders(curves, others)
    tests = _tests(curves, form)
    if tests is None or len(tests) < len(curves):
        return None
    beside: dict[str, Sequence[Source]] = {}
    told = {form: tests}
    for one in others_forms:
        mine = [of for of in others if all(of not in some for some in beside.values())]
        mine = [of for of in mine if _test(of, one)]
        found = _tests(mine, one)
        if found is not None and not found.isdisjoint(tests):
            beside[one], told[one] = mine, found
    every = sorted(set().union(*told.values()))
    lacking = {one: [test for test in every if test not in some] for one, some in told.items()}
    told_by = "names" if named else "folders"
    return Forms(form, beside, sorted(tests), lacking, told_by) if beside else None


def _by_folders(curves: Sequence[Source], others: Sequence[Source]) -> list[str]:
    """Forms where a file has one name in each folder, that of the curves first."""
    return [
        f"{SHARED}/{name}"
        for some in (curves[:1], others)
        for name, _ in Counter(unpacked(of.file_name) for of in some).most_common()
    ]


def _by_names(curves: Sequence[Source], others: Sequence[Source]) -> list[str] | None:
    """Forms where names of one test have a part in common, that of the curves first; or None."""
    pairs = Counter(
        (one, other)
        for curve in curves[:_MOST]
        for beside in others[:_MOST]
        for one, other in [patterns([unpacked(curve.file_name), unpacked(beside.file_name)])]
        if SHARED in one and SHARED in other
    )
    if not pairs:
        return None
    form = pairs.most_common(1)[0][0][0]
    return [form, *(other for (one, other), _ in pairs.most_common() if one == form)]


def _tests(sources: Sequence[Source], form: str) -> set[str] | None:
    """What names of a form tell; None where two tell the same."""
    told = [test for test in (_test(source, form) for source in sources) if test]
    return set(told) if len(set(told)) == len(told) else None


def _test(source: Source, form: str) -> str | None:
    return turned(name_in(source, form), form, SHARED)
