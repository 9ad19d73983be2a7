"""Tests that have no curves in their files: those that failed before a sweep was taken.

Such a test is a record all the same. Its link was tested, a fault of its wire map is proof of a
fail, and what it lacks makes a pass unproven.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from sweepbook.dialect.join import Other, merged
from sweepbook.dialect.model import Meaning
from sweepbook.dialect.raw import Cell, RawTest, Unswept
from sweepbook.dialect.several import taken_apart
from sweepbook.dialect.whole_file import with_whole_file
from sweepbook.source import Source


def tests_without_curves(
    others: Sequence[Other],
    source: Source,
    meaning: Meaning,
    whole_file: RawTest | None = None,
) -> Iterator[tuple[Other, RawTest]]:
    """The tests of other files to which no test with curves was joined, and that name their link.

    So are those that have no key, as a table leaves the number of a file of curves blank that is
    not there. Each is joined to what the rest of the files hold of it. One whose key comes twice is
    left, and so is one without a label, for it may be a part of anything. Where curves are left too
    of which the same file holds nothing, keys are misspelt rather than curves not taken, and all
    are left.

    Yields:
        The file that names the link, and the test.

    Args:
        others: the other files, once all tests with curves are joined to them.
        source: the file with the curves, or the other one where that is read by itself.
        meaning: what the keys of the tests mean.
        whole_file: what the file with the curves says of every test, which those in its parts are
            as well.
    """
    for other in others:
        for key, tests in other.known.items():
            known = key in other.joined or other.unmet or other.join.shared or len(tests) > 1
            if known:
                continue
            if not _names_its_link(tests[0], meaning):
                other.nameless.add(key)
                continue
            test = _begun(other, key, tests[0], source, whole_file)
            other.joined[key] = test.locator
            for more in others:
                if more is not other and _key_in(more, test.properties):
                    test = more.join_to(test)
            yield other, test
        for at, only in enumerate(other.keyless):
            spare = other.join.shared or other.unmet or not _names_its_link(only, meaning)
            if other.join.key and not spare:
                other.alone.add(at)
                yield other, _begun(other, "", only, source, whole_file)


def with_lacking(test: RawTest, lacking: str) -> RawTest:
    """A test with a note of the files that it lacks, where it has no curves; else as it is.

    Args:
        test: joined to all that its files hold.
        lacking: the files, in words; "" for none.
    """
    if not lacking or test.curves or test.sweeps:
        return test
    note = (
        f"{lacking} is not at hand, which join.may_lack allows, so this test is read without "
        "curves; if they were measured, export it again"
    )
    return replace(test, notes=[*test.notes, Unswept(test.locator, note)])


def _begun(
    other: Other, key: str, only: RawTest, source: Source, whole_file: RawTest | None
) -> RawTest:
    """A test as another file has it, with a note of what it lacks."""
    inside = other.source is source
    place = only.locator if inside else other.place(only.locator)
    begun = RawTest(
        place if inside or other.join.part else f"no curves of {place}",
        {other.join.key: Cell(key, place)} if key else {},
    )
    if other.join.part and whole_file is not None:
        begun = with_whole_file(begun, whole_file)
    test = merged(begun, only, other)
    under = f" of {key!r} under {other.join.key!r}" if key else ""
    note = (
        f"no curves{under} are in the files, so this test is read without them; if they were "
        "measured, see join.key and join.other_key, or export all files again"
    )
    return replace(
        test, joined=[] if inside else test.joined, notes=[*test.notes, Unswept(place, note)]
    )


def _names_its_link(test: RawTest, meaning: Meaning) -> bool:
    apart, _ = taken_apart(test.properties, meaning.several, meaning.numbers.is_missing)
    return any(apart[name].text.strip() for name in meaning.fields["link.label"] if name in apart)


def _key_in(other: Other, properties: Mapping[str, Cell]) -> bool:
    """Whether another file holds something under the key that a test has for it."""
    cell = properties.get(other.join.key)
    return cell is not None and cell.text.strip() in other.known
