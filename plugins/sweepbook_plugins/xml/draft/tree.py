"""The beginning of an XML file nobody has described yet, as a tree with the names of a dialect."""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from typing import TYPE_CHECKING, NamedTuple

from sweepbook.draft import phrases
from sweepbook.draft.trade_words import UNIT
from sweepbook.errors import SweepbookError
from sweepbook.source import Source
from sweepbook_plugins.xml.draft.unit_names import unit_names

if TYPE_CHECKING:
    from lxml.etree import _Element

MOST_BYTES = 12 << 20
"""As much of a file is looked at: a few tests of any kind."""
_CHUNK = 1 << 16
_OF_XML = "{http://www.w3.org/"
"""What attributes begin with that are text of XML itself."""
CHOICE = re.compile(r"[^\]\[=]{1,80}")
"""A text by which a path may choose one of several elements."""


class Item(NamedTuple):
    """A key with its value, in an element.

    Attributes:
        key: the text of the key.
        at: path of the key from the element.
        text: the value.
        value: path of the value from the element.
    """

    key: str
    at: str
    text: str
    value: str

    @property
    def chosen(self) -> str:
        """What chooses the element among others of its name, as a path has it."""
        return f"[{self.at}={self.key}]"


class Meaning(NamedTuple):
    """What an id means.

    Attributes:
        element: that says so.
        key: path of the id from there.
        said: what else stands there, by path.
    """

    element: "_Element"
    key: str
    said: Mapping[str, str]


@dataclass
class Spaces:
    """Prefixes for the namespaces of a file.

    Attributes:
        default: that of the root, written without a prefix.
        prefixes: prefix by namespace, for all others.
    """

    default: str = ""
    prefixes: dict[str, str] = field(default_factory=dict)

    def name(self, tag: str, *, attribute: bool = False) -> str:
        """A name of lxml as the dialect writes it."""
        uri, _, local = tag.rpartition("}")
        uri = uri.removeprefix("{")
        if uri == ("" if attribute else self.default):
            return local
        return f"{self.prefixes[uri]}:{local}" if uri in self.prefixes else local

    def declare(self, element: "_Element") -> None:
        """Keep the prefixes that an element brings."""
        for prefix, uri in element.nsmap.items():
            if uri != self.default and uri not in self.prefixes:
                plain = prefix or "n"
                taken = set(self.prefixes.values())
                while plain in taken:
                    plain += "2"
                self.prefixes[uri] = plain


@dataclass
class Tree:
    """The elements that are complete, by the root.

    Attributes:
        root: of the file.
        spaces: its namespaces.
        cut: whether the file goes on.
        open: elements that the cut went through.
        units: names of attributes that hold nothing but units.
        items: elements that are a key with its value each.
        meanings: what ids in it mean.
    """

    root: "_Element"
    spaces: Spaces
    cut: bool
    open: "set[_Element]"
    units: frozenset[str] = frozenset()
    items: "Mapping[_Element, Item]" = field(default_factory=dict)
    meanings: Mapping[str, Meaning] = field(default_factory=dict)

    def name(self, element: "_Element") -> str:
        """The name of an element as the dialect writes it."""
        return self.spaces.name(str(element.tag))

    def at(self, attribute: str) -> str:
        """The path of an attribute from its element."""
        return f"@{self.spaces.name(attribute, attribute=True)}"

    def names_unit(self, name: str) -> bool:
        """Whether an attribute or element of a name, or at a path, says what a number counts."""
        last = name.rpartition("/")[2].removeprefix("@")
        return phrases.whole(last.rpartition(":")[2], UNIT) or local(last) in self._units

    def meant(self, element: "_Element", text: str) -> Meaning | None:
        """What a text of an element means as an id; nothing where those are that explain ids."""
        found = self.meanings.get(text)
        if found is None:
            return None
        own = element.getparent() is found.element.getparent() and element.tag == found.element.tag
        return None if own else found

    @cached_property
    def _units(self) -> frozenset[str]:
        return frozenset(map(local, self.units))

    def elements(self) -> "Iterator[_Element]":
        """All complete elements, in order."""
        return (of for of in all_in(self.root) if of not in self.open)


def read(source: Source) -> Tree | None:
    """Parse the beginning of a file; None where it is no XML.

    Raises:
        SweepbookError: it has a DOCTYPE, which no reader takes.
        UnreadableSource: it cannot be opened.
    """
    head = source.head.lstrip(b"\xef\xbb\xbf \t\r\n")
    if not head.startswith(b"<") and not source.head.startswith((b"\xff\xfe", b"\xfe\xff")):
        return None
    if b"<!DOCTYPE" in source.head:
        raise SweepbookError(
            f"{source.name} has a DOCTYPE, and such files are not read.",
            "Export it again without one.",
        )
    return _parsed(source)


def _parsed(source: Source) -> Tree | None:
    from lxml import etree

    parser = etree.XMLPullParser(
        events=("start", "end"), resolve_entities=False, no_network=True, remove_comments=True
    )
    opened: list[_Element] = []
    root: _Element | None = None
    read_bytes, cut = 0, False
    with source.open() as stream:
        while chunk := stream.read(_CHUNK):
            read_bytes += len(chunk)
            try:
                parser.feed(chunk)
            except etree.XMLSyntaxError:
                cut = True
            for event, element in parser.read_events():
                if event == "start":
                    opened.append(element)
                    root = element if root is None else root
                else:
                    opened.pop()
            if cut or read_bytes >= MOST_BYTES:
                cut = True
                break
    if root is None:
        return None
    spaces = Spaces(root.tag.rpartition("}")[0].removeprefix("{"))
    for element in all_in(root):
        spaces.declare(element)
    return Tree(root, spaces, cut, set(opened) - {root}, unit_names(all_in(root)))


def chain(element: "_Element", top: "_Element") -> "list[_Element]":
    """The elements from below the top down to this one."""
    found = []
    at: _Element | None = element
    while at is not None and at is not top:
        found.append(at)
        at = at.getparent()
    return found[::-1]


def elements_in(element: "_Element") -> "list[_Element]":
    """The children of an element that are elements themselves."""
    return [child for child in element if isinstance(child.tag, str)]


def all_in(element: "_Element") -> "Iterator[_Element]":
    """An element and all elements in it, in order."""
    return (of for of in element.iter() if isinstance(of.tag, str))


def local(name: str) -> str:
    """A name of lxml without its namespace."""
    return name.rpartition("}")[2]


def local_name(element: "_Element") -> str:
    """The name of an element without its namespace."""
    return local(str(element.tag))


def text_of(element: "_Element") -> str:
    """The text of an element without blanks around it."""
    return (element.text or "").strip()


def attributes(element: "_Element") -> Mapping[str, str]:
    """Names and texts of the attributes that are no text of XML itself."""
    told = dict[str, str](element.attrib.items())
    for name in [name for name in told if name.startswith(_OF_XML)]:
        del told[name]
    return told


def within(path: str, where: str) -> str:
    """The path of what stands at a path from an element, by the path of the element."""
    return path if where == "." else f"{path}/{where}"
