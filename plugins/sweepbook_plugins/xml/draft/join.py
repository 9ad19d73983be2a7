"""Tests spread over two XML files or more: which texts both hold, and the lines for that."""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from itertools import chain as chained
from typing import TYPE_CHECKING, NamedTuple

from sweepbook.draft.dates import is_day
from sweepbook.draft.document import ASSUMED, FOUND, Note, Table
from sweepbook.draft.joins import (
    SHARED,
    Pair,
    file_lines,
    key_lines,
    may_lack_line,
    paired,
    patterns,
    rivals,
)
from sweepbook.draft.names_of_files import offers, with_folder
from sweepbook.draft.verdicts import verdict_of
from sweepbook.source import Source
from sweepbook_plugins.xml.draft.layout import layout_table
from sweepbook_plugins.xml.draft.pieces import Pieces, put_around_named
from sweepbook_plugins.xml.draft.tests import lineage, telling
from sweepbook_plugins.xml.draft.tree import Tree, attributes, elements_in, text_of

if TYPE_CHECKING:
    from lxml.etree import _Element

ANY = "{any}"
"""What stands for a part of a file's name that says nothing."""
_SHORT = 2
"""Digits that tell a pair or a port as well as a test."""
_LEAST = 2
"""Texts in an element of a test: one that tells it, and what is said of it."""

Keys = dict[str, list[str]]
"""A text of each test by the path that leads to it."""


class Joined(NamedTuple):
    """A file that is joined to the one with the curves.

    Attributes:
        source, tree: the file.
        tests: its elements of tests.
        key, other_key: paths of the texts that both hold, from the tests of each; for `key` also
            the form of the names of files of a test each, with {} for the text.
        texts: those texts.
        may_lack: whether some tests have nothing in it.
        rivals: pairs of paths in the same elements that fit as well.
        pieces: elements that several are one test together, where these are it.
    """

    source: Source
    tree: Tree
    tests: "list[_Element]"
    key: str
    other_key: str
    texts: list[str]
    may_lack: bool
    rivals: Sequence[Pair] = ()
    pieces: Pieces | None = None


def keys_of(tests: "Sequence[tuple[Tree, _Element]]") -> Keys:
    """The texts that no two tests share, by their path; of all tests or none.

    Args:
        tests: the elements of tests, each with its file.
    """
    found = [dict(_with_outer(tree, test)) for tree, test in tests]
    paths = [path for path in found[0] if all(path in of for of in found)]
    keys = {path: [of[path] for of in found] for path in paths}
    return {path: some for path, some in keys.items() if len(set(some)) == len(some)}


def names_of(sources: Sequence[Source]) -> Keys:
    """What the names of files of a test each may tell it by, by the form of the names.

    Args:
        sources: the files.
    """
    offered = [{form: text for text, form in offers(source)} for source in sources]
    forms = [form for form in offered[0] if all(form in of for of in offered)]
    keys = {form: [of[form] for of in offered] for form in forms}
    return {form: some for form, some in keys.items() if len(set(some)) == len(some)}


def join(known: Keys, source: Source, tree: Tree) -> Joined | None:
    """How the tests of another file are told by the same texts; None where none are.

    Args:
        known: texts of the tests by path.
        source: the other file.
        tree: the same, parsed.
    """
    groups: dict[tuple[str, ...], list[_Element]] = {}
    for element in tree.elements():
        groups.setdefault(tuple(str(one.tag) for one in lineage(element)), []).append(element)
    best: tuple[tuple[bool, bool, int, bool, int], Joined] | None = None
    for path, elements in groups.items():
        own = _own_keys(tree, elements)
        pairs = list(_pairs(known, own))
        for pair in pairs:
            if not _tell(set(known[pair.key]) & set(own[pair.other_key]), pair.alike):
                continue
            rank = (not pair.sure, not pair.alike, -pair.common, "/" in pair.other_key, len(path))
            if best is None or rank < best[0]:
                texts = own[pair.other_key]
                lacks = pair.common < len(set(known[pair.key]))
                also = rivals(pair, [of for of in pairs if of is not pair])
                made = Joined(source, tree, elements, pair.key, pair.other_key, texts, lacks, also)
                best = rank, made
    return best[1] if best else None


def join_pieces(known: Keys, source: Source, tree: Tree) -> Joined | None:
    """The same of a file in which several elements are of one test, as a text in each says."""
    for key, texts in known.items():
        if not _tell(set(texts), alike=False):
            continue
        made = put_around_named(tree, set(texts))
        joined = join({key: texts}, source, tree) if made else None
        if joined:
            return joined._replace(pieces=made)
    return None


def _pairs(known: Keys, own: Mapping[str, list[str]]) -> Iterator[Pair]:
    """The paths that hold texts of half of the tests or more, none of them days or verdicts."""
    for other_key, texts in own.items():
        for key, wanted in known.items():
            common = set(wanted) & set(texts)
            if common and len(common) * 2 >= len(wanted) and _tell(common, alike=True):
                alike = _name(key) == _name(other_key)
                pair = paired(key, wanted, other_key, texts, alike=alike)
                yield pair._replace(counts=(False, pair.counts[1]))  # no row is one of the tests


