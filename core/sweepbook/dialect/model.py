"""A dialect in memory: what the words of an export mean, and the reader's half as plain data."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import Any

from sweepbook.dialect.dates import Calendar
from sweepbook.dialect.file_form import SHARED, FileForm, Told, marked
from sweepbook.dialect.names import Completer, Grammar, Namer
from sweepbook.dialect.numbers import Numbers
from sweepbook.dialect.paired_names import turned
from sweepbook.dialect.raw import Name
from sweepbook.dialect.several import Several
from sweepbook.dialect.wires import FAR, NEAR, PINS, WireForm
from sweepbook.dialect.wiring import Wiring
from sweepbook.dialect.within import Forms
from sweepbook.dialect.words import Words

ROLES = (
    "value",
    "frequency",
    "verdict",
    "accuracy",
    "worst_margin.margin",
    "worst_margin.frequency",
    "worst_margin.limit",
    "worst_margin.pairs",
    "worst_margin.second_pair",
    "worst_margin.end",
    "worst_value.value",
    "worst_value.frequency",
    "worst_value.limit",
    "worst_value.pairs",
    "worst_value.second_pair",
    "worst_value.end",
)
"""What a single figure can be: `value` and `frequency` are of a scalar, `accuracy` of the tester,
the rest is what the source states of its own judgement: `pairs`, `second_pair` (the second of two
that stand apart) and `end` tell which pairs and end the others of their group are of, where the
names of these do not."""

BARE_ROLES = frozenset(ROLES) - {"value", "frequency"}
"""Roles whose name may do without pairs: a verdict on a whole parameter."""


@dataclass(frozen=True)
class Meaning:
    """The core half of a dialect.

    Attributes:
        words: spellings of parameters, pairs, ends, verdicts and others.
        numbers: number notation, missing words, clipped values, units.
        figure_units: units of single figures by quantity, where they are other than of curves.
        calendar: forms of dates and the zone.
        grammar: how names of curves are put together.
        negative: parameters whose losses the export writes with a minus sign.
        limits_positive: whether it writes stated limits of these without one.
        margin_good: whether a good margin is positive or negative in the export.
        fields: keys of the source by the record's path.
        within: forms of texts of which a field is a part, by the record's path.
        external_ids: key of the source by the name of the other system.
        defaults: text by path, where the file says nothing.
        limits: limit path by spelling.
        figures: templates of keys by role.
        wires: how a wire map is written.
        several: by title or key, how cells are taken apart that hold several texts.
        wiring: the scheme by which pairs are read, and what tells another one.
        join_keys: keys by which a test is joined to its parts in other files, or its pieces in one,
            and others that a reader has to find.
    """

    words: Words = field(default_factory=Words)
    numbers: Numbers = field(default_factory=Numbers)
    figure_units: Mapping[str, str] = field(default_factory=dict)
    calendar: Calendar = field(default_factory=Calendar)
    grammar: Grammar = field(default_factory=lambda: Grammar(Words(), {}))
    negative: frozenset[str] = frozenset()
    limits_positive: bool = False
    margin_good: str = "positive"
    fields: Mapping[str, Sequence[str]] = field(default_factory=dict)
    within: Forms = field(default_factory=dict)
    external_ids: Mapping[str, str] = field(default_factory=dict)
    defaults: Mapping[str, str] = field(default_factory=dict)
    limits: Mapping[str, str] = field(default_factory=dict)
    figures: Mapping[str, Sequence[str]] = field(default_factory=dict)
    wires: WireForm = field(default_factory=WireForm)
    several: Mapping[str, Several] = field(default_factory=dict)
    join_keys: frozenset[str] = frozenset()
    wiring: Wiring = field(default_factory=Wiring)

    @cached_property
    def figure_keys(self) -> Mapping[str, Sequence[tuple[str, Name]]]:
        """Roles with a name by key of the source, all templates of `figures` expanded.

        Raises:
            Ambiguous: a key could be two figures.
        """
        found: dict[str, list[tuple[str, Name]]] = {}
        for role, templates in self.figures.items():
            namer = Namer([[*map(marked, templates)]], self.grammar, bare=role in BARE_ROLES)
            for key, name in namer.names().items():
                found.setdefault(key, []).append((role, name))
        return found

    @cached_property
    def figure_numbers(self) -> Numbers:
        """How single figures are written."""
        if not self.figure_units:
            return self.numbers
        return replace(self.numbers, units={**self.numbers.units, **self.figure_units})

    @cached_property
    def completer(self) -> Completer:
        """What tells pairs and ends of names by texts beside them."""
        return Completer(self.grammar)

    @cached_property
    def names_within(self) -> frozenset[str]:
        """What the texts are called of cells that hold several: no keys of the source."""
        return frozenset(name for of in self.several.values() for name in of.names)

    @cached_property
    def field_keys(self) -> frozenset[str]:
        """Every key of the source that fills a field, or joins a test to its other parts."""
        keys = {key for keys in self.fields.values() for key in keys}
        return frozenset(keys | set(self.external_ids.values()) | self.join_keys)

    @cached_property
    def known_keys(self) -> frozenset[str]:
        """Every key of the source that fills a field or is of a single figure; cells of several."""
        return self.field_keys | self.figure_keys.keys() | self.several.keys()

    @cached_property
    def wire_keys(self) -> frozenset[str]:
        """Every key under which several texts are so many parts of one wire map."""
        return frozenset(key for path in (PINS, NEAR, FAR) for key in self.fields.get(path, ()))


@dataclass(frozen=True)
class OtherFile:
    """What a dialect says of a file with other parts of the tests, or of a part of their own file.

    Attributes:
        name: of the file; `{}` stands for what it shares with the name of the one with the curves.
            "" where it is a part of that.
        key: key, title or path of a test by which it is joined; "" where each of the files holds
            one test.
        other_key: the same in the other file.
        dialect: how the other file is read: the same words, another layout.
        part: first line of the part that takes its place, the line behind its last or "", and
            those around other parts, which end it too; ().
        may_lack: whether there are tests of which it has nothing; where each file holds one test,
            whether one of both files may be lacking.
        where: its table in the dialect, for messages.
        shared: whether several tests may be joined to one entry of it.
    """

    name: str
    key: str
    other_key: str
    dialect: "Dialect"
    part: tuple[str, ...] = ()
    may_lack: bool = False
    where: str = "join"
    shared: bool = False

    @property
    def may_be_alone(self) -> bool:
        """Whether a test may have this file and none with curves, or the other way round."""
        return self.may_lack and not self.key and not self.part and SHARED in self.name


@dataclass(frozen=True)
class Join:
    """What a dialect says of the files that hold one test together.

    Attributes:
        file: name of the file with the curves; `{}` stands for what the names of all share.
        key: key by which the tests of several files with curves are put together; "" where each
            of the files holds one test.
        others: the other files, in the order in which they are joined.
        form: form of the names, where the curves of a test are spread over several files.
    """

    file: str
    key: str = ""
    others: tuple[OtherFile, ...] = ()
    form: FileForm | None = None

    @property
    def parts(self) -> tuple[tuple[str, ...], ...]:
        """Each part that takes the place of a file: its first line, and those that end it."""
        return tuple(other.part for other in self.others if other.part)

    def is_of_many(self, other: OtherFile) -> bool:
        """Whether a file holds parts of the tests of more than one group of files."""
        return self.form is not None and self.form.has_shared and SHARED not in other.name

    def of_many_besides(self, other: OtherFile) -> list[OtherFile]:
        """The files besides one that hold such parts."""
        return [of for of in self.others if self.is_of_many(of) and of.where != other.where]

    def other_name(self, other: OtherFile, name: str) -> str | None:
        """Name of another file by the name of the one with the curves; None if this is none."""
        return turned(name, self.file, other.name)

    def file_name(self, other: OtherFile, name: str) -> str | None:
        """Name of the file with the curves by the name of another; None if this is none.

        Of two forms that a name is of the longer one counts.
        """
        longer = self.form is None and len(self.file) > len(other.name)
        if not other.name or (longer and turned(name, self.file, other.name) is not None):
            return None
        return turned(name, other.name, self.file)


@dataclass(frozen=True)
class Dialect:
    """One dialect file.

    Attributes:
        name: lower case, digits and hyphens; goes into each record.
        title: one line for people.
        format: name of the reader it is for.
        sha256: digest of the file's bytes, 64 hexadecimal digits.
        meaning: the core half.
        layout: the reader's half, the table named like the format, as plain data.
        where: the file, for messages.
        raw: the file's bytes.
        join: the other files, where a test is spread over several.
        part: first line of what it reads of a file, and those that end it; () for all of it.
        pieces_by: key by which the pieces of a test are put together; "" where each is a test.
        around: what the name of the file says that is read by it, where that names curves.
    """

    name: str
    title: str
    format: str
    sha256: str
    meaning: Meaning
    layout: Mapping[str, Any]
    where: str = ""
    raw: bytes = field(default=b"", repr=False)
    join: Join | None = None
    part: tuple[str, ...] = ()
    pieces_by: str = ""
    around: Told | None = None

    def __hash__(self) -> int:
        return hash(self.sha256)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Dialect) and (self.sha256, self.name) == (other.sha256, other.name)
