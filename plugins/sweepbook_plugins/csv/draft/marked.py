"""Tables of rows that their first cell tells, and the sections of a dialect for them."""

from collections.abc import Sequence

from sweepbook.dialect.parameters import quantity_of
from sweepbook.dialect.wires import CONTACTS
from sweepbook.draft import phrases
from sweepbook.draft.document import ASSUMED, FOUND, UNTOLD, Note, Table
from sweepbook.draft.reading import Understood
from sweepbook_plugins.csv.draft.keys import sort_loose
from sweepbook_plugins.csv.draft.marks import Kind, curves_in
from sweepbook_plugins.csv.draft.regrouped import MOST_BEFORE, Marked, Span
from sweepbook_plugins.csv.draft.shape import Seen, Shape
from sweepbook_plugins.csv.draft.text import Cells, Text
from sweepbook_plugins.csv.draft.wide import Wide

_LEAST_CONTACTS = 6


def shape_of(text: Text, found: Marked) -> Shape:
    """What the lines of a file are: keys of rows that come once a test, and tables.

    Args:
        text: the file, the rows of each kind together.
        found: its kinds.
    """
    shape = Shape(first_line=found.first_line, starts=[*found.starts], comments=[*found.comments])
    for number, kind in enumerate(found.kinds):
        spans = [test[number] for test in found.spans]
        if kind.whole is not None:
            shape.tables += _curves(text.rows, found, kind, number)
            continue
        if _are_keys(text.rows, kind, spans):
            for span in spans:
                shape.keys += _keys(text.rows, found.titles(kind), span)
            continue
        body = [row for start, stop in spans for row in text.rows[start:stop]]
        titles = found.titles(kind)
        wide = curves_in(titles, body)
        shape.tables += [
            Seen(titles, start, stop, given=True, mark=kind.mark, wide=wide)
            for start, stop in spans
            if start < stop
        ]
    if found.test is not None:
        title = found.kinds[0].columns[found.test]
        shape.keys += [(0, title, text) for text in found.tests]
    shape.tables.sort(key=lambda seen: seen.start)
    sort_loose(text, shape, found.loose)
    return shape


def _curves(rows: Sequence[Cells], found: Marked, kind: Kind, number: int) -> list[Seen]:
    """The rows of each test with a curve each, and the frequencies that stand in one of it."""
    titles = found.titles(kind)
    made = []
    for test in found.spans if kind.whole and not kind.whole.are_frequencies else ():
        start, stop = test[number]
        mark, axis = _axis(rows, found, test)
        if start < stop and mark:
            head = tuple(range(len(titles)))
            wide = Wide(head, len(titles), axis, mark, unit=(mark,))
            made.append(Seen(titles, start, stop, wide=wide, given=True, mark=kind.mark))
    return made


def _axis(
    rows: Sequence[Cells], found: Marked, test: Sequence[Span]
) -> tuple[str, tuple[str, ...]]:
    """The mark of the row of frequencies of a test, and these; ("", ()) where it has none."""
    for kind, (start, stop) in zip(found.kinds, test, strict=True):
        if kind.whole and kind.whole.are_frequencies and start < stop:
            return kind.mark, tuple(rows[start][len(found.titles(kind)) :])
    return "", ()


def _are_keys(rows: Sequence[Cells], kind: Kind, spans: Sequence[Span]) -> bool:
    """Whether the columns of a kind are keys: it has one row a test, or one a wire."""
    body = [rows[start:stop] for start, stop in spans]
    if _contacts(body):
        return True
    once = all(len(some) <= 1 for some in body)
    return once and not any(
        map(phrases.parameter_in, (cell for some in body for row in some for cell in row))
    )


def _contacts(body: Sequence[Sequence[Cells]]) -> list[int]:
    """The columns of rows of which each is a wire that hold contacts, one of each."""
    first = next(filter(None, body), [])
    if not _LEAST_CONTACTS <= len(first) <= len(CONTACTS) + 1:
        return []
    found = []
    for at in range(len(first[0])):
        held = [row[at] for row in first]
        if len({*held} & {*CONTACTS}) >= _LEAST_CONTACTS and len({*held}) == len(held):
            found.append(at)
    return found


def _keys(rows: Sequence[Cells], titles: Sequence[str], span: Span) -> list[tuple[int, str, str]]:
    """The columns of one test as keys; what several rows say of a wire is one text."""
    start, stop = span
    return [
        (start, title, " ".join(filter(None, dict.fromkeys(row[at] for row in rows[start:stop]))))
        for at, title in enumerate(titles)
    ]


def in_doubt(text: Text, seen: Seen, tables: Sequence[Table], found: Understood) -> bool:
    """Whether no title says that a number beside what is swept is a value, and no margin.

    Args:
        text: the file.
        seen: a table of single figures.
        tables: what the draft makes of it.
        found: what names are made of.
    """
    kinds = text.marked.kinds if text.marked else ()
    if any(kind.told for kind in kinds if kind.mark == seen.mark):
        return False
    parts = [found.naming.parse(cell) for row in text.rows[seen.start : seen.stop] for cell in row]
    losses = any(of.parameter and quantity_of(of.parameter[1]) == "loss" for of in parts)
    return losses and any(line.key == "value" for table in tables for line in table.lines)


def kind_by_kind(text: Text) -> list[Note]:
    """What is told where rows of all tests stand together, kind by kind, which no dialect takes."""
    found = text.marked
    if found is None or found.starts or len(found.spans) != 1:
        return []
    for at in range(MOST_BEFORE):
        columns = [
            [row[at] if len(row) > at else "" for row in text.rows[start:stop]]
            for start, stop in found.spans[0]
            if stop > start + 1
        ]
        heads = [column for column in columns if len({*column}) == len(column)]
        others = [column for column in columns if len({*column}) < len(column)]
        tests = {*heads[0]} - {""} if heads else set()
        if len(tests) > 1 and others and all({*column} <= tests for column in others):
            title = found.titles(found.kinds[0])[at]
            said = (
                "how to read rows of all tests that stand kind by kind: "
                f"the column {title!r} tells the tests, and the rows of each have to stand "
                "together; export one test a file, or sort the rows by it"
            )
            return [Note(UNTOLD, said, sorted(tests))]
    return []


def key_sections(text: Text) -> list[Table]:
    """A section for each kind whose columns are keys."""
    made = []
    found = text.marked
    for number, kind in enumerate(found.kinds if found else ()):
        spans = [test[number] for test in found.spans] if found else []
        if kind.whole is not None:
            made += _frequencies(kind)
        elif _are_keys(text.rows, kind, spans):
            section = Table("[[csv.sections]]")
            add_columns(section, kind)
            made.append(section)
    return made


def _frequencies(kind: Kind) -> list[Table]:
    """The section for rows of frequencies; none for those of curves."""
    if kind.whole is None or not kind.whole.are_frequencies:
        return []
    section = Table("[[csv.sections]]")
    add_columns(section, kind._replace(columns=(*kind.columns, kind.whole.first)))
    section.add("frequencies", kind.whole.first)
    return [section]


def add_columns(section: Table, kind: Kind) -> None:
    """Say by what the rows of a section are told, and what their columns are called."""
    section.add("mark", kind.mark)
    how = Note(FOUND, "the titles stand in a line of their own", [kind.told])
    if not kind.told:
        how = Note(ASSUMED, "names made up, since no line holds titles; call them what they hold")
    section.add("columns", list(kind.columns), how)
