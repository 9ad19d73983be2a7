"""The reader's half of a dialect for Touchstone: the port map, and where texts stand."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Any, NamedTuple

from sweepbook.dialect import schema_check
from sweepbook.dialect.load import BadDialect
from sweepbook.dialect.model import Dialect
from sweepbook.dialect.words import as_list
from sweepbook.label_template import Template, template

SCHEMA = "touchstone-layout-0.schema.json"
ENDS = ("near", "far")
PAIRS = ("1-2", "3-6", "4-5", "7-8")


class BalancedPort(NamedTuple):
    """One end of one pair.

    Attributes:
        end: near or far.
        pair: by contacts.
        ports: the number of its balanced port, or those of its two conductors, in the order of
            the contacts.
    """

    end: str
    pair: str
    ports: tuple[int, ...]

    def __str__(self) -> str:
        return f"{self.pair} {self.end}"


@dataclass(frozen=True, slots=True)
class Layout:
    """What a dialect says of its Touchstone files.

    Attributes:
        ports: the port map, near before far, pairs by contacts.
        reference_ohm: that balanced ports refer to, where the file does not say it right.
        plane: where the ports lie; "" where it is not said.
        signature: texts that comments begin with.
        separator: text between key and value of a comment.
        encoding: of the comments.
        file_name: template of the file's name; None where it says nothing.
        besides: pairs whose own curves are taken from another file of the link.
    """

    ports: tuple[BalancedPort, ...]
    reference_ohm: float | None = None
    plane: str = ""
    signature: tuple[str, ...] = ()
    separator: str = ":"
    encoding: str = "utf-8"
    file_name: Template | None = None
    besides: frozenset[str] = frozenset()

    @property
    def numbers(self) -> tuple[int, ...]:
        """Every port of the map."""
        return tuple(port for entry in self.ports for port in entry.ports)

    @property
    def conductors(self) -> bool:
        """Whether each conductor has a port of its own."""
        return len(self.ports[0].ports) == 2


@lru_cache(maxsize=64)
def layout_of(dialect: Dialect) -> Layout:
    """The layout that a dialect declares.

    Raises:
        BadDialect: the table [touchstone] breaks its schema or contradicts itself.
    """
    table = dialect.layout
    found = schema_check.problems(table, SCHEMA, "touchstone")
    file_name = None
    if not found and "file_name" in table:
        try:
            file_name = template(table["file_name"])
        except ValueError as error:
            found.append(f"touchstone.file_name: {error}")
    if not found:
        layout = _build(table, file_name)
        found = list(_contradictions(layout))
    if found:
        raise BadDialect(dialect.where or dialect.name, found)
    return layout


def _build(table: Mapping[str, Any], file_name: Template | None) -> Layout:
    ports = [
        BalancedPort(end, pair, tuple(port if isinstance(port, list) else [port]))
        for end in ENDS
        for pair, port in sorted(table["ports"].get(end, {}).items())
    ]
    return Layout(
        ports=tuple(ports),
        reference_ohm=table.get("reference_ohm"),
        plane=table.get("plane", ""),
        signature=tuple(as_list(table.get("signature", []))),
        separator=table.get("separator", ":"),
        encoding=table.get("encoding", "utf-8"),
        file_name=file_name,
        besides=frozenset(table.get("besides", ())),
    )


def _contradictions(layout: Layout) -> Iterator[str]:
    numbers = layout.numbers
    twice = sorted({port for port in numbers if numbers.count(port) > 1})
    if twice:
        yield f"touchstone.ports: port {twice[0]} comes twice; each is connected to one conductor"
    if strange := sorted(layout.besides - {entry.pair for entry in layout.ports}):
        yield f"touchstone.besides: {strange[0]} has no port in touchstone.ports"
    if len({len(entry.ports) for entry in layout.ports}) > 1:
        yield (
            "touchstone.ports: some pairs have one port and some have two; write one number a "
            "pair for balanced ports, two for one port a conductor"
        )
    elif layout.conductors and layout.reference_ohm is not None:
        yield (
            "touchstone.reference_ohm: does not go with one port a conductor, of which the file "
            "says what they refer to; take it out"
        )
