"""Curves, figures and axes: elements that a form of the dialect says are one."""

from collections.abc import Mapping, Sequence
from functools import partial
from typing import TYPE_CHECKING, NamedTuple

from sweepbook.dialect.raw import Cell, Name, RawFigure
from sweepbook.dialect.stating import states
from sweepbook.tokens import all_empty
from sweepbook_plugins.xml import figure_rows as xml_figure_rows
from sweepbook_plugins.xml import points as xml_points
from sweepbook_plugins.xml import table as xml_table
from sweepbook_plugins.xml import titled as xml_titled
from sweepbook_plugins.xml.claims import (
    holds_figures,
    is_claimed,
    is_list,
    is_told,
    may_be_curve,
    may_hold,
)
from sweepbook_plugins.xml.found import CurveAt, Early, Found, called, joined, listed, place
from sweepbook_plugins.xml.layout import CurveForm, FigureForm
from sweepbook_plugins.xml.leaves import Leaf
from sweepbook_plugins.xml.paths import Path
from sweepbook_plugins.xml.plan import Plan, axis_owner
from sweepbook_plugins.xml.points import Points
from sweepbook_plugins.xml.shared import Shared, shared
from sweepbook_plugins.xml.tree import Node, every, find, numbers_of, text_at

if TYPE_CHECKING:
    from lxml.etree import _Element

UNKNOWN = (
    "nothing is known by this name{}; what it holds is kept in extra; see xml.curves, xml.figures, "
    "words.parameters, words.pairs and words.ends"
)
UNKNOWN_COLUMNS = (
    "no curve is known by {} of its points; what stands there is kept in extra; see "
    "xml.curves.point.value, words.parameters, words.pairs and words.ends, and xml.skip for what "
    "means nothing"
)
NO_VALUES = (
    "no point of this curve has anything where xml.curves.point.value of its form leads; there are "
    "{}; give it a form with the one of these that it is"
)
NO_POINTS = "no points were found in this curve; see xml.curves"


class Taken(NamedTuple):
    """What the forms made of an element.

    Attributes:
        path: its path, with what names it if nothing is known by that.
        failed: forms that could not use it, or one around it.
        points: points that are taken, and need not be looked at again.
        inner: name of the points of a curve that was taken; others of this name are strays.
    """

    path: str
    failed: frozenset[int]
    points: Points | None = None
    inner: str = ""


