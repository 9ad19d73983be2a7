"""Tests whose curves are spread over several files, one a parameter: what their names say."""

from collections import Counter
from collections.abc import Sequence
from typing import TYPE_CHECKING, NamedTuple

from sweepbook.draft import fields, phrases
from sweepbook.draft.document import (
    ASSUMED,
    FOUND,
    UNSETTLED,
    UNTOLD,
    Note,
    Table,
    one_of,
)
from sweepbook.draft.evidence import Evidence
from sweepbook.draft.joins import (
    SHARED,
    Pair,
    key_lines,
    label_by_name,
    may_lack_files,
    paired,
    rivals,
)
from sweepbook.draft.meaning import tables as core_tables
from sweepbook.draft.reading import understand
from sweepbook.source import Source
from sweepbook_plugins.csv.draft import beside_curves, tests
from sweepbook_plugins.csv.draft.beside_curves import Beside
from sweepbook_plugins.csv.draft.curves import CurvesTable, are_curves
from sweepbook_plugins.csv.draft.file_lines import of_file
from sweepbook_plugins.csv.draft.file_names import Told, form_of, spelt_in, told_by
from sweepbook_plugins.csv.draft.join import Part as Heads
from sweepbook_plugins.csv.draft.join import layout_of
from sweepbook_plugins.csv.draft.sections import Looked
from sweepbook_plugins.csv.draft.shape import Shape
from sweepbook_plugins.csv.draft.text import Cells, Text

if TYPE_CHECKING:
    from sweepbook.limits.library import Library

_NAME = "the name of the file"
_LEAST = 2

_Beside = tuple[Source, Looked]


class Part(NamedTuple):
    """A file with curves of one parameter, what its name says, and the rows of its table."""

    named: Told
    text: Text
    shape: Shape
    rows: Sequence[Cells]

    @property
    def titles(self) -> Sequence[str]:
        """Titles of its table."""
        return self.shape.tables[0].titles

    @property
    def units(self) -> Sequence[str]:
        """The row of units below them, or ()."""
        return self.shape.tables[0].units


class Drafted(NamedTuple):
    """The tables of a draft, and which of the files without tables it is of."""

    tables: list[Table]
    bare: Sequence[Source] = ()


def draft(
    sources: Sequence[Source],
    looked: Sequence[Looked],
    bare: Sequence[tuple[Source, Looked]],
    limits: "Library",
) -> Drafted | None:
    """The tables of files that belong together; None for others.

    Args:
        sources: the files with tables.
        looked: the same, looked at.
        bare: files without, which may say what is known of each test.
        limits: where names of limits are looked up.
    """
    spelt = spelt_in(sources, looked)
    every = [*sources, *(source for source, _ in bare)]
    folders = len({source.folder for source in every}) > 1
    parts, heads, others = _sorted_out(sources, looked, spelt, folders=folders)
    if len({part.named.told for part in parts}) < _LEAST or len(heads) > 1:
        return None
    if any(_name_parameters(part) for part in parts):
        return None
    legend = looked[0][1].legend
    legend = legend._replace(words={**legend.words, **spelt})
    evidence = Evidence(legend=legend, delimiter=parts[0].text.delimiter)
    beside = _in_each_folder(parts, heads, [(sources[at], looked[at]) for at in others], bare)
    if others and not beside:
        return None
    of_folders: Beside | None = None
    if beside:
        form = f"{SHARED}/{beside[0][0].file_name}"
        of_folders = beside_curves.hand_over(form, beside, evidence)
    verdicts = _take_keys(parts, heads, evidence)
    most = Counter(part.named.shared for part in parts).most_common(1)[0][0]
    curves = [
        CurvesTable(of.titles, of.rows, {_NAME: of.named.told}, units=of.units)
        for of in parts
        if of.named.shared == most
    ]
    for table in curves:
        table.into(evidence)
    found = understand(evidence)
    key = curves[0].titles[curves[0].test] if curves[0].test is not None else ""
    if key and len(_shared(parts)) == 1:
        parts = [part._replace(named=part.named.of_all()) for part in parts]
    forms = list(dict.fromkeys(form_of(part.named, found) for part in parts))
    lines = Table("[csv.curves]")
    for name, value in curves[0].lines(found, told=True):
        lines.add(name, value)
    joined = of_folders.tables(evidence, found) if of_folders else []
    join = _join(parts, heads, beside, forms, key)
    core = core_tables(evidence, found, limits)
    label_by_name(core, _shared(parts))
    _add_verdicts(core, forms, verdicts)
    top = of_file([(of.text, of.shape) for of in parts], "curve-per-column")
    return Drafted([*top, lines, *join, *joined, *core], [source for source, _ in beside])


def _in_each_folder(
    parts: Sequence[Part],
    heads: Sequence[Heads],
    others: Sequence[_Beside],
    bare: Sequence[_Beside],
) -> Sequence[_Beside]:
    """The files of one name, one a folder, that say what is known of its test; () for none."""
    names = {source.file_name for source, _ in others or bare}
    found = [*others, *(one for one in bare if one[0].file_name in names)]
    folders = {source.folder for source, _ in found}
    in_folders = all("/" in part.named.before for part in parts)
    fits = in_folders and not heads and len(names) == 1 and len(folders) == len(found)
    return found if fits else ()


