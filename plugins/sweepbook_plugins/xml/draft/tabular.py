"""Rows of cells, and the titles above them, in XML nobody has described yet."""

import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import TYPE_CHECKING, NamedTuple

from sweepbook.draft import phrases
from sweepbook.draft.numbers import is_numeric
from sweepbook.draft.trade_words import PAIR_WORDS
from sweepbook_plugins.xml.draft.tree import Tree, attributes, elements_in, text_of

if TYPE_CHECKING:
    from lxml.etree import _Element

_SEPARATORS = (";", "|", "\t", ",", "")
"""What parts cells in a text; "" for blanks, of which titles have some themselves."""

Row = Sequence[str]


class TitlesAt(NamedTuple):
    """Where titles stand.

    Attributes:
        path: from what holds the rows.
        texts: paths, from an element there, of the texts that make up its title; () for one text.
        called: path, from there, of what the cells of its column are called; "" for their order.
    """

    path: str
    texts: tuple[str, ...] = ()
    called: str = ""

    @property
    def columns(self) -> "TitlesAt":
        """The same as texts of the elements that have a column each."""
        element, mark, attribute = self.path.rpartition("/@")
        if self.texts:
            return self
        return TitlesAt(element, (f"@{attribute}",)) if mark else TitlesAt(self.path, (".",))

    def said(self) -> object:
        """As a dialect says it."""
        called = {"called": self.called} if self.called else {}
        told = {"path": self.path, "texts": list(self.texts), **called}
        return told if self.texts else self.path


def written(
    rows: "Sequence[_Element]", tree: Tree, are_cells: Callable[[Sequence[Row]], bool]
) -> Iterator[tuple[str, str, Sequence[Row]]]:
    """Ways to read rows: path of the cells, separator, and the cells.

    Args:
        rows: elements of one name.
        tree: their file.
        are_cells: whether rows may be such as are looked for.
    """
    inner = {str(child.tag) for row in rows for child in row}
    if len(inner) == 1 and not any(len(child) for row in rows for child in row):
        name = tree.spaces.name(inner.pop())
        told = {of for row in rows for child in row for of in attributes(child)}
        ways = [(name, [[text_of(child) for child in row] for row in rows])]
        ways += [
            (
                f"{name}/{tree.at(of)}",
                [[attributes(child).get(of, "") for child in row] for row in rows],
            )
            for of in sorted(told)
        ]
        yield from ((path, "", cells) for path, cells in ways if are_cells(cells))
        return
    if inner:
        return
    for of in ("", *attributes(rows[0])):
        path = tree.at(of) if of else ""
        texts = [attributes(row).get(of, "") if of else text_of(row) for row in rows]
        for separator in _SEPARATORS:
            parted = [_parted(text, separator) for text in texts]
            if are_cells(parted):
                yield path, separator, parted


def _parted(text: str, separator: str) -> list[str]:
    cells = [of.strip() for of in text.split(separator)] if separator else text.split()
    return cells[:-1] if cells and not cells[-1] and len(cells) > 1 else cells


def titles_of(
    table: "_Element", rows: str, width: int, separator: str, tree: Tree,
    are_titles: Callable[[Row], bool],
) -> "tuple[TitlesAt, _Element, list[str]] | None":  # fmt: skip
    """The titles of so many columns: where they stand, what holds them, and the texts.

    Args:
        table: the element with the rows.
        rows: name of the rows.
        width: how many columns they have.
        separator: what parts the cells of a row in one text.
        tree: the file.
        are_titles: whether texts may be such as are looked for.
    """
    for of, text in attributes(table).items():
        texts = _parted(text, separator)
        if len(texts) == width and are_titles(texts):
            return TitlesAt(tree.at(of)), table, texts
    parent = table.getparent()
    beside = [] if parent is None else [of for of in elements_in(parent) if of is not table]
    places = [*(("", of) for of in elements_in(table)), *(("../", of) for of in beside)]
    for prefix, one in (of for of in places if of[1].tag != rows):
        for at, texts in _held(one, width, separator, tree):
            if are_titles(texts):
                return at._replace(path=f"{prefix}{at.path}"), one, texts
    return _among_rows(table, rows, width, tree, are_titles)


def _among_rows(
    table: "_Element", rows: str, width: int, tree: Tree, are_titles: Callable[[Row], bool]
) -> "tuple[TitlesAt, _Element, list[str]] | None":
    """The titles of so many columns in elements of one name that stand where the rows do."""
    by_tag: dict[str, list[_Element]] = {}
    for one in elements_in(table):
        by_tag.setdefault(str(one.tag), []).append(one)
    for tag, columns in by_tag.items():
        if tag != rows and len(columns) == width:
            for at, texts in _of_columns(tree.spaces.name(tag), columns, tree):
                if are_titles(texts):
                    return at, columns[0], texts
    return None


