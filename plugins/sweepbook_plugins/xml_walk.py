"""One walk through an element: each text in it becomes a property, a figure, a curve or extra."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, NamedTuple

from sweepbook.dialect.raw import Cell, Fault, Name, RawFigure
from sweepbook_plugins import xml_points
from sweepbook_plugins.xml_layout import AxisForm, CurveForm, FigureForm, PointForm
from sweepbook_plugins.xml_lists import Listed
from sweepbook_plugins.xml_plan import Named, Plan
from sweepbook_plugins.xml_points import Points
from sweepbook_plugins.xml_tree import NOTHING, Match, Node, match, text_at, text_of

if TYPE_CHECKING:
    from lxml.etree import _Element

DEEPEST = 64
MOST_TEXT = 1 << 20
MOST_FAULTS = 100
BIG_LINE = 65_535

Early = Mapping["_Element", tuple[PointForm, Points]]
"""Points by the element of their curve."""


class Axis(NamedTuple):
    """Frequencies that curves share.

    Attributes:
        listed: the frequencies, or what is wrong with them.
        place: where they stand.
    """

    listed: Listed | Fault
    place: str


@dataclass(frozen=True, slots=True)
class CurveAt:
    """An element that holds a curve.

    Attributes:
        name: what it is of.
        form: how it is written.
        element: the element.
        place: where it stands, for messages.
        points: its points, where it has an element each, else None.
    """

    name: Name
    form: CurveForm
    element: "_Element"
    place: str
    points: Points | None


@dataclass
class Found:
    """What a walk has found.

    Attributes:
        properties: texts by key of the dialect.
        figures: single figures.
        curves: curves, to be read when all axes are known.
        axes: form, element and place of each shared axis that has not been read.
        read: the axes that have.
        left: texts that nothing took, by path.
        faults: faults that lose the test.
        notes: faults that do not.
    """

    properties: dict[str, Cell] = field(default_factory=dict)
    figures: list[RawFigure] = field(default_factory=list)
    curves: list[CurveAt] = field(default_factory=list)
    axes: list["tuple[AxisForm, _Element, str]"] = field(default_factory=list)
    read: dict[str, "Axis"] = field(default_factory=dict)
    left: dict[str, list[str]] = field(default_factory=dict)
    faults: list[Fault] = field(default_factory=list)
    notes: list[Fault] = field(default_factory=list)

    def fault(self, place: str, message: str) -> None:
        """Note what loses the test; of very many the first hundred will do."""
        if len(self.faults) < MOST_FAULTS:
            self.faults.append(Fault(place, message))

    def note(self, place: str, message: str) -> None:
        """Note what does not."""
        if len(self.notes) < MOST_FAULTS:
            self.notes.append(Fault(place, message))


def line_of(element: "_Element") -> str:
    """The line of an element for messages."""
    line = element.sourceline
    if line is None:
        return "line unknown"
    return f"line {line}" if line != BIG_LINE else f"line {line} or later"


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
        path, failed, points = self._forms(element, of.nodes, path, failed)
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
            self.element(child, below, f"{path}/{shown}" if path else shown, failed, depth + 1)

    def attributes(
        self, element: "_Element", of: Match, path: str, failed: frozenset[int] = frozenset()
    ) -> None:
        """Take the attributes of an element."""
        for name, text in element.items():
            chosen = ("@", name) in of.chosen
            shown = f"@{self._names.show(name, attribute=True)}"
            inner = f"{path}/{shown}" if path else shown
            if not self._take(of.nodes, name, text, element, inner, failed) and not chosen:
                self._keep(inner, text, element)

    def _place(self, element: "_Element", path: str) -> str:
        joint = "" if path.startswith("@") or not path else "/"
        return f"{line_of(element)}, {self._where}{joint}{path}"

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
        nodes: Sequence[Node],
        name: str,
        text: str,
        element: "_Element",
        path: str,
        failed: frozenset[int],
    ) -> bool:
        """Give a text to the properties that want it; whether anything knows of it."""
        taken = False
        for node in nodes:
            for key in node.keys.get(name, ()):
                self._put(key, Cell(text, self._place(element, path)))
                taken = True
            if node.owners.get(name, frozenset()) - failed:
                taken = True
        return taken

    def _put(self, key: str, cell: Cell) -> None:
        if len(cell.text) > MOST_TEXT:
            self.found.fault(cell.place, f"the text has {len(cell.text):,} characters")
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
        self.found.left.setdefault(path or self._where, []).append(text)

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

    def _forms(
        self, element: "_Element", nodes: Sequence[Node], path: str, failed: frozenset[int]
    ) -> tuple[str, frozenset[int], Points | None]:
        """Curves, figures and axes that an element holds.

        Returns:
            its path with what names it if nothing is known by that, the forms that could not name
            it, and the points that are taken.
        """
        for node in nodes:
            for number in node.axes:
                where = self._place(element, path)
                self.found.axes.append((self._plan.axes[number], element, where))
        numbers = [number for node in nodes for number in node.forms]
        if not numbers:
            return path, failed, None
        forms = [(number, self._plan.forms[number]) for number in numbers]
        named = path + self._said(element, [form for _, form in forms])
        names = {number: name for number, form in forms if (name := _name(form, element))}
        place = self._place(element, named)
        taken = {
            number
            for number, of in forms
            if number in names
            and isinstance(of.form, FigureForm)
            and self._figure(names[number], of.form, element, named, place)
        }
        curves = [(number, of.form) for number, of in forms if isinstance(of.form, CurveForm)]
        curves.sort(key=lambda numbered: numbered[1].point is None)
        points = None
        for number, form in curves:
            if number in names and not taken & {of for of, _ in curves}:
                curve = self._curve(names[number], form, element, place)
                if curve is not None:
                    taken.add(number)
                    points = curve.points if curve.points and curve.points.tag else None
        failed |= set(numbers) - taken
        if taken:
            return path, failed, points
        if not names:
            message = (
                "nothing is known by this name; what it holds is kept in extra; see xml.curves, "
                "xml.figures, words.parameters, words.pairs and words.ends"
            )
            self.found.note(place, message)
        elif curves:
            message = "no points were found in this curve; see xml.curves"
            self.found.note(place, message)
        return named, failed, None

    def _said(self, element: "_Element", forms: Sequence[Named]) -> str:
        """The texts that name an element: `[@of=echo, @pair=2]`."""
        texts: dict[str, str] = {}
        for named in forms:
            for key, source, _ in named.form.name.sources:
                text = text_at(element, source)
                if text is not None:
                    texts[key] = text.strip()
        return f"[{', '.join(f'{key}={text}' for key, text in texts.items())}]" if texts else ""

    def _figure(
        self, name: Name, form: FigureForm, element: "_Element", path: str, place: str
    ) -> bool:
        """Take the single figures of an element; whether there are any."""
        cells = {
            role: Cell(text.strip(), place)
            for role, source in form.roles.items()
            if (text := text_at(element, source)) is not None and text.strip()
        }
        if not cells.keys() - {"frequency"}:
            return False
        self.found.figures += [RawFigure(name, role, cell, path) for role, cell in cells.items()]
        return True

    def _curve(
        self, name: Name, form: CurveForm, element: "_Element", place: str
    ) -> CurveAt | None:
        """Take the curve of an element; None if it is not written in this form."""
        points = None
        if form.point is not None:
            form_, points = self._early.get(element, (None, None))
            if points is None or form_ is not form.point:
                points = xml_points.read(element, form.point)
            if not points.value:
                return None
        elif form.values is not None and form.values.text is not None:
            text = text_at(element, form.values.text)
            if text is None or not text.strip():
                return None
        self.found.curves.append(CurveAt(name, form, element, place, points))
        return self.found.curves[-1]


def _name(named: Named, element: "_Element") -> Name | None:
    """What an element is of, by its own name and the texts that a form declares."""
    texts = [_local(element, up) for up, _ in named.tags]
    texts += [text_at(element, source) or "" for _, source, _ in named.form.name.sources]
    return named.namer.name(texts)


def _local(element: "_Element", up: int) -> str:
    """Name of an element, or of one above it, without its namespace."""
    found: _Element | None = element
    for _ in range(up):
        found = None if found is None else found.getparent()
    return "" if found is None else str(found.tag).rpartition("}")[2]
