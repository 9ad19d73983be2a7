"""Finding the other file of two that hold tests together: beside the first, or among others."""

from collections.abc import Iterable
from pathlib import Path

from sweepbook.dialect.join import PACKED, Join
from sweepbook.errors import SweepbookError
from sweepbook.text import utf8_safe


def other_file(path: Path, join: Join, given: Iterable[Path]) -> Path:
    """The file with the other parts of the tests whose curves are in this one.

    Raises:
        SweepbookError: this is no file with curves by its name, or the other is not at hand.
    """
    name = join.other_name(path.name)
    if name is None:
        raise SweepbookError(
            f"{utf8_safe(path.name)}: the name is neither of the form {join.file!r}, of a file "
            f"with curves, nor {join.other!r}, of the other one.",
            "See join.file and join.other.",
        )
    what = "the other parts of its tests"
    return _found(path, name, given, what, "join.other")


def file_of(path: Path, join: Join, given: Iterable[Path]) -> Path:
    """The file with the curves of the tests of which this one has the other parts.

    Raises:
        SweepbookError: it is not at hand.
    """
    name = join.file_name(path.name) or join.file
    return _found(path, name, given, "the curves of its tests", "join.file", only_given=True)


def _found(
    path: Path, name: str, given: Iterable[Path], what: str, key: str, *, only_given: bool = False
) -> Path:
    """The file of a name beside another one, else the only one of this name among those given."""
    wanted = {name, *(f"{name}{ending}" for ending in PACKED)}
    named = [each for each in given if each.name in wanted]
    beside = [each for each in named if _same_folder(each, path)]
    if not beside and not only_given:
        beside = [at for each in sorted(wanted) if (at := path.with_name(each)).is_file()]
    found = beside or named
    if len(found) == 1:
        return found[0]
    shown = utf8_safe(path.name)
    if found:
        raise SweepbookError(
            f"{shown}: several files of the name {name}, with {what}, are given.",
            "Put the two that belong together into one folder.",
        )
    raise SweepbookError(
        f"{shown}: the file {name}, with {what}, is not at hand.",
        f"Give both files, or the folder that holds them; see {key}.",
    )


def _same_folder(one: Path, other: Path) -> bool:
    return one.parent == other.parent or one.parent.resolve() == other.parent.resolve()
