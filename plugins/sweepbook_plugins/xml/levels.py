"""The elements around the tests of an XML file: what they hold, and letting go of it in time."""

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from sweepbook.dialect.raw import Fault
from sweepbook_plugins.xml.found import MOST_FAULTS, Found, line_of
from sweepbook_plugins.xml.plan import Plan
from sweepbook_plugins.xml.tree import Match, fits, match
from sweepbook_plugins.xml.walk import Walk

if TYPE_CHECKING:
    from lxml.etree import _Element

MOST_AROUND = 10_000
"""Texts around the tests, such as site and project."""

LISTED = 5


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


class Levels:
    """Follows the elements around the tests.

    Args:
        plan: what is looked for.
    """

    def __init__(self, plan: Plan) -> None:
        self._plan = plan
        self._names = plan.layout.names
        self._steps = plan.layout.test.steps
        self._at = plan.test
        self._levels: list[_Level] = []
        self._around = 0
        self.notes: list[Fault] = []
        """What stood where nothing took it; at most a hundred."""

    @property
    def around(self) -> tuple[Found, ...]:
        """What the elements around the present test, and before it, hold, from the root inwards."""
        return tuple(level.found for level in self._levels)

    def is_test(self, element: "_Element") -> bool:
        """Whether it stands where tests stand, and is one."""
        if not fits(element, self._at[-1]):
            return False
        chain = _chain(element)
        return len(chain) == len(self._at) and all(
            fits(each, at) for each, at in zip(chain, self._at, strict=True)
        )

    def enter(self, test: "_Element") -> str:
        """Come to a test: take in what stands around and before it; return its path in the file.

        Raises:
            Fault: too much stands around the tests.
        """
        self._follow(_chain(test))
        if not self._levels:
            return f"/{self._names.show(str(test.tag))}"
        return f"{self._levels[-1].where}/{self._called(test, self._levels[-1])}"

    def _called(self, element: "_Element", level: _Level) -> str:
        return f"{self._names.show(element.tag)}[{level.seen + 1}]"

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
            where = f"/{self._names.show(element.tag)}"
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
        names = (self._names.show(step.tag) for step in self._steps[: depth + 1])
        return "".join(f"/{name}" for name in names)

    def _before(self, level: _Level, until: "_Element", depth: int) -> None:
        """Take what stands in a level before an element, and let go of it."""
        parent = level.element
        self._between(level, parent.text, depth)
        parent.text = None
        while parent[0] is not until:
            child = parent[0]
            if not isinstance(child.tag, str) or not fits(child, self._at[depth]):
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
        shown = f"{self._names.show(child.tag)}{below.shown}"
        walk = Walk(self._plan, level.where, level.found)
        walk.element(child, below, f"{self._key(depth - 1)}/{shown}")

    def _between(self, level: _Level, text: str | None, depth: int) -> None:
        """Keep text that stands between the elements around tests."""
        if text and text.strip():
            self._around += 1
            level.found.left.setdefault(self._key(depth - 1), []).append(text.strip())

    def leave(self, element: "_Element") -> None:
        """An element around tests has ended: say what in it came too late for any test."""
        depth = len(_chain(element)) - 1
        if depth >= len(self._steps) - 1 or not fits(element, self._at[depth]):
            return
        late = [
            child.tag
            for child in element
            if isinstance(child.tag, str) and not fits(child, self._at[depth + 1])
        ]
        if late and len(self.notes) < MOST_FAULTS:
            shown = ", ".join(self._names.show(tag) for tag in late[:LISTED])
            more = f" and {len(late) - LISTED} more" if len(late) > LISTED else ""
            self.notes.append(
                Fault(
                    line_of(element),
                    f"the elements {shown}{more} stand after the last test in "
                    f"{self._names.show(element.tag)} and belong to none",
                )
            )
        element.clear(keep_tail=True)


def _chain(element: "_Element") -> "list[_Element]":
    """The element and those around it, from the root."""
    return [element, *element.iterancestors()][::-1]
