"""A draft of a dialect for XML nobody has described yet."""

from collections import Counter
from collections.abc import Sequence
from typing import TYPE_CHECKING, NamedTuple

from sweepbook.draft import ends_beside
from sweepbook.draft import naming as names
from sweepbook.draft.document import FOUND, UNTOLD, Note, Table
from sweepbook.draft.evidence import Evidence, SeenCurve, thin
from sweepbook.draft.field_times import Joins
from sweepbook.draft.joins import left_out
from sweepbook.draft.legend import Legend
from sweepbook.draft.meaning import tables as core_tables
from sweepbook.draft.reading import Understood, understand
from sweepbook.source import Source
from sweepbook_plugins.xml.draft import (
    figures,
    join,
    keys,
    pair_lists,
    pieces,
    roots,
    signed,
    titled_figures,
    titled_rows,
    unit_words,
)
from sweepbook_plugins.xml.draft.around import loose_numbers, places_of_numbers, words_by_place
from sweepbook_plugins.xml.draft.axis_names import axis_names, ids
from sweepbook_plugins.xml.draft.curves import find, gaps
from sweepbook_plugins.xml.draft.item_keys import own_paths
from sweepbook_plugins.xml.draft.key_figures import from_keys
from sweepbook_plugins.xml.draft.layout import axis_tables, curve_tables, layout_table, unit_paths
from sweepbook_plugins.xml.draft.legend import legend_of
from sweepbook_plugins.xml.draft.names import naming_attributes, slots_of, texts_of
from sweepbook_plugins.xml.draft.points import leave_some
from sweepbook_plugins.xml.draft.run_axes import expanded, holders
from sweepbook_plugins.xml.draft.shape import Axis, Curve
from sweepbook_plugins.xml.draft.stated import Stated
from sweepbook_plugins.xml.draft.tests import LONGEST_WORD, lineage, naming_texts, test_depth
from sweepbook_plugins.xml.draft.titled import order_of
from sweepbook_plugins.xml.draft.tree import (
    Tree,
    all_in,
    attributes,
    elements_in,
    local,
    read,
)

if TYPE_CHECKING:
    from lxml.etree import _Element

    from sweepbook.limits.library import Library

_LEFT = (
    "what these files hold, in which no element is a test: none of their texts tell the tests of "
    "the first apart, so that nothing joins them; see join"
)
_ROWS = (
    "what the columns of these rows of numbers are: no titles, as many as a row has numbers, stand "
    "beside them, and the rows go to extra"
)


def draft(sources: Sequence[Source], limits: "Library") -> list[Table] | None:
    """The tables of a draft for files of one make; None where they are no XML with curves.

    Args:
        sources: the files.
        limits: where names of limits are looked up.

    Raises:
        SweepbookError: a file has a DOCTYPE.
        UnreadableSource: a file cannot be opened.
    """
    trees = [tree for tree in map(read, sources) if tree is not None]
    looked = [find(tree) for tree in trees]
    if len(trees) < len(sources):
        return None
    whole = roots.put_together(sources, trees, [curves for curves, _ in looked])
    if whole is not None:
        sources, trees = whole.sources, [*whole.trees]
        looked = [find(tree) for tree in trees]
    first = next((at for at, (curves, _) in enumerate(looked) if curves), None)
    if first is None:
        return None
    return _drafted(sources, trees, looked, first, whole, limits)


