"""Goes through an XML file and stops at every test, with memory for one test only."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, NamedTuple

from sweepbook.dialect.raw import Fault
from sweepbook.source import Source, UnreadableSource
from sweepbook_plugins import xml_head, xml_points
from sweepbook_plugins.xml_layout import PointForm
from sweepbook_plugins.xml_plan import Plan
from sweepbook_plugins.xml_points import Points
from sweepbook_plugins.xml_tree import Match, fits, last_line, match
from sweepbook_plugins.xml_walk import MOST_FAULTS, Early, Found, Walk, line_of

if TYPE_CHECKING:
    from lxml.etree import XMLPullParser, _Element

CHUNK = 1 << 16
MOST_BYTES = 64 << 20
"""Of one test, and of all that stands between two; a test with an element a point has some 4."""

MOST_AROUND = 10_000
"""Texts around the tests, such as site and project."""

LISTED = 5


class TestAt(NamedTuple):
    """One test element, complete.

    Attributes:
        element: the element; it is emptied when the next one is asked for.
        where: its path in the file, for messages.
        count: the how-manieth test of the file it is, counted from 1.
        around: what the elements around it and before it hold, from the root inwards.
        early: points that were taken out of their curves as these ended.
    """

    element: "_Element"
    where: str
    count: int
    around: tuple[Found, ...]
    early: Early


@dataclass
class _Level:
    """An element around the tests that is still open.

    Attributes:
        element: the element.
        of: what the dialect knows of it.
        where: its path in the file.
        found: what it holds besides tests.
        seen: elements of the next step that are done.
        counts: how many other elements there were, by name.
    """

    element: "_Element"
    of: Match
    where: str
    found: Found = field(default_factory=Found)
    seen: int = 0
    counts: dict[str, int] = field(default_factory=dict)


class Stream:
    """One pass through a file.

    Args:
        source: the file.
        plan: what is looked for.
    """

    def __init__(self, source: Source, plan: Plan) -> None:
        self._source = source
        self._plan = plan
        self._steps = plan.layout.test.steps
        self._levels: list[_Level] = []
        self._count = 0
        self._since = 0
        self._open = ""
        self._early: dict[_Element, tuple[PointForm, Points]] = {}
        self._frequency: Sequence[str] = ()
        self._around = 0
        self.notes: list[Fault] = []
        """What stood where nothing took it; at most a hundred."""

    def tests(self) -> Iterator[TestAt | Fault]:
        """Every test in the order of the file; a fault where the file cannot be read further."""
        try:
            root = xml_head.root_of(self._source.head)
            if root.tag != self._steps[0].tag:
                raise Fault(f"line {root.line}", self._other_root(root.tag))
            yield from self._walk()
        except UnreadableSource as error:
            yield Fault("", f"the file cannot be read further: {error.message.rstrip('.')}")
        except Fault as fault:
            yield fault
        else:
            if not self._count:
                path = "/".join(step.shown for step in self._steps)
                yield Fault("", f"there is no element /{path} in this file; see xml.test")

    def _other_root(self, tag: str) -> str:
        shown = self._plan.layout.names.show(tag)
        wanted = self._steps[0]
        where = f" of the namespace {wanted.uri!r}" if wanted.uri else " without a namespace"
        return (
            f"the root of this file is {shown}, expected is {wanted.local}{where}; "
            "see xml.test, xml.namespace and xml.namespaces"
        )

    def _walk(self) -> Iterator[TestAt]:
        from lxml import etree

        tags = {step.tag for step in self._steps} | self._plan.points.keys()
        parser = etree.XMLPullParser(("start", "end"), tag=sorted(tags), **xml_head.OPTIONS)
        with self._source.open() as stream:
            while chunk := stream.read(CHUNK):
                broken = _fed(parser, chunk)
                self._since += len(chunk)
                yield from self._events(parser)
                if broken:
                    raise self._unfinished(broken)
                if self._since > MOST_BYTES:
                    raise Fault(
                        self._open,
                        f"no test ends within {MOST_BYTES >> 20} MiB, and the file is not read "
                        "further; see xml.test",
                    )
        try:
            parser.close()
        except etree.XMLSyntaxError as error:
            raise self._unfinished(xml_head.broken(error)) from error
        yield from self._events(parser)

    def _unfinished(self, broken: Fault) -> Fault:
        """The fault of a broken file, and which test it broke off."""
        if not self._open:
            return broken
        return Fault(
            broken.place, f"{broken.message}; the test that begins in {self._open} is lost"
        )

    def _events(self, parser: "XMLPullParser") -> Iterator[TestAt]:
        """Follow what the parser has seen begin and end."""
        for event, element in parser.read_events():
            if event == "start":
                if element.getparent() is None and _has_doctype(element):
                    raise Fault("", xml_head.DOCTYPE)
                if self._is_test(element):
                    self._open = line_of(element)
            elif self._is_test(element):
                self._open = ""
                yield self._test(element)
                self._since = 0
                self._early = {}
                element.clear(keep_tail=True)
            elif self._open:
                self._curve(element)
            else:
                self._closed(element)

    def _curve(self, element: "_Element") -> None:
        """Take the points out of a curve as soon as it ends: what is small stays quick."""
        for form in self._plan.points.get(element.tag, ()):
            points = xml_points.quick(element, form)
            if points is not None and points.alone:
                if points.frequency == self._frequency:
                    points = points._replace(frequency=self._frequency)
                self._frequency = points.frequency
                self._early[element] = (form, points)
                lines = last_line(element) - (element.sourceline or 0)
                del element[:]
                element.text = "\n" * lines
                return

    def _chain(self, element: "_Element") -> "list[_Element]":
        """The element and those around it, from the root."""
        chain = [element, *element.iterancestors()]
        return chain[::-1]

    def _is_test(self, element: "_Element") -> bool:
        """Whether it stands where tests stand, and is one."""
        if not fits(element, self._steps[-1]):
            return False
        chain = self._chain(element)
        return len(chain) == len(self._steps) and all(
            fits(each, step) for each, step in zip(chain, self._steps, strict=True)
        )

    def _test(self, element: "_Element") -> TestAt:
        chain = self._chain(element)
        self._follow(chain)
        self._count += 1
        if not self._levels:
            where = f"/{self._plan.layout.names.show(element.tag)}"
        else:
            level = self._levels[-1]
            where = f"{level.where}/{self._called(element, level)}"
        return TestAt(
            element, where, self._count, tuple(level.found for level in self._levels), self._early
        )

    def _called(self, element: "_Element", level: _Level) -> str:
        return f"{self._plan.layout.names.show(element.tag)}[{level.seen + 1}]"

    def _follow(self, chain: "list[_Element]") -> None:
        """Bring the levels up to the elements around a test, and take in what stands before."""
        for depth, element in enumerate(chain[:-1]):
            if depth >= len(self._levels) or self._levels[depth].element is not element:
                del self._levels[depth:]
                self._levels.append(self._opened(element, depth))
            self._before(self._levels[depth], chain[depth + 1], depth + 1)
        del self._levels[len(chain) - 1 :]

    def _opened(self, element: "_Element", depth: int) -> _Level:
        """A level for an element around tests, with its attributes."""
        if depth == 0:
            of = match((self._plan.outside,), element, 1)
            where = f"/{self._plan.layout.names.show(element.tag)}"
        else:
            above = self._levels[depth - 1]
            of = match(above.of.nodes, element, above.seen + 1)
            where = f"{above.where}/{self._called(element, above)}"
        level = _Level(element, of, where)
        chosen = {("@", of.name) for of in self._steps[depth].conditions}
        of = of._replace(chosen=of.chosen | chosen)
        Walk(self._plan, where, level.found).attributes(element, of, self._key(depth))
        return level

    def _key(self, depth: int) -> str:
        """Path of a level for keys of `extra`."""
        names = (self._plan.layout.names.show(step.tag) for step in self._steps[: depth + 1])
        return "".join(f"/{name}" for name in names)

    def _before(self, level: _Level, until: "_Element", depth: int) -> None:
        """Take what stands in a level before an element, and let go of it."""
        parent = level.element
        self._between(level, parent.text, depth)
        parent.text = None
        while parent[0] is not until:
            child = parent[0]
            if not isinstance(child.tag, str) or not fits(child, self._steps[depth]):
                self._beside(level, child, depth)
            else:
                level.seen += 1
            self._between(level, child.tail, depth)
            del parent[0]

    def _beside(self, level: _Level, child: "_Element", depth: int) -> None:
        """Take an element that stands beside tests, or beside what is around them."""
        self._around += 1
        if self._around > MOST_AROUND:
            message = f"more than {MOST_AROUND:,} elements stand around the tests; see xml.test"
            raise Fault(line_of(child), message)
        if not isinstance(child.tag, str):
            return
        position = level.counts[child.tag] = level.counts.get(child.tag, 0) + 1
        below = match(level.of.nodes, child, position)
        shown = f"{self._plan.layout.names.show(child.tag)}{below.shown}"
        walk = Walk(self._plan, level.where, level.found)
        walk.element(child, below, f"{self._key(depth - 1)}/{shown}")

    def _between(self, level: _Level, text: str | None, depth: int) -> None:
        """Keep text that stands between the elements around tests."""
        if text and text.strip():
            self._around += 1
            level.found.left.setdefault(self._key(depth - 1), []).append(text.strip())

    def _closed(self, element: "_Element") -> None:
        """An element around tests has ended: say what in it came too late for any test."""
        depth = len(self._chain(element)) - 1
        if depth >= len(self._steps) - 1 or not fits(element, self._steps[depth]):
            return
        late = [
            child.tag
            for child in element
            if isinstance(child.tag, str) and not fits(child, self._steps[depth + 1])
        ]
        if late and len(self.notes) < MOST_FAULTS:
            shown = ", ".join(self._plan.layout.names.show(tag) for tag in late[:LISTED])
            more = f" and {len(late) - LISTED} more" if len(late) > LISTED else ""
            self.notes.append(
                Fault(
                    line_of(element),
                    f"the elements {shown}{more} stand after the last test in "
                    f"{self._plan.layout.names.show(element.tag)} and belong to none",
                )
            )
        element.clear(keep_tail=True)


def _has_doctype(root: "_Element") -> bool:
    return root.getroottree().docinfo.internalDTD is not None


def _fed(parser: "XMLPullParser", chunk: bytes) -> Fault | None:
    """Give bytes to the parser; what was wrong with them, if anything was."""
    from lxml import etree

    try:
        parser.feed(chunk)
    except etree.XMLSyntaxError as error:
        return xml_head.broken(error)
    return None
