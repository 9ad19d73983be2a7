"""Files of tests that were hardly measured, whose tables hold words alone and show by no number."""

from collections.abc import Collection, Sequence

from sweepbook.source import Source
from sweepbook_plugins.csv.draft.sections import Looked
from sweepbook_plugins.csv.draft.tables import shape_of
from sweepbook_plugins.csv.draft.tests import are_tests

Named = tuple[Source, Looked]


def of_one_make(bare: Sequence[Named], looked: Sequence[Looked]) -> list[Named]:
    """Those of the files without tables that others know by their titles or keys, looked at again.

    Args:
        bare: files without tables.
        looked: files with tables.
    """
    titles = _titles(looked)
    keys = {key for _, shape in looked for _, key, _ in shape.keys}
    found = []
    for source, (text, _) in bare:
        shape = shape_of(text, known=titles)
        shape.legend = looked[0][1].legend
        own = {key for _, key, _ in shape.keys}
        if shape.tables or (own and len(own & keys) * 2 > len(own)):
            found.append((source, (text, shape)))
    return found


def tests_in_words(bare: Sequence[Named], looked: Sequence[Looked]) -> list[Named]:
    """Those of the files without tables that are one with a row a test, in words alone.

    Args:
        bare: files without tables.
        looked: files with tables.
    """
    found = []
    for source, (text, _) in bare:
        filled = [row for row in text.rows if row]
        if not filled or {*map(len, filled)} != {len(filled[0])}:
            continue
        shape = shape_of(text, known={tuple(filled[0])})
        shape.legend = looked[0][1].legend
        if len(shape.tables) == 1 and are_tests(shape.tables[0].titles, filled[1:]):
            found.append((source, (text, shape)))
    return found


def with_all_tables(looked: Sequence[Looked]) -> list[Looked]:
    """The files, those looked at again in which a table that others have holds no numbers.

    Args:
        looked: files with tables.
    """
    titles = _titles(looked)
    found = []
    for text, shape in looked:
        lacks = titles - {seen.titles for seen in shape.tables}
        has_one = lacks and any(tuple(row) in lacks for row in text.rows)
        found.append(looked_again((text, shape), titles) if has_one else (text, shape))
    return found


def looked_again(looked: Looked, titles: Collection[tuple[str, ...]]) -> Looked:
    """A file with all tables of some titles, be there numbers in them or not."""
    text, shape = looked
    again = shape_of(text, known=titles)
    again.legend = shape.legend
    return text, again


def _titles(looked: Sequence[Looked]) -> set[tuple[str, ...]]:
    return {seen.titles for _, shape in looked for seen in shape.tables if not seen.given}
