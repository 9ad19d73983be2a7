"""How the names of files, or of their folders, tell of which test each file is a part."""

from collections.abc import Callable, Collection, Iterator, Sequence
from functools import partial
from typing import NamedTuple

from sweepbook.dialect.paired_names import unpacked
from sweepbook.draft.joins import SHARED
from sweepbook.given import path_of
from sweepbook.source import Source
from sweepbook_plugins.xml.draft.join import ANY

_MARKS = ("_", "-", " ", ".")
"""What may stand in a name between what tells the test and what says nothing of it."""


class Way(NamedTuple):
    """Such a way.

    Attributes:
        told_by: "folders" or "names".
        form: of the names of the parts, {} for what tells the test.
        test: what tells the test of a part, "" for nothing.
    """

    told_by: str
    form: str
    test: Callable[[Source], str]

    def beside(self, source: Source, tests: Collection[str]) -> tuple[str, str]:
        """The test of a file beside the parts, and the form of its name; "" where it has none.

        Args:
            source: the file.
            tests: what tells those that have parts.
        """
        name, stem = unpacked(source.file_name), _stem(source)
        if self.told_by == "folders":
            return self.test(source), f"{SHARED}/{name}"
        test = stem if stem in tests else self.test(source)
        if stem.startswith(test):
            return test, f"{SHARED}{name.removeprefix(test)}"
        return test, f"{stem.removesuffix(test)}{SHARED}{name.removeprefix(stem)}"


def ways(parts: Sequence[Source]) -> Iterator[Way]:
    """The ways in which the names of some parts may tell it, the likeliest first.

    Folders do where there are several, or else where nothing in the names does.
    """
    endings = {unpacked(of.file_name).rpartition(".")[2] for of in parts}
    if len(endings) > 1:
        return
    (ending,) = endings
    several = len({path_of(of).parent for of in parts}) > 1
    by_folder = Way("folders", f"{SHARED}/{ANY}.{ending}", _folder)
    if several:
        yield by_folder
    for mark in _MARKS:
        yield Way("names", f"{SHARED}{mark}{ANY}.{ending}", partial(_before, mark))
        yield Way("names", f"{ANY}{mark}{SHARED}.{ending}", partial(_behind, mark))
    if not several:
        yield by_folder


def folders_alone(files: Sequence[Source]) -> Way | None:
    """The way of files of one name in a folder each; None where they are not such, or but one."""
    names = {unpacked(of.file_name) for of in files}
    folders = {path_of(of).parent.name for of in files} - {""}
    if len(names) != 1 or len(files) < 2 or len(folders) < len(files):
        return None
    return Way("folders", f"{SHARED}/{names.pop()}", _folder)


def _folder(source: Source) -> str:
    return path_of(source).parent.name


def _before(mark: str, source: Source) -> str:
    return _stem(source).rpartition(mark)[0]


def _behind(mark: str, source: Source) -> str:
    return _stem(source).rpartition(mark)[2] if mark in _stem(source) else ""


def _stem(source: Source) -> str:
    return unpacked(source.file_name).rpartition(".")[0]