def _held(
    one: "_Element", width: int, separator: str, tree: Tree
) -> Iterator[tuple[TitlesAt, list[str]]]:
    """Texts that an element may hold as titles, so many, with where they stand from around it.

    Most elements here hold points of a curve, so that these are counted before they are looked at.
    """
    name = tree.name(one)
    if not len(one):
        texts = [(TitlesAt(name), text_of(one))]
        texts += [(TitlesAt(f"{name}/{tree.at(of)}"), told) for of, told in attributes(one).items()]
        parted = ((at, _parted(text, separator)) for at, text in texts)
        yield from ((at, cells) for at, cells in parted if len(cells) == width)
        return
    if len(one) > width:
        return
    inner = elements_in(one)
    if len({child.tag for child in inner}) != 1:
        return
    step = f"{name}/{tree.name(inner[0])}"
    if len(inner) == width:
        yield from _of_columns(step, inner, tree)
    if all(map(len, inner)) and sum(map(len, inner)) == width:
        columns = [child for group in inner for child in elements_in(group)]
        tags = {str(child.tag) for child in columns}
        if len(columns) == width and len(tags) == 1:
            yield from _of_columns(f"{step}/{tree.spaces.name(tags.pop())}", columns, tree)


def _of_columns(
    step: str, columns: "Sequence[_Element]", tree: Tree
) -> Iterator[tuple[TitlesAt, list[str]]]:
    """Titles of elements at a path, one a column: one of their texts, or several together.

    Elements that hold numbers of their own are no titles of others. Bare numbers, as of pairs, are
    titles only where the texts together are none.
    """
    if any(map(_has_numbers, columns)):
        return
    told = _told(columns, tree)
    alone = [(TitlesAt(step if of == "." else f"{step}/{of}"), told[of]) for of in told]
    bare = [one for one in alone if all(map(is_numeric, one[1]))]
    yield from (one for one in alone if one not in bare)
    told |= _told_around(columns, tree)
    named = telling_texts(told)
    if len(named) > 1:
        yield TitlesAt(step, named), joined_texts(told, named)
    yield from bare


def texts_of_columns(columns: "Sequence[_Element]", tree: Tree) -> dict[str, list[str]]:
    """What elements with a column each, and those around them, say of it, by path from there."""
    return _told(columns, tree) | _told_around(columns, tree)


def telling_texts(told: Mapping[str, Row]) -> tuple[str, ...]:
    """The paths of texts that make up titles, in their order: all but those that count.

    Numbers that are called pairs do not count columns, even where each has its own.
    """
    return tuple(
        of for of in sorted(told, key=_last) if phrases.has(of, PAIR_WORDS) or not _counts(told[of])
    )


def joined_texts(told: Mapping[str, Row], named: Sequence[str]) -> list[str]:
    """A title for each column of its texts at some paths."""
    made = zip(*(told[of] for of in named), strict=True)
    return [" ".join(filter(None, texts)) for texts in made]


def _told_around(columns: "Sequence[_Element]", tree: Tree) -> dict[str, list[str]]:
    """What the elements around columns say in attributes, where these stand in several."""
    around = [one.getparent() for one in columns]
    if len(set(around)) == 1:
        return {}
    outer = _told([one for one in around if one is not None], tree)
    return {f"../{of}": outer[of] for of in outer if of.startswith("@")}


def _has_numbers(column: "_Element") -> bool:
    """Whether the text of an element is a list of numbers."""
    parts = re.split(r"[;,|\s]+", text_of(column))
    return len(parts) > 1 and all(map(is_numeric, parts))


def _last(path: str) -> int:
    """Texts around columns come first in a title."""
    return 0 if path.startswith("../") else 1


def _told(columns: "Sequence[_Element]", tree: Tree) -> dict[str, list[str]]:
    """What elements say each, by the path from there: their own text, attributes and children."""
    told = {".": [text_of(one) for one in columns]}
    held = list(map(attributes, columns))
    fullest = sorted(held, key=len, reverse=True)  # has them in their order
    for of in dict.fromkeys(name for some in fullest for name in some):
        told[tree.at(of)] = [some.get(of, "") for some in held]
    inner = dict.fromkeys(child.tag for one in columns for child in elements_in(one))
    for tag in inner:
        texts = [one.findtext(tag) or "" for one in columns]
        told[tree.spaces.name(str(tag))] = [text.strip() for text in texts]
    return {of: texts for of, texts in told.items() if any(texts)}


def _counts(texts: Row) -> bool:
    """Whether texts do no more than count the columns."""
    return len(set(texts)) == len(texts) and all(map(is_numeric, texts))
