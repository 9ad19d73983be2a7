"""Files that hold one parameter of a test each, which the name of their root element says.

They are drafted as if an element stood around the roots of each test, with the texts that they
share; paths that lead through the name of a root are made shorter in the end. Files beside them,
one a test, are drafted as one in which all their roots stand. So are those beside files with all
curves of a test each, where each test has a folder.
"""

from collections.abc import Iterable, Mapping, Sequence
from typing import TYPE_CHECKING, NamedTuple

from sweepbook.draft import phrases
from sweepbook.draft.document import FOUND, PARAMETER, Line, Note, Table
from sweepbook.draft.naming import settle
from sweepbook.source import Source
from sweepbook_plugins.xml.draft.join import Joined, Keys, join, share_prefixes
from sweepbook_plugins.xml.draft.legend import legend_of
from sweepbook_plugins.xml.draft.parts_by_name import Way, folders_alone, ways
from sweepbook_plugins.xml.draft.pieces import move_shared, texts_in
from sweepbook_plugins.xml.draft.shape import Curve
from sweepbook_plugins.xml.draft.tests import naming_texts, test_depth
from sweepbook_plugins.xml.draft.tree import Tree, all_in, elements_in, local_name
from sweepbook_plugins.xml.draft.unit_names import unit_names

if TYPE_CHECKING:
    from lxml.etree import _Element

_TEST, _HEADS = "parts-of-a-test", "heads-of-tests"
"""Names of the elements that are put around roots."""
_LEAST = 2
"""Parameters that files are called by, without which they are no parts of a test."""
_LOOKED_AT = 8
"""So many files show whether each holds several tests."""
_CALLED = "the root of each file with curves is called by the parameter in it"


class Heads(NamedTuple):
    """Files beside those with curves, one a test.

    Attributes:
        form: of their names.
        tests: what tells the tests that have one.
    """

    form: str
    tests: Sequence[str]


class Whole(NamedTuple):
    """Tests put together.

    Attributes:
        sources: the first file of each test, the first of each kind of heads, and all others.
        trees: the same of which kind: a tree for each test, each kind of heads, all others.
        way: how names of files tell the tests.
        tests: what tells each.
        heads: files beside the parts, by the place of their tree.
        roots: names of the roots of files with curves, as a dialect has them.
    """

    sources: Sequence[Source]
    trees: Sequence[Tree]
    way: Way
    tests: Sequence[str]
    heads: Mapping[int, Heads]
    roots: Sequence[str]

    @property
    def note(self) -> Note:
        """How the tests are told."""
        return Note(FOUND, f"{self.way.told_by} tell the tests, each with these files", self.tests)

    def joined(self, known: Keys, source: Source, tree: Tree) -> Joined | None:
        """How a file beside the parts is joined to them; None where nothing tells its tests.

        By a text that they share, where there is one, heads are told apart as well as by names; not
        where a test lacks its head, which a key would look for.

        Args:
            known: texts of the tests by path.
            source: the first of the files.
            tree: of all of them.
        """
        heads = self.heads_of(tree)
        if heads is None:
            return join({self.way.form: [*self.tests]}, source, tree)
        found, roots = join(known, source, tree), elements_in(tree.root)
        lacking = set(self.tests) != set(heads.tests)
        if lacking or found is None or found.tests != roots:
            found = Joined(source, tree, roots, "", "", [*heads.tests], may_lack=lacking)
        return found._replace(may_lack=lacking)

    def heads_of(self, tree: Tree) -> Heads | None:
        """The files of which a tree is, if these are one a test."""
        return next((of for at, of in self.heads.items() if self.trees[at] is tree), None)

    def name_of(self, joined: Joined) -> str:
        """What a file beside the parts is called, or the form of the names of several."""
        heads = self.heads_of(joined.tree)
        return heads.form if heads else joined.source.file_name

    def into(self, tables: Sequence[Table]) -> list[Table]:
        """Tables of a draft with paths from the roots, in place of those from around them."""
        made: list[Table] = []
        for table in tables:
            name = table.name.strip("[]")
            if name.startswith(("xml", "fields")):
                table.lines = [self._line(of) for of in table.lines]
            elif name == "join.xml":
                table.lines = [of._replace(value=_of_head(of.value)) for of in table.lines]
            table.left = list(dict.fromkeys(map(self._shorter, table.left)))
            said = (name, [of[:2] for of in table.lines])
            if said not in [(of.name.strip("[]"), [one[:2] for one in of.lines]) for of in made]:
                made.append(table)
        return made

    def _line(self, line: Line) -> Line:
        if line.value == f"/{_TEST}":
            return line._replace(value=f"/{PARAMETER}", notes=(Note(FOUND, _CALLED, self.roots),))
        return line._replace(value=self._of(line.value))

    def _of(self, value: object) -> object:
        if isinstance(value, str):
            return self._shorter(value)
        return [self._of(of) for of in value] if isinstance(value, list) else value

    def _shorter(self, path: str) -> str:
        first, slash, rest = path.partition("/")
        return (rest if slash else ".") if first in (*self.roots, PARAMETER) else path


def _of_head(value: object) -> object:
    """The path of heads in a file of one."""
    return value.removeprefix(f"/{_HEADS}") if isinstance(value, str) else value


