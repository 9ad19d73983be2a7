"""One walk through an element: each text in it becomes a property, a figure, a curve or extra."""

from functools import lru_cache
from typing import TYPE_CHECKING

from sweepbook.dialect.raw import Cell
from sweepbook_plugins.xml.forms import Forms
from sweepbook_plugins.xml.found import Early, Found, joined, place
from sweepbook_plugins.xml.head import MOST_ATTRIBUTES
from sweepbook_plugins.xml.plan import Plan
from sweepbook_plugins.xml.points import Points
from sweepbook_plugins.xml.tree import NOTHING, Match, Node, match, text_of

if TYPE_CHECKING:
    from lxml.etree import _Element

DEEPEST = 64
MOST_TEXT = 1 << 20


class Walk:
    """Goes through elements and sorts what they hold.

    Args:
        plan: what is looked for.
        where: path of the element that the walk begins at, for messages.
        found: what it adds to.
        early: points that were taken out of their curves before.
    """

    def __init__(self, plan: Plan, where: str, found: Found, early: "Early | None" = None) -> None:
        self._early = early or {}
        self._forms = Forms(plan, where, found, self._early)
        self._names = plan.layout.names
        self._where = where
        self.found = found

    def element(
        self,
        element: "_Element",
        of: Match,
        path: str = "",
        failed: frozenset[int] = frozenset(),
        depth: int = 0,
    ) -> None:
        """Take one element and all in it.

        Args:
            element: the element.
            of: what the dialect knows of it.
            path: its path for keys of `extra`, "" where the walk begins.
            failed: forms that could not name an element around it.
            depth: how deep it lies.
        """
        if any(node.skip for node in of.nodes):
            return
        if depth > DEEPEST:
            message = f"elements are nested deeper than {DEEPEST}"
            self.found.fault(self._place(element, path), message)
            return
        path, failed, points = self._forms.take(element, of.nodes, path, failed)
        alone = points is not None and points.alone
        if points is None and element in self._early:
            self._give_back(element, path)
        filled = self._texts(element, of, path, failed, alone=alone)
        if not alone:
            self._children(element, of, path, failed, depth, points)
        if not (filled or len(element) or element.attrib or of.nodes):
            self._keep(path, "", element)

    def _children(
        self,
        element: "_Element",
        of: Match,
        path: str,
        failed: frozenset[int],
        depth: int,
        points: Points | None,
    ) -> None:
        """Take the children of an element, without points that are taken already."""
        counts: dict[str, int] = {}
        for child in element:
            tag = child.tag
            if not isinstance(tag, str):
                self._foreign(child, path)
                continue
            if points is not None and tag == points.tag:
                continue
            position = counts[tag] = counts.get(tag, 0) + 1
            below = match(of.nodes, child, position) if of.nodes else NOTHING
            if ("child", tag) in of.chosen and not len(child) and not child.attrib:
                continue
            shown = f"{self._names.show(tag)}{below.shown}"
            self.element(child, below, joined(path, shown), failed, depth + 1)

    def attributes(
        self, element: "_Element", of: Match, path: str, failed: frozenset[int] = frozenset()
    ) -> None:
        """Take the attributes of an element."""
        if len(element.attrib) > MOST_ATTRIBUTES:
            message = f"an element has more than {MOST_ATTRIBUTES:,} attributes"
            self.found.fault(self._place(element, path), message)
            return
        for name, text in element.items():
            if not self._take(of.nodes, name, text, element, path, failed) and (
                ("@", name) not in of.chosen
            ):
                self._keep(self._inner(path, name), text, element)

    def _inner(self, path: str, name: str) -> str:
        """The path of an attribute, or of the element itself for no name."""
        return joined(path, f"@{self._names.show(name, attribute=True)}") if name else path

    def _place(self, element: "_Element", path: str) -> str:
        return place(element, self._where, path)

    def _texts(
        self,
        element: "_Element",
        of: Match,
        path: str,
        failed: frozenset[int],
        *,
        alone: bool,
    ) -> bool:
        """Attributes and own text of an element; whether there was any text."""
        self.attributes(element, of, path, failed)
        text = "" if alone else text_of(element)
        filled = bool(text.strip())
        if filled or of.nodes:
            taken = self._take(of.nodes, "", text.strip(), element, path, failed)
            if filled and not taken:
                self._keep(path, text.strip(), element)
        return filled

    def _take(
        self,
        nodes: tuple[Node, ...],
        name: str,
        text: str,
        element: "_Element",
        path: str,
        failed: frozenset[int],
    ) -> bool:
        """Give a text to the properties that want it; whether anything knows of it."""
        keys, owned = _known(nodes, name, failed)
        for key in keys:
            self._put(key, Cell(text, self._place(element, self._inner(path, name))))
        return owned or bool(keys)

    def _put(self, key: str, cell: Cell) -> None:
        if len(cell.text) > MOST_TEXT:
            self.found.fault(
                cell.place, f"the text has {len(cell.text):,} characters, more than any field means"
            )
            return
        known = self.found.properties.setdefault(key, cell)
        if known.text != cell.text:
            self.found.fault(
                cell.place,
                f"the key {key!r} comes a second time ({known.text!r:.60}, then "
                f"{cell.text!r:.60}); choose one with [@attribute=value] or [1]",
            )

    def _keep(self, path: str, text: str, element: "_Element") -> None:
        if len(text) > MOST_TEXT and path not in self.found.left:
            self.found.note(
                self._place(element, path),
                f"a text of {len(text):,} characters that nothing mentions is kept in extra",
            )
        self.found.keep(path or self._where, text)

    def _give_back(self, element: "_Element", path: str) -> None:
        """Keep points that were taken early out of what is no known curve."""
        form, points = self._early[element]
        shown = f"{path}/{'/'.join(step.shown for step in form.path.steps)}"
        self._keep(f"{shown} value", "\n".join(points.value), element)
        if points.frequency:
            self._keep(f"{shown} frequency", "\n".join(points.frequency), element)

    def _foreign(self, child: "_Element", path: str) -> None:
        """What is neither an element nor text: a reference to an entity."""
        self.found.fault(self._place(child, path), f"{child.text!r} stands for a text outside")


@lru_cache(maxsize=4096)
def _known(
    nodes: tuple[Node, ...], name: str, failed: frozenset[int]
) -> tuple[tuple[str, ...], bool]:
    """The keys that want an attribute, or the text for no name; whether a form owns it as well."""
    keys = [key for node in nodes for key in node.keys.get(name, ())]
    return tuple(keys), any(node.owners.get(name, set()) - failed for node in nodes)
