"""Goes through an XML file and stops at every test, with memory for one test only."""

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, NamedTuple

from sweepbook.dialect.joins import ANOTHER_PART
from sweepbook.dialect.raw import Fault, NotUnderstood
from sweepbook.dialect.reading import broken_off
from sweepbook.source import Source, UnreadableSource
from sweepbook_plugins.xml import head
from sweepbook_plugins.xml import points as xml_points
from sweepbook_plugins.xml.found import Early, Found, line_of
from sweepbook_plugins.xml.layout import PointForm
from sweepbook_plugins.xml.levels import Levels
from sweepbook_plugins.xml.plan import Plan
from sweepbook_plugins.xml.points import Points
from sweepbook_plugins.xml.tree import last_line

if TYPE_CHECKING:
    from lxml.etree import XMLPullParser, _Element

CHUNK = 1 << 18
MOST_BYTES = 32 << 20
"""Of one test, curves with an element a point left out, and of all that stands between two."""

MOST_MARKS = 1_500_000
"""Of the same, `<` and `=`: an element or attribute, however short, takes up to 256 bytes."""

UNCOUNTED = 1 << 20
"""Bytes of the same that cannot hold so many, and are counted only once there are more."""

MOST_POINTS = 1_000_000
"""Points of one test; a whole certification has about 80,000."""


class TestAt(NamedTuple):
    """One test element, complete.

    Attributes:
        element: the element; it is emptied when the next one is asked for.
        where: its path in the file, for messages.
        number: which test of the file it is, counted from 1.
        around: what the elements around it and before it hold, from the root inwards.
        early: points that were taken out of their curves as these ended.
    """

    element: "_Element"
    where: str
    number: int
    around: tuple[Found, ...]
    early: Early


class Stream:
    """One pass through a file.

    Args:
        source: the file.
        plan: what is looked for.
    """

    def __init__(self, source: Source, plan: Plan) -> None:
        self._source = source
        self._plan = plan
        self._levels = Levels(plan)
        self._count = 0
        self._since = self._marks = 0
        self._uncounted: list[bytes] = []
        self._open = ""
        self._has_begun = False
        self._points = 0
        self._early: dict[_Element, tuple[PointForm, Points]] = {}

    @property
    def notes(self) -> Sequence[Fault]:
        """What stood where nothing took it, once the file is read."""
        return self._levels.notes

    def tests(self) -> Iterator[TestAt | Fault]:
        """Every test in the order of the file; a fault where the file cannot be read further."""
        steps = self._plan.layout.test.steps
        try:
            root = head.root_of(self._source.head)
            if root.tag not in self._plan.test[0].tags:
                raise NotUnderstood(f"line {root.line}", self._other_root(root.tag))
            tags = frozenset[str]().union(*(at.tags for at in self._plan.test))
            yield from self._walk({*tags, *self._plan.points})
        except UnreadableSource as error:
            yield broken_off(error)
        except Fault as fault:
            yield fault
        else:
            if not self._count:
                path = "/".join(step.shown for step in steps)
                yield Fault("", f"there is no element /{path} in this file; see xml.test")

    def _other_root(self, tag: str) -> str:
        wanted = self._plan.layout.test.steps[0]
        where = f" of the namespace {wanted.uri!r}" if wanted.uri else " without a namespace"
        words = "the tables of [words], " if wanted.is_template else ""
        return (
            f"the root of this file is {self._plan.layout.names.show(tag)}, expected is "
            f"{wanted.local}{where}; see xml.test, {words}xml.namespace, xml.namespaces, "
            f"{ANOTHER_PART}"
        )

    def _walk(self, tags: set[str]) -> Iterator[TestAt]:
        """Parse the file piece by piece.

        Raises:
            Fault: it cannot be read further.
        """
        from lxml import etree

        parser = etree.XMLPullParser(("start", "end"), tag=sorted(tags), **head.OPTIONS)
        with self._source.open() as stream:
            while chunk := stream.read(CHUNK):
                self._since += len(chunk)
                self._count_marks(chunk)
                broken = head.fed(parser, chunk)
                yield from self._events(parser)
                if broken:
                    raise self._unfinished(broken)
                self._bounded()
        broken = head.fed(parser, None)
        yield from self._events(parser)
        if broken:
            raise self._unfinished(broken)

    def _restart(self) -> None:
        """Hold nothing of what was read against what comes."""
        self._since = self._marks = 0
        self._uncounted = []

    def _count_marks(self, chunk: bytes) -> None:
        """Count the marks of a test, or of all between two, once it is long; most never are."""
        self._uncounted.append(chunk)
        if self._since > UNCOUNTED:
            self._marks += sum(of.count(b"<") + of.count(b"=") for of in self._uncounted)
            self._uncounted = []

    def _bounded(self) -> None:
        """Refuse to hold more than a test can be.

        Raises:
            Fault: it is more.
        """
        if self._since > MOST_BYTES:
            message = (
                f"no test ends within {MOST_BYTES >> 20} MiB, and the file is not read further; "
                "see xml.test"
            )
            raise Fault(self._open, message)
        if self._marks > MOST_MARKS:
            message = (
                f"no test ends within {MOST_MARKS:,} tags and attributes, and the file is not read "
                "further; see xml.test"
            )
            raise Fault(self._open, message)
        if self._points > MOST_POINTS:
            message = f"one test has more than {MOST_POINTS:,} points; see xml.test"
            raise Fault(self._open, message)

    def _unfinished(self, broken: Fault) -> Fault:
        """The fault of a broken file, and which test it broke off."""
        if not self._open:
            return broken
        message = f"{broken.message}; the test that begins in {self._open} is lost"
        return Fault(broken.place, message)

    def _events(self, parser: "XMLPullParser") -> Iterator[TestAt]:
        """Follow what the parser has seen begin and end.

        Raises:
            Fault: there is a DOCTYPE, or too much around the tests.
        """
        called = self._plan.test[-1].tags
        for event, element in parser.read_events():
            may_be_test = element.tag in called
            if event == "start":
                if not self._has_begun:  # with the root, which is among the names asked for
                    self._has_begun = True
                    if _has_doctype(element):
                        raise Fault("", head.DOCTYPE)
                if may_be_test and self._levels.is_test(element):
                    self._open = line_of(element)
            elif may_be_test and self._levels.is_test(element):
                self._open = ""
                self._count += 1
                where = self._levels.enter(element)
                yield TestAt(element, where, self._count, self._levels.around, self._early)
                self._restart()
                self._points = 0
                self._early = {}
                element.clear(keep_tail=True)
            elif self._open:
                if next(element.iterchildren(), None) is not None:  # to count them takes longer
                    self._curve(element)
            else:
                self._levels.leave(element)

    def _curve(self, element: "_Element") -> None:
        """Take the points out of a curve as soon as it ends: what is small stays quick."""
        for at in self._plan.points.get(str(element.tag), ()):
            if not at.fits(element):
                continue
            points = xml_points.quick(element, at.form)
            if points is None or not points.alone:
                continue
            self._early[element] = (at.form, points)
            lines = last_line(element) - (element.sourceline or 0)
            del element[:]
            element.text = "\n" * lines
            self._points += len(points.value)
            self._restart()
            return


def _has_doctype(root: "_Element") -> bool:
    return root.getroottree().docinfo.internalDTD is not None
