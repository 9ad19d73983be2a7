"""Elements with a curve or a few each, several of which are one test, as a text in them says.

They are drafted as if an element of the same name stood around those of each test, with the texts
that they share; paths that lead through the name are made shorter in the end.
"""

from collections import defaultdict
from collections.abc import Container, Mapping, Sequence
from typing import TYPE_CHECKING, NamedTuple

from sweepbook.draft.dates import is_day
from sweepbook.draft.document import FOUND, Note, Table
from sweepbook.draft.naming import Naming
from sweepbook.draft.parsed import tells
from sweepbook_plugins.xml.draft.shape import Curve
from sweepbook_plugins.xml.draft.tests import MOSTLY, lineage, telling
from sweepbook_plugins.xml.draft.tree import Tree, attributes, text_of

if TYPE_CHECKING:
    from lxml.etree import _Element

_LEAST = 2
"""Pieces of a test, and tests, without which nothing shows that elements are pieces."""
_MOST = 8
"""Curves that a piece holds by and large: those of one parameter at one end, or of both."""
_HOW = "several of these elements are one test, as this text in each of them says"


class Pieces(NamedTuple):
    """Elements that are pieces of tests.

    Attributes:
        name: of such an element.
        key: path of the text that says which test a piece is of.
        texts: those texts.
    """

    name: str
    key: str
    texts: Sequence[str]

    def said_in(self, table: Table) -> Table:
        """A table with what a dialect says of them."""
        table.add("pieces_by", self.key, Note(FOUND, _HOW, self.texts))
        return table

    def into(self, tables: Sequence[Table]) -> list[Table]:
        """Tables of a draft with paths from a piece, and what a dialect says at its top."""
        return [self.said_in(Table("")), *self.from_pieces(tables)]

    def from_pieces(self, tables: Sequence[Table]) -> Sequence[Table]:
        """Tables of a draft with paths from a piece, in place of those from around it."""
        for table in tables:
            if table.name.lstrip("[").startswith("xml"):
                table.lines = [of._replace(value=self._of(of.value)) for of in table.lines]
        return tables

    def _of(self, value: object) -> object:
        if isinstance(value, str):
            step = f"{self.name}/"
            return "." if value == self.name else value.removeprefix(step)
        if isinstance(value, list):
            return [self._of(of) for of in value]
        return value


def put_around(tree: Tree, curves: Sequence[Curve], naming: Naming) -> Pieces | None:
    """Put an element around the pieces of each test; None, and nothing changed, without any.

    Args:
        tree: the file.
        curves: all that were found in it.
        naming: what names are made of.
    """
    deepest = min((len(lineage(curve.element)) for curve in curves), default=0)
    for depth in range(1, deepest):
        held: dict[_Element, list[str]] = {}
        for curve in curves:
            line = lineage(curve.element)
            held.setdefault(line[depth], []).append(_column_of(curve))
        if len({element.tag for element in held}) > 1 or len(held) * _MOST < MOSTLY * len(curves):
            continue
        if (key := _key_of(tree, held, naming)) is not None:
            return _wrap(tree, list(held), key)
    return None


def _column_of(curve: Curve) -> str:
    return curve.column[1] if curve.column else ""


def put_around_named(tree: Tree, names: Container[str]) -> Pieces | None:
    """Put an element around those that each name one of some tests by the same text in them.

    None, and nothing changed, where no elements of one path all do, or none of them share a test.

    Args:
        tree: a file without curves.
        names: texts that tell tests.
    """
    alike: dict[tuple[_Element | None, str], list[_Element]] = {}
    for element in tree.elements():
        alike.setdefault((element.getparent(), str(element.tag)), []).append(element)
    for elements in alike.values():
        texts = [dict(texts_in(tree, one)) for one in elements]
        for path in texts[0]:
            told = {of.get(path, "") for of in texts}
            if _LEAST <= len(told) < len(texts) and all(text in names for text in told):
                return _wrap(tree, elements, path)
    return None


def _key_of(tree: Tree, held: "Mapping[_Element, Sequence[str]]", naming: Naming) -> str | None:
    """The path of the text by which elements fall into tests that hold the same curves."""
    texts = {element: dict(texts_in(tree, element)) for element in held}
    for path in next(iter(texts.values())):
        if not all(path in of for of in texts.values()):
            continue
        groups: dict[str, list[_Element]] = defaultdict(list)
        for element, of in texts.items():
            groups[of[path]].append(element)
        if any(is_day(text) or tells(naming.parse(text)) for text in groups):
            continue
        if _are_tests([_called(group, texts, held) for group in groups.values()]):
            return path
    return None


def _called(
    group: "Sequence[_Element]",
    texts: "Mapping[_Element, Mapping[str, str]]",
    held: "Mapping[_Element, Sequence[str]]",
) -> list[str]:
    """What the curves of a group are called by texts that are not the same in all of it."""
    same = set.intersection(*(set(texts[one].items()) for one in group))
    named = ((one, [of for of in texts[one].items() if of not in same]) for one in group)
    return [f"{told} {column}" for one, told in named for column in held[one]]


def _are_tests(groups: Sequence[Sequence[str]]) -> bool:
    """Whether groups of curves by name are alike, several, and hold none twice."""
    if len(groups) < _LEAST or any(len(set(group)) < max(_LEAST, len(group)) for group in groups):
        return False
    common = set(groups[0]) & set(groups[1])
    return len(common) * 2 >= min(len(groups[0]), len(groups[1])) and len(common) >= _LEAST


def _wrap(tree: Tree, pieces: "Sequence[_Element]", key: str) -> Pieces:
    """Put an element of the same name around those of each test, with what they all say."""
    from lxml import etree

    groups: dict[str, list[_Element]] = defaultdict(list)
    for piece in pieces:
        groups[dict(texts_in(tree, piece))[key]].append(piece)
    for group in groups.values():
        around = etree.Element(group[0].tag, nsmap=group[0].nsmap)
        parent = group[0].getparent()
        assert parent is not None
        parent.insert(parent.index(group[0]), around)
        shared = set.intersection(*(set(texts_in(tree, piece)) for piece in group))
        move_shared(tree, group, around, {path for path, _ in shared})
        for piece in group:
            around.append(piece)
    return Pieces(tree.name(pieces[0]), key, list(groups))


def move_shared(
    tree: Tree, group: "Sequence[_Element]", around: "_Element", shared: set[str]
) -> None:
    """Take the attributes and children that are the same in all pieces out to around them."""
    for number, piece in enumerate(group):
        for name, text in attributes(piece).items():
            if tree.at(name) in shared:
                around.set(name, text)
                del piece.attrib[name]
        for child in telling(piece):
            if tree.name(child) in shared:
                if number:
                    piece.remove(child)
                else:
                    around.append(child)


def texts_in(tree: Tree, element: "_Element") -> "list[tuple[str, str]]":
    """Attributes and texts of plain children, by path."""
    found = [(tree.at(name), text) for name, text in attributes(element).items()]
    found += [(tree.name(child), text_of(child)) for child in telling(element)]
    return found