def tables(
    sources: Sequence[Source],
    joined: Sequence[tuple[Joined, Sequence[Table]]],
    names: Sequence[str] = (),
    how: Sequence[Note] = (),
) -> list[Table]:
    """The tables `join` and below, one for each file that is joined.

    Args:
        sources: the files with the curves.
        joined: the others, each with the tables of the figures in it.
        names: how the files are named, if that is known, those with the curves first and as one.
        how: what that rests on.
    """
    names = names or _file_names(sources, [of for of, _ in joined])
    if not joined:
        alone = Table("[join]")
        alone.add("file", names[0], *how)
        return [alone]
    made: list[Table] = []
    for number, ((of, figures), other) in enumerate(zip(joined, names[1:], strict=True)):
        lines = Table("[join]" if len(joined) == 1 else "[[join]]")
        by_names = [Note(ASSUMED, "names tell the tests, one a file")] if len(sources) > 1 else []
        file_lines(lines, "" if number else names[0], other, how or by_names)
        found = Note(FOUND, "both files hold these texts", of.texts)
        key = SHARED if SHARED in of.key else of.key
        if key:
            key_lines(lines, (key, of.other_key), of.rivals, found)
        if of.may_lack:
            may_lack_line(lines)
        several = len(of.tests) > 1
        layout = layout_table(of.tree, of.tests[0], _TEST if several else "", where="join.xml")
        if of.pieces:
            figures = of.pieces.from_pieces(figures)
            lines = of.pieces.said_in(lines)
        made += [lines, *layout, *(_within_join(table) for table in figures)]
    return made


def _file_names(sources: Sequence[Source], joined: Sequence[Joined]) -> list[str]:
    """How the files are named, those with the curves first and as one."""
    others = [of.source.file_name for of in joined]
    if len(sources) == 1:
        return patterns([sources[0].file_name, *others])
    by_name = next((of.key for of in joined if SHARED in of.key), "")
    form = by_name or f"{ANY}.{sources[0].file_name.partition('.')[2]}"
    return [with_folder(form, sources, joined[0].source), *others]


_TEST = "each of these elements holds one of those texts"


def _within_join(table: Table) -> Table:
    """A table of the layout as one of a file that is joined."""
    table.name = table.name.replace("xml.", "join.xml.", 1)
    return table


def share_prefixes(trees: Sequence[Tree]) -> None:
    """Give all files one set of prefixes, as fields are said once for all of them."""
    shared: dict[str, str] = {}
    for uri, prefix in chained(*(tree.spaces.prefixes.items() for tree in trees)):
        while uri not in shared and prefix in shared.values():
            prefix += "2"
        shared.setdefault(uri, prefix)
    for tree in trees:
        tree.spaces.prefixes = shared


def _own_keys(tree: Tree, elements: "Sequence[_Element]") -> Mapping[str, list[str]]:
    """Texts in elements of one path by the path from each, where no two are alike.

    None where the elements hold nothing but that text: what they are of stands around them.
    """
    if all(len(attributes(one)) + len(one) < _LEAST for one in elements):
        return {}
    found: Keys = {}
    for element in elements:
        for path, text in _texts(tree, element):
            found.setdefault(path, []).append(text)
    return {path: some for path, some in found.items() if len(set(some)) == len(some)}


def _with_outer(tree: Tree, test: "_Element") -> "Iterator[tuple[str, str]]":
    """Texts in a test and around it, by the path that leads to them."""
    yield from _texts(tree, test)
    line = lineage(test)[:-1]
    for at, outer in enumerate(line):
        path = "/".join(tree.name(one) for one in line[: at + 1])
        for name, text in attributes(outer).items():
            yield f"/{path}/{tree.at(name)}", text


def _texts(tree: Tree, element: "_Element") -> "Iterator[tuple[str, str]]":
    """Attributes of an element, texts of its plain children, and attributes of its children."""
    for name, text in attributes(element).items():
        if text.strip():
            yield tree.at(name), text.strip()
    count = Counter(child.tag for child in element)
    told = telling(element)
    for child in (of for of in elements_in(element) if count[of.tag] == 1):
        here = tree.name(child)
        if child in told:
            yield here, text_of(child)
        for name, text in attributes(child).items():
            if text.strip():
                yield f"{here}/{tree.at(name)}", text.strip()


def _tell(texts: set[str], alike: bool) -> bool:
    """Whether texts can be what tells tests apart: no days or verdicts, no small numbers."""
    if any(is_day(text) or verdict_of(text) for text in texts):
        return False
    small = all(text.isdigit() and len(text) <= _SHORT for text in texts)
    return alike or (not small and (len(texts) > 1 or any(map(str.isdigit, next(iter(texts))))))


def _name(path: str) -> str:
    """The last step of a path without its mark or prefix."""
    return path.rpartition("/")[2].rpartition(":")[2].strip("@").casefold()