def _sorted_out(
    sources: Sequence[Source], looked: Sequence[Looked], spelt: dict[str, str], *, folders: bool
) -> tuple[list[Part], list[Heads], list[int]]:
    """The files with curves of one parameter, those with a row a test, and where others stand."""
    parts, heads, others = [], [], []
    for at, (source, (text, shape)) in enumerate(zip(sources, looked, strict=True)):
        if len(shape.tables) != 1 or shape.tables[0].wide or shape.first_line:
            others.append(at)
            continue
        seen = shape.tables[0]
        rows = text.rows[seen.start : seen.stop]
        named = told_by(source, spelt, folders=folders)
        if named and are_curves(seen.titles, rows, shape.legend):
            parts.append(Part(named, text, shape, rows))
        elif tests.are_tests(seen.titles, rows):
            heads.append(Heads(source.file_name, text, shape, seen))
        else:
            others.append(at)
    return parts, heads, others


def _name_parameters(part: Part) -> bool:
    """Whether titles of curves say themselves what is measured."""
    return any(phrases.parameter_in(title) for title in part.titles)


def _take_keys(
    parts: Sequence[Part], heads: Sequence[Heads], evidence: Evidence
) -> dict[str, list[str]]:
    """Hand over all keys but those of verdicts on one file; these with their texts."""
    own = Evidence()
    for part in parts:
        for _, key, value in part.shape.keys:
            own.put(key, value)
    of_files = {
        one.keys[0]: own.properties.pop(one.keys[0])
        for one in fields.guess(own.properties, None)
        if one.path == "stated.overall"
    }
    evidence.properties |= own.properties
    evidence.verdicts += [text for texts in of_files.values() for text in texts]
    for of in heads:
        tests.into(of.titles, of.rows, evidence)
    return of_files


def _join(
    parts: Sequence[Part],
    heads: Sequence[Heads],
    beside: Sequence[_Beside],
    forms: Sequence[str],
    key: str,
) -> list[Table]:
    """The tables `join` and below."""
    shared = _shared(parts)
    join = Table("[join]")
    how = Note(ASSUMED, "names tell test and parameter; {} is what those of a test share", shared)
    join.add("file", one_of(forms), how)
    if beside:
        said = "each folder has one of this name, with what is known of the test"
        join.add("other", f"{SHARED}/{beside[0][0].file_name}", Note(FOUND, said))
        told = [source.folder.name for source, _ in beside]
        if lacking := {*told} ^ {*shared}:
            may_lack_files(join, sorted(lacking))
    if not heads:
        if key:
            join.add("key", key, Note(FOUND, "tests are told apart by this column"))
        return [join]
    (head,) = heads
    texts = shared or list(dict.fromkeys(_key_texts(parts[0], key)))
    chosen, *others = _pairs(head, SHARED if shared else key, texts)
    by = chosen.other_key
    own = next((of for of in shared if of in head.name), "")
    join.add("other", head.name.replace(own, SHARED) if own else head.name)
    if chosen.common:
        held = Note(FOUND, "both hold these texts", texts)
        key_lines(join, (chosen.key, by), rivals(chosen, others), held)
    else:
        join.add("key", chosen.key)
        join.add("other_key", UNSETTLED, Note(UNTOLD, "no column holds these texts", texts))
    rows = tests.test_lines(head.titles, head.rows, "join.csv.rows", by)
    return [join, layout_of(head, "test-per-row"), rows]


def _key_texts(part: Part, key: str) -> list[str]:
    """The texts of a column that tells tests apart; none where there is no such column."""
    at = list(part.titles).index(key) if key else -1
    return [row[at] for row in part.rows] if key else []


def _pairs(head: Heads, key: str, texts: Sequence[str]) -> list[Pair]:
    """What tells tests apart with each column of the heads, that with most of the texts first.

    Of several those that just count rows come last, and those in which a text comes again.
    """
    made = [
        paired(key, texts, title, head.column(title), alike=title.casefold() == key.casefold())
        for title in head.titles
    ]
    again = {title: len({*head.column(title)}) for title in head.titles}
    return sorted(
        made, key=lambda of: (-of.common, not of.alike, -again[of.other_key], of.counts[1])
    )


def _shared(parts: Sequence[Part]) -> list[str]:
    return list(dict.fromkeys(part.named.shared for part in parts if part.named.shared))


def _add_verdicts(
    core: Sequence[Table], forms: Sequence[str], verdicts: dict[str, list[str]]
) -> None:
    """Take the verdict that a file states for one on its parameter, not on the link."""
    table = next(of for of in core if of.name == "[figures]")
    for key, texts in verdicts.items():
        note = Note(ASSUMED, "a verdict in each file is on its parameter", texts)
        table.add("verdict", one_of([f"{form}/{key}" for form in forms]), note)
