"""Finding the files that hold tests together: beside the first, or among others."""

import re
from collections.abc import Iterable
from dataclasses import dataclass, field
from pathlib import Path

from sweepbook.dialect.file_form import SHARED, FileForm, Told
from sweepbook.dialect.model import Join, OtherFile
from sweepbook.dialect.paired_names import PACKED, turned
from sweepbook.errors import SweepbookError
from sweepbook.source import Source
from sweepbook.text import natural_key

_OF_BOOK = re.compile("[0-9a-f]{64}")
"""A folder of a book that holds one file, called by its digest."""

Named = tuple[Source, Told]


@dataclass
class Groups:
    """Files with curves, where a test is spread over several, by folder and what names share.

    What was given is looked through once, and each folder too.
    """

    _given: Iterable[Source] = ()
    _form: FileForm | None = None
    _found: dict[tuple[Path, str], dict[str, list[Named]]] = field(default_factory=dict)
    _folders: set[Path] = field(default_factory=set)

    def of(self, source: Source, form: FileForm, given: Iterable[Source]) -> list[Named]:
        """The files that belong together with one, itself among them, by name in natural order.

        Raises:
            SweepbookError: its name is not of the form, or two of them have one name.
        """
        self._look(form, given)
        told = self._take_in(source, form)
        if told is None:
            raise SweepbookError(
                f"{source.name}: the name is not of the form {form} by the declared words.",
                "See join.file, words.parameters, words.pairs and words.ends; a book keeps files "
                "without their folders.",
            )
        folder = _folder(source, form)
        if type(source) is Source and folder not in self._folders:
            self._folders.add(folder)
            for path in sorted(folder.glob("*" + "/*" * form.depth)):
                if path.is_file() and not path.name.startswith("."):
                    self._take_in(Source(path, source.bounds), form)
        group = self._found[folder, told.shared]
        twice = next((every for every in group.values() if len(every) > 1), None)
        if twice:
            raise SweepbookError(
                f"{source.name}: several files of the name {twice[0][0].file_name} are given, and "
                "which of them belongs to the test cannot be told.",
                "Put what belongs together into one folder, packed or not.",
            )
        return [every[0] for _, every in sorted(group.items(), key=lambda of: natural_key(of[0]))]

    def shared(self, form: FileForm, given: Iterable[Source]) -> set[str]:
        """What the names share of all files that are given."""
        self._look(form, given)
        return {shared for _, shared in self._found}

    def _look(self, form: FileForm, given: Iterable[Source]) -> None:
        if given is self._given and form is self._form:
            return
        self._given, self._form = given, form
        self._found, self._folders = {}, set()
        for each in given:
            self._take_in(each, form)

    def _take_in(self, source: Source, form: FileForm) -> Told | None:
        """Put a file where it belongs, once; what its name says, None where that is nothing."""
        path = path_of(source)
        of_book = form.depth and _OF_BOOK.fullmatch(path.parent.name)
        told = None if of_book else form.told(path)
        if told is not None:
            group = self._found.setdefault((_folder(source, form), told.shared), {})
            known = group.setdefault(form.name_of(path), [])
            if all(one.place != source.place for one, _ in known):
                known.append((source, told))
        return told


def path_of(source: Source) -> Path:
    """Where a file lies, from the root of all folders; within an archive as if it were one."""
    path = source.folder / source.file_name
    return path if path.is_absolute() else path.absolute()


def _folder(source: Source, form: FileForm) -> Path:
    """The folder below which files lie that may belong together with one."""
    path = path_of(source)
    if _OF_BOOK.fullmatch(path.parent.name):
        return path.parents[2]
    return path.parents[form.depth]


def other_file(
    source: Source, join: Join, other: OtherFile, shared: str, given: Iterable[Source]
) -> Source:
    """A file with other parts of the tests whose curves are in this one.

    Args:
        source: the file with the curves, or the first of several.
        join: how files are joined to it.
        other: which of them is looked for.
        shared: what the names of several files with curves share.
        given: all files that are to be read.

    Raises:
        SweepbookError: this is no file with curves by its name, or the other is not at hand.
    """
    if join.form is not None:
        name: str | None = other.name.replace(SHARED, shared)
    else:
        name = join.other_name(other, source.file_name)
    if name is None:
        others = " or ".join(repr(of.name) for of in join.others if of.name)
        raise SweepbookError(
            f"{source.name}: the name is neither of the form {join.file!r}, of a file "
            f"with curves, nor {others}, of the other one.",
            "See join.file and join.other.",
        )
    what = "the other parts of its tests"
    return _found(source, name, given, what, "join.other")


def file_of(source: Source, join: Join, other: OtherFile, given: Iterable[Source]) -> Source:
    """The file with the curves of the tests of which this one has the other parts.

    Raises:
        SweepbookError: it is not at hand.
    """
    name = join.file_name(other, source.file_name) or join.file
    return _found(source, name, given, "the curves of its tests", "join.file", only_given=True)


def check_shared(source: Source, join: Join, other: OtherFile, shared: set[str]) -> None:
    """Look whether any file with curves is at hand for one that has the other parts of tests.

    Raises:
        SweepbookError: none is.
    """
    own = turned(source.file_name, other.name, SHARED)
    if not shared or (SHARED in other.name and own not in shared):
        raise SweepbookError(
            f"{source.name}: no file of the form {join.form}, with its curves, is given.",
            "Give all files, or the folder that holds them; see join.file and join.other.",
        )


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