def _drafted(
    sources: Sequence[Source],
    trees: Sequence[Tree],
    looked: list[tuple[list[Curve], list[Axis]]],
    first: int,
    whole: roots.Whole | None,
    limits: "Library",
) -> list[Table]:
    """The tables of the same.

    Args:
        sources: the files, or the first of those of each test.
        trees: the same, parsed.
        looked: curves and axes of each.
        first: the place of the first with curves.
        whole: of files that hold a part of a test each.
        limits: where names of limits are looked up.
    """
    tree = trees[first]
    told = legend_of((tree, *(one for one in trees if one is not tree)))
    made, (naming, depth, why) = None, _placed(looked[first][0], told)
    if whole is not None:
        depth, why = 0, ""
    elif not why and (made := pieces.put_around(tree, looked[first][0], naming)):
        looked[first] = find(tree)
        naming, depth, why = _placed(looked[first][0], told)
    leave_some(zip(trees, (found for found, _ in looked), strict=True))
    curves, axes = looked[first]
    curves = [curve for curve in curves if len(lineage(curve.element)) > depth]
    top = lineage(curves[0].element)[depth]
    tests = _fullest_first(_tests(tree, top), curves, depth)
    rest = [
        _File(source, one, _same(one, tests), *seen)
        for source, one, seen in zip(sources, trees, looked, strict=True)
        if one is not tree
    ]
    files = [_File(sources[first], tree, tests, curves, axes), *(of for of in rest if of.tests)]
    evidence, slots = (
        Evidence(names=_names(curves, tests), tests=len(tests), legend=told),
        slots_of([of[1:4] for of in files], naming, ids(axes)),
    )
    for curve in curves:
        if lineage(curve.element)[depth] is tests[0] and not curve.is_row:
            evidence.curves.append(_seen(tree, curve, tests[0], slots, axes))
    evidence.axis_names += axis_names(curves, axes)
    evidence.singles += loose_numbers(tests, {curve.element for curve in curves} - {*tests})
    evidence.singles += titled_rows.cells_in(tree, tests, curves)
    joined, left = _joined(files, [of for of in rest if not of.tests], evidence, whole)
    evidence.gaps += list(dict.fromkeys(text for one in files for text in gaps(one.curves)))
    names_curves = naming_attributes(tree, curves, tests, slots)
    found = _understood(evidence, [*files, *(of for _, of in joined)])
    single = _single(files, evidence, found, names_curves)
    further = [(of, _single([file], evidence, found, set())) for of, file in joined]
    from_keys(evidence, found)
    layout = layout_table(tree, tests[0], why)
    layout[0].notes += [Note(UNTOLD, left_out(_LEFT, left))] if left else []
    layout[0].notes += [Note(UNTOLD, _ROWS)] if any(curve.is_row for curve in curves) else []
    curves = [curve for curve in curves if not curve.is_row]
    if units := unit_paths(tree, curves, tests, slots, found):
        layout[0].add("skip", units, Note(FOUND, "units beside every point"))
    halves = [
        *axis_tables(tree, axes, tests, curves, found),
        *curve_tables(tree, curves, tests, axes, found, slots),
    ]
    joins = _joins([of.source for of in files], further, whole)
    tables = [*layout, *halves, *single, *joins, *core_tables(evidence, found, limits)]
    tables = whole.into(tables) if whole else tables
    return own_paths(made.into(tables) if made else tables, trees)


def _understood(evidence: Evidence, files: "Sequence[_File]") -> Understood:
    """What the names of curves say, with the words for ends that stand elsewhere in the tests."""
    found = understand(evidence)
    curves = [curve for of in files for curve in of.curves]
    found.order = found.order or order_of(curves, evidence.legend.roles)
    ends_beside.keep(words_by_place(test for of in files for test in of.tests), found.naming)
    return found


def _names(curves: Sequence[Curve], tests: "Sequence[_Element]") -> list[str]:
    """Texts by which pairs and ends can be told: where no curve is known, those of attributes."""
    if not all(curve.is_row for curve in curves):
        return naming_texts(curves)
    named = [item for one in tests for of in all_in(one) for item in attributes(of).items()]
    texts = dict.fromkeys(text for _, text in named if len(text) <= LONGEST_WORD)
    return [*naming_texts(curves), *dict.fromkeys(local(name) for name, _ in named), *texts]


def _placed(curves: Sequence[Curve], told: Legend) -> tuple[names.Naming, int, str]:
    """What names are made of, and where in a file its tests are; see `test_depth`."""
    naming = names.settle(naming_texts(curves), told)
    return naming, *test_depth(curves, naming)


def _joined(
    files: "Sequence[_File]",
    others: "Sequence[_File]",
    evidence: Evidence,
    whole: roots.Whole | None,
) -> "tuple[list[tuple[join.Joined, _File]], list[str]]":
    """The files that are joined to those with the curves, and the names of those that are not.

    Args:
        files: those with the curves.
        others: those without an element of the tests.
        evidence: takes by what they are joined.
        whole: of files that hold a part of a test each.
    """
    join.share_prefixes([one.tree for one in (*files, *others)])
    sources = [of.source for of in files]
    ways = [join.keys_of([(one.tree, test) for one in files for test in one.tests])]
    if whole is None and len(files) > 1 and all(len(one.tests) == 1 for one in files):
        ways.insert(0, join.names_of(sources))
    by = whole.joined if whole else join.join
    made = [[(by(known, of.source, of.tree), of) for of in others] for known in ways]
    best = max(made, key=lambda some: sum(of is not None for of, _ in some))
    if whole is None:
        known = ways[made.index(best)]
        best = [(of or join.join_pieces(known, one.source, one.tree), one) for of, one in best]
    found = [(of, file._replace(tests=of.tests)) for of, file in best if of is not None]
    left = [file.source.file_name for of, file in best if of is None]
    keys = (key for of, _ in found for key in (of.key, of.other_key))
    evidence.joins = Joins(frozenset(keys), frozenset(len(of.tests) for of, _ in found))
    return found, left