def put_together(
    sources: Sequence[Source], trees: Sequence[Tree], curves: Sequence[Sequence[Curve]]
) -> Whole | None:
    """The files put together; None, and nothing changed, where they are no such parts.

    Args:
        sources: the files.
        trees: the same, parsed.
        curves: what was found in each.
    """
    parts = [at for at, some in enumerate(curves) if some]
    alone = folders_alone([sources[at] for at in parts]) if len(parts) < len(trees) else None
    named = _name_parameters([trees[at].root for at in parts])
    if not (named or (alone and len({trees[at].root.tag for at in parts}) == 1)):
        return None
    if any(_hold_several(trees[at], curves[at]) for at in parts[:_LOOKED_AT]):
        return None
    if alone and not named:
        return _with_heads(alone, sources, trees, parts)
    for way in ways([sources[at] for at in parts]):
        groups = _groups(way, sources, parts)
        tests = [[trees[at].root for at in of] for of in groups.values()]
        if "" not in groups and _are_tests(tests):
            return _made(way, groups, sources, trees)
    return None


def _with_heads(
    way: Way, sources: Sequence[Source], trees: Sequence[Tree], parts: Sequence[int]
) -> Whole | None:
    """Files with all curves of a test each, and those beside them; None where these are too few.

    A single one may tell of all tests.
    """
    groups = _groups(way, sources, parts)
    kinds = _kinds(way, groups, sources, [at for at in range(len(trees)) if at not in parts])
    several = bool(kinds) and all(len(of) >= _LEAST for of in kinds.values())
    return _made(way, groups, sources, trees) if several else None


def _made(
    way: Way,
    groups: Mapping[str, Sequence[int]],
    sources: Sequence[Source],
    trees: Sequence[Tree],
) -> Whole:
    share_prefixes(trees)
    parts = [at for of in groups.values() for at in of]
    roots = list(dict.fromkeys(trees[at].name(trees[at].root) for at in parts))
    others = [at for at in range(len(trees)) if at not in parts]
    kinds = _kinds(way, groups, sources, others)
    rest = [at for at in others if all(at not in of.values() for of in kinds.values())]
    tests = [trees[at] for at in parts]
    if len(groups) < len(parts):
        paths = _shared([[trees[at] for at in of] for of in groups.values()])
        tests = [_around(_TEST, [trees[at] for at in of], paths) for of in groups.values()]
    heads = [_around(_HEADS, [trees[at] for at in of.values()]) for of in kinds.values()]
    firsts = [of[0] for of in groups.values()] + [min(of.values()) for of in kinds.values()]
    return Whole(
        [sources[at] for at in (*firsts, *rest)],
        [*tests, *heads, *(trees[at] for at in rest)],
        way,
        [*groups],
        {
            len(tests) + number: Heads(form, [*of])
            for number, (form, of) in enumerate(kinds.items())
        },
        roots,
    )


def _name_parameters(roots: "Sequence[_Element]") -> bool:
    """Whether roots in one namespace are called by several words, most of them for parameters."""
    names = {str(root.tag): local_name(root) for root in roots}
    known = [name for name in names.values() if phrases.parameter_in(name)]
    spaces = {tag.rpartition("}")[0] for tag in names}
    return len(spaces) == 1 and len(known) >= _LEAST and len(known) * 2 > len(names)


def _hold_several(tree: Tree, curves: Sequence[Curve]) -> bool:
    """Whether a file holds several tests, by what its curves are called."""
    naming = settle(naming_texts(curves), legend_of([tree]))
    return bool(test_depth(curves, naming)[1])


def _groups(way: Way, sources: Sequence[Source], places: Iterable[int]) -> dict[str, list[int]]:
    """The places of files by what tells their test, that with most files first."""
    found: dict[str, list[int]] = {}
    for at in places:
        found.setdefault(way.test(sources[at]), []).append(at)
    return dict(sorted(found.items(), key=lambda of: -len(of[1])))


def _are_tests(groups: "Sequence[Sequence[_Element]]") -> bool:
    """Whether no test has two roots of one name, and by and large each has several."""
    alone = all(len({root.tag for root in of}) == len(of) for of in groups)
    return alone and 2 * sum(len(of) >= _LEAST for of in groups) > len(groups)


def _kinds(
    way: Way, groups: Mapping[str, Sequence[int]], sources: Sequence[Source], others: Sequence[int]
) -> dict[str, dict[str, int]]:
    """The files beside the parts of half of the tests or more, by test, by the form of names."""
    found: dict[str, dict[str, int]] = {}
    for at in others:
        test, form = way.beside(sources[at], groups)
        if test:
            found.setdefault(form, {}).setdefault(test, at)
    return {form: of for form, of in found.items() if 2 * len(of.keys() & groups) >= len(groups)}


def _shared(groups: Sequence[Sequence[Tree]]) -> set[str]:
    """The paths of texts that all parts of a test share, whichever test of several parts it is."""
    several = [of for of in groups if len(of) >= _LEAST]
    same = [
        set.intersection(*(set(texts_in(tree, tree.root)) for tree in group)) for group in several
    ]
    return set.intersection(*({path for path, _ in of} for of in same))


def _around(name: str, trees: Sequence[Tree], shared: set[str] | None = None) -> Tree:
    """A tree with an element around the roots of some others, and with the texts at some paths."""
    from lxml import etree

    first = trees[0].root
    space = str(first.tag).rpartition("}")[0]
    root = etree.Element(f"{space}}}{name}" if space else name, nsmap=first.nsmap)
    move_shared(trees[0], [tree.root for tree in trees], root, shared or set())
    for tree in trees:
        root.append(tree.root)
    opened: set[_Element] = set().union(*(tree.open for tree in trees))
    cut = any(tree.cut for tree in trees)
    return Tree(root, trees[0].spaces, cut, opened, unit_names(all_in(root)))
