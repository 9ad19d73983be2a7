"""Finding the files that hold tests together: beside the first, or among others."""

import re
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from sweepbook.dialect.file_form import SHARED, FileForm, Told
from sweepbook.dialect.model import Join, OtherFile
from sweepbook.dialect.paired_names import PACKED, turned, unpacked
from sweepbook.errors import SweepbookError
from sweepbook.given import name_in, path_of
from sweepbook.source import Source
from sweepbook.text import natural_key

_OF_BOOK = re.compile("[0-9a-f]{64}")
"""A folder of a book that holds one file, called by its digest."""


class NotAtHand(SweepbookError):
    """A file that belongs to another one is not there."""


OfTest = tuple[Source, Told]
Named = Callable[[Sequence[str]], list[Source]]
"""Gives those among the files to be read that have one of some names."""


@dataclass
class Groups:
    """Files with curves, where a test is spread over several, by folder and what names share.

    What was given is looked through once, and each folder too.
    """

    _given: Iterable[Source] = ()
    _form: FileForm | None = None
    _found: dict[tuple[Path, str], dict[str, list[OfTest]]] = field(default_factory=dict)
    _folders: set[Path] = field(default_factory=set)

    def of(
        self,
        source: Source,
        form: FileForm,
        given: Iterable[Source],
        others: Iterable[OtherFile] = (),
    ) -> list[OfTest]:
        """The files that belong together with one, itself among them, by name in natural order.

        Args:
            source: the file.
            form: of the names of files with curves.
            given: all files.
            others: files with other parts of the tests, which may be of that form too.

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
        names = {of.name.replace(SHARED, told.shared) for of in others}
        found = self._found[folder, told.shared]
        group = {name: some for name, some in found.items() if not _is_one_of(name, names)}
        twice = next((every for every in group.values() if len(every) > 1), None)
        if twice:
            raise SweepbookError(
                f"{source.name}: several files of the name {twice[0][0].file_name} are given, and "
                "which of them belongs to the test cannot be told.",
                "Put what belongs together into one folder, packed or not.",
            )
        return [every[0] for _, every in sorted(group.items(), key=lambda of: natural_key(of[0]))]

    def shared(
        self, form: FileForm, given: Iterable[Source], others: Iterable[OtherFile] = ()
    ) -> set[str]:
        """What the names share of all files that are given, but of others that are of the form too.

        Args:
            form: of the names of files with curves.
            given: the files.
            others: files with other parts of the tests.
        """
        self._look(form, given)
        known = [of.name for of in others]
        return {
            shared
            for (_, shared), group in self._found.items()
            for names in [{name.replace(SHARED, shared) for name in known}]
            if not all(_is_one_of(name, names) for name in group)
        }

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


def _is_one_of(name: str, others: set[str]) -> bool:
    """Whether a file is one of some others, by its name with or without the folders around it."""
    return any(f"/{name}".endswith(f"/{other}") for other in others if other)


def _folder(source: Source, form: FileForm) -> Path:
    """The folder below which files lie that may belong together with one."""
    path = path_of(source)
    if _OF_BOOK.fullmatch(path.parent.name):
        return path.parents[2]
    return path.parents[form.depth]


def other_file(source: Source, join: Join, other: OtherFile, shared: str, among: Named) -> Source:
    """A file with other parts of the tests whose curves are in this one.

    Args:
        source: the file with the curves, or the first of several.
        join: how files are joined to it.
        other: which of them is looked for.
        shared: what the names of several files with curves share, or the file does with them that
            lacks them; "" for one file.
        among: looks among all files that are to be read.

    Raises:
        NotAtHand: the other is not at hand.
        SweepbookError: this is no file with curves by its name, or several others are given.
    """
    name = other_name(source, join, other, shared)
    if name is None:
        others = " or ".join(repr(of.name) for of in join.others if of.name)
        raise SweepbookError(
            f"{source.name}: the name is neither of the form {join.file!r}, of a file "
            f"with curves, nor {others}, of the other one.",
            "See join.file and join.other.",
        )
    folders = [source.folder, *([_folder(source, join.form)] if join.form else [])]
    see = _see("join.other", other)
    return _found(source, name, among, "the other parts of its tests", see, folders)


def other_name(source: Source, join: Join, other: OtherFile, shared: str) -> str | None:
    """What such a file is called; None where this is no file with curves by its name."""
    if join.form is not None or shared:
        return other.name.replace(SHARED, shared)
    return join.other_name(other, source.file_name)


def file_of(source: Source, join: Join, other: OtherFile, among: Named) -> Source:
    """The file with the curves of the tests of which this one has the other parts.

    Raises:
        SweepbookError: it is not at hand.
    """
    name = join.file_name(other, source.file_name) or join.file
    return _found(source, name, among, "the curves of its tests", _see("join.file", other))


def is_other(source: Source, form: FileForm, other: OtherFile, shared: set[str]) -> bool:
    """Whether a file has the other parts of tests, by its name; look if their curves are at hand.

    Args:
        source: the file.
        form: of the names of files with curves, which may fit this one as well.
        other: which of the others it may be.
        shared: what the names share of the files with curves that are at hand.

    Raises:
        SweepbookError: it has, and no file with the curves is at hand.
    """
    own = turned(name_in(source, other.name), other.name, SHARED)
    if own is None:
        return False
    known = own in shared or SHARED not in other.name
    told = form.told(path_of(source))
    if not known and told is not None and told.shared != own:
        return False
    if not shared or not known:
        see = _see("join.file and join.other", other)
        raise NotAtHand(
            f"{source.name}: no file of the form {form}, with its curves, is given.",
            f"Give all files, or the folder that holds them; {see}",
        )
    return True


def shared_by(source: Source, join: Join, other: OtherFile) -> str | None:
    """What the name of a file with other parts of one test shares with that of its curves.

    None where a test has to have curves, or where they lie beside it though they are not given.
    """
    own = turned(name_in(source, other.name), other.name, SHARED)
    if own is None or not other.may_be_alone:
        return None
    base = path_of(source).parents[other.name.count("/")]
    if type(source) is not Source:
        return own  # all files of an archive are given
    if join.form is None:
        names = _packed_or_not(join.file.replace(SHARED, own))
        return None if any((base / name).is_file() for name in names) else own
    others = [of.name.replace(SHARED, own) for of in join.others]
    for path in base.glob("*" + "/*" * join.form.depth):
        told = join.form.told(path) if path.is_file() else None
        name = unpacked(path.relative_to(base).as_posix())
        if told is not None and told.shared == own and name not in others:
            return None
    return own


def shared_without_curves(given: Iterable[Source], join: Join) -> set[str]:
    """What the names of files share with those of their curves that need none of these."""
    forms = [of.name for of in join.others if of.may_be_alone]
    found = (turned(name_in(each, of), of, SHARED) for of in forms for each in given)
    return {own for own in found if own is not None}


def _found(
    source: Source,
    name: str,
    among: Named,
    what: str,
    see: str,
    folders: Sequence[Path] = (),
) -> Source:
    """The file of a name in the first of some folders that has it, else the only one given.

    Args:
        source: a file of the same tests.
        name: of the other one, maybe with folders around it.
        among: gives those with one of some names.
        what: it holds, for messages.
        see: keys of the dialect to look at.
        folders: where it is looked for, whether it is given or not; without any, only those given
            count, and of these the one beside the source before others.
    """
    wanted = _packed_or_not(name)
    named = among(wanted)
    found: list[Source] = []
    for folder in folders or (source.folder,):
        found = [each for each in named if _same(_around(each, name), folder)]
        paths = [folder / each for each in wanted] if folders and not found else []
        found += [Source(path, source.bounds) for path in paths if path.is_file()]
        if found:
            break
    found = found or named
    if len(found) == 1:
        return found[0]
    shown = source.name
    if found:
        raise SweepbookError(
            f"{shown}: several files of the name {name}, with {what}, are given.",
            "Put the two that belong together into one folder.",
        )
    raise NotAtHand(
        f"{shown}: the file {name}, with {what}, is not at hand.",
        f"Give both files, or the folder that holds them; {see}",
    )


def _see(keys: str, other: OtherFile) -> str:
    """Keys to look at where a file is not at hand, and what allows that where each is one test."""
    may = SHARED in other.name and not (other.key or other.may_lack)
    return f"see {keys}{', or join.may_lack where a test need not have both' if may else ''}."


def _packed_or_not(name: str) -> list[str]:
    return [name, *(f"{name}{ending}" for ending in PACKED)]


def _around(source: Source, form: str) -> Path:
    """The folder in which a name begins that has as many folders as a form."""
    depth = form.count("/")
    return path_of(source).parents[depth] if depth else source.folder


def _same(one: Path, other: Path) -> bool:
    return one == other or one.resolve() == other.resolve()