def _joins(
    sources: Sequence[Source],
    joined: Sequence[tuple[join.Joined, Sequence[Table]]],
    whole: roots.Whole | None,
) -> list[Table]:
    """The tables `join`; none where there are no further files, and no parts of tests."""
    if whole is None:
        return join.tables(sources, joined) if joined else []
    names = [whole.way.form, *(whole.name_of(of) for of, _ in joined)]
    return join.tables(sources, joined, names, [whole.note])


class _File(NamedTuple):
    """One file: its tests, curves and shared axes."""

    source: Source
    tree: Tree
    tests: "list[_Element]"
    curves: list[Curve]
    axes: list[Axis]


def _single(
    files: Sequence[_File], evidence: Evidence, found: Understood, named: set[tuple[str, str]]
) -> list[Table]:
    """The tables of single figures and stated margins; all other texts become keys of evidence."""
    of_files = [(of.tree, of.tests) for of in files]
    unit_words.learn(of_files, found)
    numbers = {place for one in files for place in places_of_numbers(one.tests, found.naming)}
    rows = [(of.tree, titled_rows.find(of.tree, of.tests, of.curves)) for of in files]
    titled = titled_figures.forms(rows, numbers, found, evidence)
    singles, said = (
        figures.Figures(numbers=numbers),
        Stated(numbers=numbers, taken=titled.taken, margins=signed.margins_by_sign(of_files)),
    )
    held: list[set[_Element]] = []
    for one in files:
        for test in one.tests:
            said.take(one.tree, test, one.curves, found, evidence)
        held.append(_held(one) | said.taken)
        numbers_of = _of_numbers(one) | said.taken | {*one.tree.items}
        own = [of for of in one.curves if of.values[:1] in (".", "@")]
        lists = {
            of.element: (of.values, of.frequency) for of in own if of.element not in said.taken
        }
        figures.figures(one.tree, one.tests, numbers_of, found, evidence, singles, lists)
    figures.settle(found, evidence, singles)
    found.numbers.lack(said.missing())
    known, ends = named | titled.named, found.naming.ends
    evidence.in_all |= set.intersection(*(
        keys.keys(one.tree, one.tests, skip | singles.taken, evidence, known, ends)
        for one, skip in zip(files, held, strict=True)
    ))  # fmt: skip
    parted = pair_lists.tables(of_files, found, evidence)
    return [*titled.tables, *singles.tables(said.verdicts), *said.tables(), *parted]


def _fullest_first(
    tests: "list[_Element]", curves: Sequence[Curve], depth: int
) -> "list[_Element]":
    """Tests in their order, but the first of those with most curves before all: it shows most."""
    count = Counter(lineage(curve.element)[depth] for curve in curves)
    fullest = max(tests, key=lambda test: count[test])
    return [fullest, *(test for test in tests if test is not fullest)]


def _held(file: _File) -> "set[_Element]":
    """The elements that hold curves and axes; where a test itself does, those of its points."""
    found = {of for axis in file.axes for of in holders(axis)}
    found |= {curve.titled.element for curve in file.curves if curve.titled}
    found |= {curve.element for curve in file.curves if curve.element not in file.tests}
    return found | _of_numbers(file)


def _of_numbers(file: _File) -> "set[_Element]":
    """The elements with the numbers of curves and axes, and nothing else: points and lists."""
    found = {of for axis in file.axes for of in holders(axis)}
    for curve in file.curves:
        steps = (curve.point[0],) if curve.point else (curve.values, curve.frequency)
        if steps == (".", ""):
            found.add(curve.element)
        firsts = {step.partition("/")[0] for step in steps}
        inner = elements_in(curve.element)
        found.update(of for of in inner if file.tree.name(of) in firsts)
    return found


def _tests(tree: Tree, top: "_Element") -> "list[_Element]":
    """All elements of the test's path, complete ones."""
    path = [one.tag for one in lineage(top)]
    whole = [
        element
        for element in tree.elements()
        if element.tag == top.tag and [one.tag for one in lineage(element)] == path
    ]
    return whole or [top]


def _same(other: Tree, tests: "Sequence[_Element]") -> "list[_Element]":
    path = [one.tag for one in lineage(tests[0])]
    return [e for e in other.elements() if [one.tag for one in lineage(e)] == path]


def _seen(
    tree: Tree, curve: Curve, test: "_Element", slots: Sequence[str], axes: Sequence[Axis]
) -> SeenCurve:
    texts = texts_of(tree, curve, test)
    axis = curve.axis_texts
    if curve.run:
        axis = expanded([Axis(curve.element, curve.run)], len(curve.value_texts))
    if not axis:
        fits = [one.texts for one in axes if len(one.texts) == len(curve.value_texts)]
        axis = fits[0] if fits else expanded(axes, len(curve.value_texts))
    named = {slot: text for slot, text in texts.items() if slot in slots}
    return SeenCurve(named, thin(axis), thin(curve.value_texts))
