"""One walk through an element: each text in it becomes a property, a figure, a curve or extra."""

from typing import TYPE_CHECKING

from sweepbook.dialect.raw import Cell
from sweepbook_plugins.xml.forms import Forms
from sweepbook_plugins.xml.found import Early, Found, joined, place
from sweepbook_plugins.xml.head import MOST_ATTRIBUTES
from sweepbook_plugins.xml.leaves import Kind, kinds
from sweepbook_plugins.xml.plan import Plan
from sweepbook_plugins.xml.points import Points
from sweepbook_plugins.xml.tree import NOTHING, Match, keys_of, match, text_of

if TYPE_CHECKING:
    from lxml.etree import _Element

DEEPEST = 64
MOST_TEXT = 1 << 20
STRAY = (
    "this is called like the points of the curve around it and does not stand where they do, so "
    "that the curve may lack it; see xml.curves.point.path, and xml.skip for what means nothing"
)


class Walk:
    """Goes through elements and sorts what they hold.

    Args:
        plan: what is looked for.
        where: path of the element that the walk begins at, for messages.
        found: what it adds to.
        early: points that were taken out of their curves before.
    """

    def __init__(self, plan: Plan, where: str, found: Found, early: "Early | None" = None) -> None:
        self._plan = plan
        self._early = early or {}
        self._forms = Forms(plan, where, found, self._early)
        self._names = plan.layout.names
        self._where = where
        self._wires = plan.wires
        self._inner_tag = ""
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
        for node in of.nodes:
            if node.skip:
                return
        if depth > DEEPEST:
            message = f"elements are nested deeper than {DEEPEST}"
            self.found.fault(self._place(element, path), message)
            return
        path, failed, points, inner = self._forms.take(element, of.nodes, path, failed)
        alone = points is not None and points.alone
        if points is None and self._early and element in self._early:
            self._give_back(element, path)
        filled = self._texts(element, of, path, failed, alone=alone)
        if not alone and len(element):
            outer, self._inner_tag = self._inner_tag, inner or self._inner_tag
            self._children(element, of, path, failed, depth, points)
            self._inner_tag = outer
        if not (of.nodes or filled or len(element) or element.attrib):
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
        known = kinds(self._plan, of, path, failed)
        for child in element:
            tag = child.tag
            if not isinstance(tag, str):
                self._foreign(child, path)
                continue
            if points is not None and tag == points.tag:
                continue
            kind = known[tag] if not len(child) and depth < DEEPEST else None
            stray = tag == self._inner_tag
            if kind is not None and not stray and self._leaf(child, kind):
                continue
            position = counts[tag] = counts.get(tag, 0) + 1
            below = match(of.nodes, child, position) if of.nodes else NOTHING
            if ("child", tag) in of.chosen and position == 1 and not (len(child) or child.attrib):
                continue  # it is what the dialect chose the element by
            inner = joined(path, f"{self._names.show(tag)}{below.shown}")
            if stray and not below.nodes:
                self.found.fault(self._place(child, inner), STRAY)
            self.element(child, below, inner, failed, depth + 1)

    def _leaf(self, element: "_Element", kind: Kind) -> bool:
        """Take an element without children as one of a known kind; whether that can be done."""
        leaf = None if self._early and element in self._early else kind.leaf(element)
        if leaf is None:
            return False
        path = kind.path
        text = element.text or ""
        if leaf.curve or leaf.figures:
            if not self._forms.take_leaf(element, leaf, text, f"{path}{leaf.said}"):
                return False
        elif not (kind.of.nodes or text.strip() or element.attrib):
            return False
        for name, inner, keys in leaf.attributes:
            if keys:
                self._put_all(keys, element.get(name, ""), element, inner, name)
            else:
                self._keep(inner, element.get(name, ""), element)
        if leaf.text:
            self._put_all(leaf.text, text.strip(), element, path)
        elif leaf.text is None and (text := text.strip()):
            self._keep(path, text, element)
        return True

    def attributes(
        self, element: "_Element", of: Match, path: str, failed: frozenset[int] = frozenset()
    ) -> None:
        """Take the attributes of an element."""
        if len(element.attrib) > MOST_ATTRIBUTES:
            message = f"an element has more than {MOST_ATTRIBUTES:,} attributes"
            self.found.fault(self._place(element, path), message)
            return
        known = keys_of(of.nodes, failed)
        for name, text in element.items():
            keys = known.get(name)
            if keys:
                self._put_all(keys, text, element, self._names.inner(path, name), name)
            elif keys is None and ("@", name) not in of.chosen:
                self._keep(self._names.inner(path, name), text, element)

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
        keys = keys_of(of.nodes, failed).get("")
        if keys == () or (alone and keys is None):
            return False  # a form has it: whether there is any text is of no account
        text = "" if alone else text_of(element).strip()
        if keys:
            self._put_all(keys, text, element, path)
        elif text:
            self._keep(path, text, element)
        return bool(text)

    def _put_all(
        self, keys: tuple[str, ...], text: str, element: "_Element", path: str, attribute: str = ""
    ) -> None:
        """Give a text of an element, or of its attribute, at a path to the keys that want it.

        A list that is a curve is no figure.
        """
        if (element, attribute) in self.found.lists:
            figures = self._plan.meaning.figure_keys.keys()
            keys = tuple(key for key in keys if key not in figures)
        cell = Cell(text, self._place(element, path))
        for key in keys:
            if key in self._wires and len(text) <= MOST_TEXT:
                self._put_wire(key, cell, element)
            else:
                self._put(key, cell)

    def _put_wire(self, key: str, cell: Cell, element: "_Element") -> None:
        """Take a text of a wire map, with the element that holds the whole wire."""
        for _ in range(self._wires[key]):
            parent = element.getparent()
            element = element if parent is None else parent
        self.found.wires.setdefault(key, []).append((element, cell))

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
