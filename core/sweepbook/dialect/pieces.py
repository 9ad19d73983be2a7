"""Tests of which one file holds several pieces, each with a text that says which test it is of."""

from collections.abc import Iterable, Iterator

from sweepbook.dialect.contradicting import contradictions, says_something
from sweepbook.dialect.join import MOST_TESTS, Tests, renamed
from sweepbook.dialect.model import Dialect, Meaning
from sweepbook.dialect.raw import Cell, Fault, RawTest
from sweepbook.source import Source


def whole(texts: Tests) -> Tests:
    """A reader's half that gives whole tests where a dialect says that a file holds pieces."""

    def put_together(source: Source, dialect: Dialect) -> Iterable[RawTest | Fault]:
        found = texts(source, dialect)
        return together(found, dialect.pieces_by, dialect.meaning) if dialect.pieces_by else found

    return put_together


def together(
    pieces: Iterable[RawTest | Fault], key: str, meaning: Meaning
) -> Iterator[RawTest | Fault]:
    """The tests that pieces make, in the order in which their first pieces come.

    Pieces with one text are of one test, wherever they stand, so all are held in memory.

    Args:
        pieces: of a file as texts, and notes about it as a whole.
        key: whose text says which test a piece is of.
        meaning: what the keys and texts mean.

    Yields:
        The tests, the notes, and one for each piece that does not say of which test it is.
    """
    found: dict[str, RawTest] = {}
    count: dict[str, int] = {}
    for item in pieces:
        if isinstance(item, Fault):
            yield item
            continue
        cell = item.properties.get(key)
        of = cell.text.strip() if cell else ""
        if not of:
            yield Fault(item.locator, _without_key(item, key))
        elif of in found:
            _take(found[of], item, meaning)
            count[of] += 1
        elif len(found) < MOST_TESTS:
            found[of], count[of] = item, 1
        else:
            yield Fault(item.locator, f"there are more than {MOST_TESTS:,} tests")
            break
    for of, test in found.items():
        if count[of] > 1:
            test.locator += f" and {count[of] - 1} more"
        yield test


def _take(test: RawTest, piece: RawTest, meaning: Meaning) -> None:
    """Put a piece to what is known of its test; a fault where the two contradict."""
    test.faults += [*piece.faults, *contradictions(test.properties, piece.properties, str, meaning)]
    for key, cell in piece.properties.items():
        known = test.properties.get(key)
        if known is None or not says_something(key, known, meaning):
            test.properties[key] = cell
        elif known.texts != cell.texts and says_something(key, cell, meaning):
            _keep_other(test, key, cell, meaning)
    grids, sweeps = renamed(piece, len(test.grids))
    test.grids += grids
    test.sweeps += sweeps
    test.curves += piece.curves
    test.figures += piece.figures
    for key, text in piece.extra.items():
        _add(test.extra, key, text)
    test.notes += piece.notes
    test.assumed += [each for each in piece.assumed if each not in test.assumed]


def _keep_other(test: RawTest, key: str, cell: Cell, meaning: Meaning) -> None:
    """What to do with a second text of a key: no figure has two, and no field; else it is kept."""
    if key in meaning.figure_keys:
        known = test.properties[key]
        test.faults.append(
            Fault(
                cell.place,
                f"the key {key!r} comes a second time in this test ({cell.text!r:.60}, and "
                f"{known.text!r:.60} in {known.place}); see pieces_by",
            )
        )
    elif key in meaning.field_keys:
        _add(test.extra, f"{key} ({cell.place})", "\n".join(cell.texts))
    else:
        _add(test.extra, key, "\n".join(cell.texts))


def _without_key(item: RawTest, key: str) -> str:
    told = f"; {item.faults[0]}" if item.faults else ""
    return (
        f"nothing stands under {key!r} here, which says of which test this is a piece, and what "
        f"does is not read{told}; see pieces_by"
    )


def _add(extra: dict[str, str], key: str, text: str) -> None:
    """Keep a text; one that the piece before has too, such as a unit, once."""
    known = extra.get(key)
    if known is None:
        extra[key] = text
    elif known != text and not known.endswith(f"\n{text}"):
        extra[key] = f"{known}\n{text}"
