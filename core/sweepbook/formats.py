"""What a format is: a name, and the functions that tell, read and write it."""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from enum import IntEnum
from pathlib import Path
from typing import TYPE_CHECKING

from sweepbook.errors import ReadProblem

if TYPE_CHECKING:
    from sweepbook.database_url import DatabaseUrl
    from sweepbook.delivery import Delivery
    from sweepbook.dialect.join import Tests
    from sweepbook.dialect.model import Dialect, OtherFile
    from sweepbook.draft.document import Table
    from sweepbook.limits.library import Library
    from sweepbook.record.model import Record
    from sweepbook.source import Source
    from sweepbook.tables import Row


class Strength(IntEnum):
    """How sure an identifier is; a stronger claim beats a weaker one, a tie is an error.

    REFUSED is the word of a format whose file this is that it reads no such one: where nobody
    else claims the file, `because` is told, which says what to do next.
    """

    REFUSED = 0
    SUFFIX = 1
    STRUCTURE = 2
    SIGNATURE = 3


@dataclass(frozen=True, slots=True)
class Claim:
    """An identifier's word that a source is of its format.

    Attributes:
        strength: how sure.
        because: what was seen, for people: "first line begins with 'Heron export'".
        dialect: the dialect that fits, where the format reads by dialects.
    """

    strength: Strength
    because: str
    dialect: "Dialect | None" = None


@dataclass(frozen=True)
class ReadSetting:
    """What a reader is given besides the source.

    Attributes:
        limits: the limit library, to resolve the spelling of a limit.
        dialects: dialects to choose from, by name.
        dialect: the one chosen, by claim or by the user; None where the format needs none.
        others: the files with other parts of the tests, where the dialect joins several, in its
            order, each with how its tests become texts.
        beside: more files with curves of the same tests, each with the dialect that reads it, where
            tests are spread over several.
        alone: how the source is joined to a file with the curves, where its tests have none.
        lacking: the files in words that the tests may lack and do; "" for none.
    """

    limits: "Library"
    dialects: "Mapping[str, Dialect]" = field(default_factory=dict)
    dialect: "Dialect | None" = None
    others: "tuple[tuple[Source, Tests], ...]" = ()
    beside: "tuple[tuple[Source, Dialect], ...]" = ()
    alone: "OtherFile | None" = None
    lacking: str = ""

    @property
    def joined(self) -> "tuple[Source, ...]":
        """The other files that are read with the source."""
        every = [source for source, _ in (*self.beside, *self.others)]
        return tuple({source.place: source for source in every}.values())


Identify = Callable[["Source", ReadSetting], Iterable[Claim]]
Read = Callable[["Source", ReadSetting], "Iterator[Record | ReadProblem]"]
ReadTable = Callable[["Source"], "Iterator[Row]"]
Write = Callable[["Delivery", Path], None]
WriteUrl = Callable[["Delivery", "DatabaseUrl"], None]
CheckDialect = Callable[["Dialect"], None]
Draft = Callable[["Sequence[Source]", "Library"], "Sequence[Table] | None"]
Offer = Callable[["Dialect", str, str, bool], tuple[str, str]]


@dataclass(frozen=True)
class Format:
    """A file format, as a plugin describes it.

    Attributes:
        name: the word for --from and --to: lower case, digits and hyphens.
        title: one line for people.
        suffixes: usual endings of file names, with the dot; a hint only.
        identify: looks at `source.head`, never reads further, never validates.
        read: yields one `Record` a test and one `ReadProblem` a fault, in the source's order.
        read_table: yields the rows of a table that holds no records, such as a cable schedule; it
            is chosen by the ending of the file's name.
        write: writes a delivery to a path, atomically.
        write_url: writes a delivery into a database on a server, in one transaction.
        url_schemes: what the URLs of such databases begin with: "postgresql".
        takes: options of `sweepbook export` that the writer takes besides: "since", "mapping".
        beside: endings, added to the whole name of the target, of other files that are written.
        writes_records: what is written holds records as they are, so that nothing of them can be
            left out.
        check_dialect: for a format that reads by dialects: looks at the reader's half of one and
            raises `BadDialect` where it cannot be used.
        texts: for such a format: the tests of a source as texts, by a dialect; with it, another
            format's tests may be joined to those of this one.
        reads_parts: for such a format: whether it can read the lines of a file between two others.
        draft: for such a format: works out the tables of a dialect from example files of one make;
            None where the files are not of its kind.
        offer: for such a format: by a dialect, a key of `extra`, "verdict" or
            "worst_margin.margin", and whether that is of a parameter as a whole: what to write that
            takes it from there, and what to write if it means nothing; "" for what is not known.
    """

    name: str
    title: str
    suffixes: tuple[str, ...] = ()
    identify: Identify | None = None
    read: Read | None = None
    read_table: ReadTable | None = None
    write: Write | None = None
    write_url: WriteUrl | None = None
    url_schemes: tuple[str, ...] = ()
    takes: tuple[str, ...] = ()
    beside: tuple[str, ...] = ()
    writes_records: bool = False
    check_dialect: CheckDialect | None = None
    texts: "Tests | None" = None
    reads_parts: bool = False
    draft: Draft | None = None
    offer: Offer | None = None