class Forms:
    """Tries the forms of a dialect on elements.

    Args:
        plan: what is looked for.
        where: path that the walk begins at, for messages.
        found: what is added to.
        early: points that were taken out of their curves before.
    """

    def __init__(self, plan: Plan, where: str, found: Found, early: Early) -> None:
        self._plan = plan
        self._where = where
        self._found = found
        self._early = early

    def take(
        self, element: "_Element", nodes: tuple[Node, ...], path: str, failed: frozenset[int]
    ) -> Taken:
        """Take an element as what the forms at its nodes say."""
        axes, numbers = numbers_of(nodes) if nodes else ((), ())
        others = frozenset(of for of in axes if not self._axis(of, element, path))
        failed |= frozenset(map(axis_owner, others))
        if not numbers:
            return Taken(path, failed)
        forms = shared(self._plan, numbers)
        texts = forms.texts(element)
        said, names = forms.told(element, texts)
        named = called(path, said)
        taken = self._figures(element, forms.figures, names, named) if forms.figures else set()
        stated, why = self._rows(element, forms, texts, path, named) if forms.rows else (set(), "")
        taken |= stated
        curve, nameless = (
            self._tables(element, forms, texts, path, named) if forms.tables else (None, "")
        )
        nameless = nameless or why
        empty = None
        if curve is None:
            curve, empty = self._curves(element, forms.curves, names, named, nodes)
        if curve is not None:
            taken.add(curve[0])
        elif empty is not None:
            self._found.fault(place(element, self._where, named), self._no_values(empty))
        elif not taken and (others != {*axes} or (nameless and self._is_told(element, nodes))):
            pass  # it is an axis, or fields lead into it, so that it is none of these tables
        elif not taken and (nameless or (not names and may_hold(element, forms, nodes))):
            self._found.note_of_dialect(
                place(element, self._where, named), nameless or _unknown(forms, texts)
            )
        elif not taken and may_be_curve(element, forms, names, nodes):
            self._found.note(place(element, self._where, named), NO_POINTS)
        points = curve[1].points if curve else None
        held = (curve[1].form.point or curve[1].form.table) if curve else None
        return Taken(
            path if taken else named,
            failed | (forms.numbers - taken),
            points if points and points.tag else None,
            held.path.steps[-1].tag if held else "",
        )

    def _is_told(self, element: "_Element", nodes: tuple[Node, ...]) -> bool:
        """Whether the dialect knows by other paths what an element holds that is no table."""
        return is_told(nodes) or holds_figures(
            element, nodes, self._plan.meaning.figure_keys.keys()
        )

    def _axis(self, number: int, element: "_Element", path: str) -> bool:
        """Take a shared axis; whether it is one, by what names it."""
        form, namer = self._plan.axes[number], self._plan.of_axes[number]
        name = None
        if namer is not None and form.of is not None:
            name = namer.name(
                [text_at(element, at.begun_at(element.get)) or "" for _, at, _ in form.of.sources]
            )
            if name is None:
                return False
        self._found.axes.append((form, element, place(element, self._where, path), name))
        return True

    def take_leaf(self, element: "_Element", leaf: Leaf, text: str, path: str) -> bool:
        """Take the curve or the figures of an element without children; whether they are there.

        Args:
            element: the element.
            leaf: what is known of it.
            text: its text.
            path: its path, with what names it.
        """
        if leaf.curve is not None:
            if not text or text.isspace():
                return False
            form, name = leaf.curve
            curve = CurveAt(name, form, element, self._where, path, text=text)
            self._found.curves.append(curve)
        elif leaf.figures is not None:
            name, roles = leaf.figures
            where = place(element, self._where, path)
            stated = []
            for role, at in roles:
                said = (element.get(at, "") if at else text).strip()
                if not said:
                    return False
                stated.append(RawFigure(name, role, Cell(said, where), path))
            self._found.figures += stated
        return True

    def _figures(
        self,
        element: "_Element",
        forms: Sequence[tuple[int, FigureForm]],
        names: Mapping[int, Name],
        path: str,
    ) -> set[int]:
        """Take the single figures of an element; the forms that found some."""
        taken = set()
        for number, form in forms:
            if number not in names:
                continue
            texts = {
                role: text
                for role, source in form.roles.items()
                if (text := (text_at(element, source) or "").strip())
            }
            if states(texts, form.roles):
                taken.add(number)
                at = place(element, self._where, path)
                self._found.figures += [
                    RawFigure(names[number], role, Cell(text, at), path)
                    for role, text in texts.items()
                ]
        return taken

    def _rows(
        self, element: "_Element", forms: Shared, texts: Sequence[str | None], bare: str, path: str
    ) -> tuple[set[int], str]:
        """Take the figures in rows of an element.

        Returns:
            the forms that found some; and where none did, what to say of the last that was tried.
        """
        taken: set[int] = set()
        why = ""
        at = partial(place, element, self._where, path)
        for same in forms.rows:
            read = [
                xml_figure_rows.Form(of, row, named.in_rows, forms.words(of, element, texts))
                for of, row, named in same
            ]
            stated = xml_figure_rows.read(element, read, bare, at)
            if not stated.known:
                why = next(iter(stated.notes), why)
                continue
            taken |= stated.known
            self._found.figures += stated.figures
            for key, text in stated.left.items():
                self._found.keep(joined(bare, key), text)
            for note in stated.notes:
                self._found.note_of_dialect(at(), note)
        return taken, why

    def _tables(
        self, element: "_Element", forms: Shared, texts: Sequence[str | None], bare: str, path: str
    ) -> tuple[tuple[int, CurveAt] | None, str]:
        """Take the curves whose points stand in the same elements.

        Returns:
            number of the form that found some, with one of the curves; and where none did, what to
            say of the last that was tried.
        """
        why = ""
        at = partial(place, element, self._where, path)
        for number, form, table, named in forms.tables:
            rows = (
                xml_titled.read(element, table.path, table.titles, named.held.ignored, at)
                if table.titles
                else xml_table.read(element, table, named.held, at)
            )
            names = forms.columns(number, element, texts, rows.columns)
            others = map(self._plan.layout.names.show, rows.others)
            told = table.titles.others if table.titles else ()
            strange = (of for of in rows.columns if of not in names and of not in told)
            unknown = [*strange, *others]
            if not names:
                told_why = rows.why or NO_POINTS
                why = UNKNOWN_COLUMNS.format(listed(unknown)) if unknown else told_why
                continue
            row = "/".join(step.shown for step in table.path.steps)
            for column in (of for of in rows.columns if of not in names):
                kept = "\n".join(rows.columns[column])
                self._found.keep(joined(bare, f"{row}/{column}"), kept)
            if unknown:
                self._found.note_of_dialect(at(), UNKNOWN_COLUMNS.format(listed(unknown)))
            found = [
                CurveAt(name, form, element, self._where, path, rows.points(column), column)
                for column, name in names.items()
            ]
            self._found.curves += found
            return (number, found[0]), ""
        return None, why

    def _curves(
        self,
        element: "_Element",
        forms: Sequence[tuple[int, CurveForm]],
        names: Mapping[int, Name],
        path: str,
        nodes: tuple[Node, ...],
    ) -> "tuple[tuple[int, CurveAt] | None, _Element | None]":
        """Take the curve of an element by the first form it is written in.

        A text that a field or a figure wants as well is one where it is a list.

        Returns:
            number of the form and curve; and where there is none, the first point of those that
            have no value where a form looks for it, if there are some.
        """
        empty = None
        blank = "" in self._plan.meaning.numbers.missing
        for number, form in forms:
            if number not in names:
                continue
            points, text = None, ""
            if form.point is not None:
                known, points = self._early.get(element, (None, None))
                if points is None or known != form.point:
                    at = partial(place, element, self._where, path)
                    points = xml_points.read(element, form.point, at)
                if not points.value:
                    continue
                if not blank and all_empty(points.value):
                    empty = next(iter(every(element, form.point.path)), None)
                    continue
            elif form.values is not None and form.values.text is not None:
                text = self._list(element, form.values.text, form.values.separator, nodes)
                if not text:
                    continue
            curve = CurveAt(names[number], form, element, self._where, path, points, text=text)
            self._found.curves.append(curve)
            return (number, curve), None
        return None, empty

    def _list(
        self, element: "_Element", at: Path, separator: str | None, nodes: tuple[Node, ...]
    ) -> str:
        """The text with the list of a curve, "" for none; a figure or a field may want it, too."""
        text = text_at(element, at) or ""
        if text.isspace() or not is_claimed(element, at, nodes):
            return text.strip() and text
        if not is_list(text, separator):
            return ""
        holder = find(element, at)
        if holder is not None:
            self._found.lists.add((holder, at.attribute or ""))
        return text

    def _no_values(self, point: "_Element") -> str:
        """What to say of a curve whose points have no value where it is looked for."""
        show = self._plan.layout.names.show
        texts = [f"@{show(str(name), attribute=True)}" for name in point.attrib]
        texts += [show(str(of.tag)) for of in point if isinstance(of.tag, str)]
        return NO_VALUES.format(listed(texts) or "no other texts")


def _unknown(forms: Shared, texts: Sequence[str | None]) -> str:
    """What to say of an element that no form knows: which of its texts none of them takes."""
    strange = ", ".join(forms.strange(texts))
    return UNKNOWN.format(f" (no template or word is for {strange})" if strange else "")
