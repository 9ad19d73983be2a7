"""How a source is read, and the files that belong to it where a dialect has tests in several."""

from collections.abc import Iterable
from dataclasses import dataclass, replace

from sweepbook import joining
from sweepbook.dialect.file_form import SHARED, Told
from sweepbook.dialect.join import Tests
from sweepbook.dialect.model import Dialect, Join, OtherFile
from sweepbook.errors import SweepbookError
from sweepbook.formats import Format, ReadSetting
from sweepbook.given import Given, name_in
from sweepbook.registry import Registry
from sweepbook.source import Source


@dataclass(frozen=True, slots=True)
class Chosen:
    """How a source will be read.

    Attributes:
        format: the format.
        setting: what its reader is given, the dialect included.
        part_of: name of the file with the curves, where this one only holds the other parts of its
            tests: these are read with it.
        other: how such a file is joined.
        shared: of such a file for many others, what the names of these share; else None.
    """

    format: Format
    setting: ReadSetting
    part_of: str = ""
    other: OtherFile | None = None
    shared: frozenset[str] | None = None


@dataclass(frozen=True)
class Belonging:
    """Finds the files that belong together with one.

    Attributes:
        registry: the plugins.
        setting: what readers are given.
        groups: which files belong together, where curves are spread over several.
        named: gives files by their names.
        given: all that are to be read.
    """

    registry: Registry
    setting: ReadSetting
    groups: joining.Groups
    named: Given
    given: Iterable[Source]

    def with_others(self, source: Source, chosen: Chosen, dialect: Dialect, join: Join) -> Chosen:
        """How to read a file with curves, together with those that belong to it.

        Args:
            source: the file.
            chosen: how it is read by itself.
            dialect: by which.
            join: what that says of other files.

        Raises:
            SweepbookError: one of these is not at hand.
        """
        shared = ""
        if join.form is not None:
            group = self.groups.of(source, join.form, self.given, join.others)
            if group[0][0].place != source.place:
                return replace(chosen, part_of=group[0][0].name)
            every = [(one, replace(dialect, around=told)) for one, told in group]
            setting = replace(chosen.setting, dialect=every[0][1], beside=tuple(every[1:]))
            chosen, shared = replace(chosen, setting=setting), group[0][1].shared
            dialect = every[0][1]
        there, lacking = self._others(source, join, join.others, shared)
        return replace(chosen, setting=_joined(chosen.setting, dialect, join, there, lacking))

    def part(self, source: Source) -> Chosen | None:
        """How to read a file that holds the other parts of tests; None if this is none.

        Raises:
            SweepbookError: the file with their curves is not at hand.
        """
        named = self.setting.dialect
        for dialect in [named] if named else self.setting.dialects.values():
            for other in dialect.join.others if dialect.join else ():
                if part := self._part_by(source, dialect, other):
                    return part
        return None

    def _part_by(self, source: Source, dialect: Dialect, other: OtherFile) -> Chosen | None:
        """The same, if it is the file of one table `join`."""
        join, shared = dialect.join, None
        name = join.file_name(other, name_in(source, other.name)) if join else None
        if not join or not name:
            return None
        try:
            if join.form is None:
                joining.file_of(source, join, other, self._among)
            else:
                found = self.groups.shared(join.form, self.given, join.others)
                if not joining.is_other(source, join.form, other, found):
                    return None
                if join.is_of_many(other):
                    shared = frozenset(found) | joining.shared_without_curves(self.given, join)
        except joining.NotAtHand:
            own = joining.shared_by(source, join, other)
            if own is None:
                raise
            return self._alone(source, dialect, join, other, own)
        others = () if shared is None else self._besides(source, join, other)
        setting = replace(self.setting, dialect=dialect, others=others)
        reader = self.registry.reader(other.dialect.format)
        return Chosen(reader, setting, name, other, shared)

    def _alone(
        self, source: Source, dialect: Dialect, join: Join, own: OtherFile, shared: str
    ) -> Chosen:
        """How to read a file of a test that has no curves: the first at hand, with the rest.

        Args:
            source: the file.
            dialect: that joins it.
            join: what it says of files.
            own: of this one.
            shared: by the names of the files of the test.

        Raises:
            SweepbookError: one that has to be there is not at hand.
        """
        reader = self.registry.reader(own.dialect.format)
        rest = [of for of in join.others if of.where != own.where]
        there, lacking = self._others(source, join, rest, shared)
        before = join.others[: join.others.index(own)]
        for other, (lead, _) in there:
            if other in before and not join.is_of_many(other):
                return Chosen(reader, replace(self.setting, dialect=dialect), lead.name, own)
        form = str(join.form or repr(join.file)).replace(SHARED, shared)
        lacking = [f"the file with the curves, {form},", *lacking]
        setting = replace(self.setting, alone=own)
        around = replace(dialect, around=Told(shared, (), ""))
        return Chosen(reader, _joined(setting, around, join, there, lacking))

    def _among(self, names: Iterable[str]) -> list[Source]:
        return self.named.named([*names], self.given)

    def _others(
        self, source: Source, join: Join, others: Iterable[OtherFile], shared: str
    ) -> tuple[list[tuple[OtherFile, tuple[Source, Tests]]], list[str]]:
        """Other files of the tests that are at hand, and in words those that may lack and do.

        Raises:
            SweepbookError: one that has to be there is not at hand.
        """
        there: list[tuple[OtherFile, tuple[Source, Tests]]] = []
        lacking: list[str] = []
        for other in others:
            texts = self.registry.reader(other.dialect.format).texts
            try:
                part = bool(other.part)
                at = (
                    source if part else joining.other_file(source, join, other, shared, self._among)
                )
            except joining.NotAtHand:
                if not other.may_be_alone:
                    raise
                name = joining.other_name(source, join, other, shared)
                lacking.append(f"the file {name!r}")
                continue
            if texts is not None:
                there.append((other, (at, texts)))
        return there, lacking

    def _besides(
        self, source: Source, join: Join, own: OtherFile
    ) -> tuple[tuple[Source, Tests], ...]:
        """The other files with parts of the tests of many; () where one is not at hand."""
        found: list[tuple[Source, Tests]] = []
        for other in join.of_many_besides(own):
            texts = self.registry.reader(other.dialect.format).texts
            try:
                at = joining.other_file(source, join, other, "", self._among)
            except SweepbookError:
                return ()
            if texts is None:
                return ()
            found.append((at, texts))
        return tuple(found)


def _joined(
    setting: ReadSetting,
    dialect: Dialect,
    join: Join,
    there: list[tuple[OtherFile, tuple[Source, Tests]]],
    lacking: list[str],
) -> ReadSetting:
    """A setting by a dialect that joins the files that are there."""
    kept = replace(join, others=tuple(other for other, _ in there))
    return replace(
        setting,
        dialect=replace(dialect, join=kept),
        others=tuple(each for _, each in there),
        lacking=" and ".join(lacking),
    )
