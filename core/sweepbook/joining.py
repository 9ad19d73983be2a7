"""Finding the other file of two that hold tests together: beside the first, or among others."""

from collections.abc import Iterable

from sweepbook.dialect.model import Join
from sweepbook.dialect.paired_names import PACKED
from sweepbook.errors import SweepbookError
from sweepbook.source import Source


def other_file(source: Source, join: Join, given: Iterable[Source]) -> Source:
    """The file with the other parts of the tests whose curves are in this one.

    Raises:
        SweepbookError: this is no file with curves by its name, or the other is not at hand.
    """
    name = join.other_name(source.file_name)
    if name is None:
        raise SweepbookError(
            f"{source.name}: the name is neither of the form {join.file!r}, of a file "
            f"with curves, nor {join.other!r}, of the other one.",
            "See join.file and join.other.",
        )
    what = "the other parts of its tests"
    return _found(source, name, given, what, "join.other")


def file_of(source: Source, join: Join, given: Iterable[Source]) -> Source:
    """The file with the curves of the tests of which this one has the other parts.

    Raises:
        SweepbookError: it is not at hand.
    """
    name = join.file_name(source.file_name) or join.file
    return _found(source, name, given, "the curves of its tests", "join.file", only_given=True)


def _found(
    source: Source,
    name: str,
    given: Iterable[Source],
    what: str,
    key: str,
    *,
    only_given: bool = False,
) -> Source:
    """The file of a name beside another one, else the only one of this name among those given."""
    wanted = {name, *(f"{name}{ending}" for ending in PACKED)}
    named = [each for each in given if each.file_name in wanted]
    beside = [each for each in named if _same_folder(each, source)]
    if not beside and not only_given:
        paths = [source.folder / each for each in sorted(wanted)]
        beside = [Source(path, source.bounds) for path in paths if path.is_file()]
    found = beside or named
    if len(found) == 1:
        return found[0]
    shown = source.name
    if found:
        raise SweepbookError(
            f"{shown}: several files of the name {name}, with {what}, are given.",
            "Put the two that belong together into one folder.",
        )
    raise SweepbookError(
        f"{shown}: the file {name}, with {what}, is not at hand.",
        f"Give both files, or the folder that holds them; see {key}.",
    )


def _same_folder(one: Source, other: Source) -> bool:
    return one.folder == other.folder or one.folder.resolve() == other.folder.resolve()
