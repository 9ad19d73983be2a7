"""What to say where one element that is read as a test holds several.

Each has a label of its own or, where nothing at all is found by the dialect, a day of its own.
"""

import re
from collections import Counter
from typing import TYPE_CHECKING

from sweepbook.dialect.raw import Cause
from sweepbook_plugins.xml.found import Found, line_of, listed
from sweepbook_plugins.xml.paths import Path, parse
from sweepbook_plugins.xml.plan import Plan
from sweepbook_plugins.xml.tree import every, text_at

if TYPE_CHECKING:
    from lxml.etree import _Element

_SEVERAL = 2
_MOSTLY = 0.8
_SHORTEST_DAY, _LONGEST_DAY = 6, 60
_CHOICE = re.compile(r"\[[^\]]*\]")


def too_high(test: "_Element", plan: Plan, found: Found) -> Cause | None:
    """The cause of what stands in a test several times, where elements in it are the tests.

    Args:
        test: the element of a test.
        plan: what was looked for.
        found: what was found in it; without a fault, or a figure that comes twice, all is well.
    """
    figures = Counter((of.name, of.role) for of in found.figures)
    places = [of.cell.place for of in found.figures if figures[of.name, of.role] >= _SEVERAL]
    places += [of.place for of in found.faults]
    if not places:
        return None if found.figures or found.curves else _of_day(test, plan)
    bare = [f"{_CHOICE.sub('', place)}/" for place in places]
    for key in plan.meaning.fields["link.label"]:
        try:
            path = parse(key, plan.layout.names)
        except ValueError:  # told where the fields are held against the forms of paths
            continue
        if not path.absolute and (cause := _of_label(test, path, plan, bare)):
            return cause
    return None


def _of_label(test: "_Element", label: Path, plan: Plan, places: list[str]) -> Cause | None:
    """The cause, where elements on the way to the label hold these places, and each a label."""
    steps = tuple(step._replace(conditions=()) for step in label.steps)
    for depth in range(1, len(steps) + (label.attribute is not None)):
        inner = every(test, Path(False, 0, steps[:depth], None))
        rest = Path(False, 0, steps[depth:], label.attribute)
        texts = [(text_at(one, rest) or "").strip() for one in inner]
        shown = "/".join(plan.layout.names.show(step.tag) for step in steps[:depth])
        told = any(f"/{shown}/" in place for place in places)
        if told and len(inner) >= _SEVERAL and all(texts) and len(set(texts)) >= _SEVERAL:
            return Cause(line_of(inner[1]), _message(shown, "label", texts, plan))
    return None


def _of_day(test: "_Element", plan: Plan) -> Cause | None:
    """The cause, where elements of one path hold a day each and, together, most of the test."""
    dated: dict[str, list[tuple[_Element, str]]] = {}
    count = 0
    for element in test.iterdescendants("*"):
        count += 1
        if day := _day_in(element):
            dated.setdefault(_shown(element, test, plan), []).append((element, day))
    for some in dated.values():
        holders = [element for element, _ in some]
        while len(set(holders)) == len(some) >= _SEVERAL and holders[0] is not test:
            if sum(1 for of in holders for _ in of.iter("*")) >= _MOSTLY * count:
                shown = _shown(holders[0], test, plan)
                message = _message(shown, "day", [day for _, day in some], plan)
                return Cause(line_of(holders[1]), f"nothing in this test is known: {message}")
            holders = [of.getparent() for of in holders]
    return None


def _day_in(element: "_Element") -> str:
    """The day that an element or one of its attributes says, "" without one."""
    from sweepbook.draft.dates import is_day

    texts = (str(text).strip() for text in (element.text or "", *element.attrib.values()))
    days = (text for text in texts if _SHORTEST_DAY <= len(text) <= _LONGEST_DAY and is_day(text))
    return next(days, "")


def _shown(element: "_Element", test: "_Element", plan: Plan) -> str:
    """The path of an element in a test, without what tells it from others."""
    steps = [str(element.tag)]
    for one in element.iterancestors():
        if one is test:
            break
        steps.append(str(one.tag))
    return "/".join(map(plan.layout.names.show, reversed(steps)))


def _message(inner: str, own: str, texts: list[str], plan: Plan) -> str:
    outer = "/".join(plan.layout.names.show(step.tag) for step in plan.layout.test.steps)
    return (
        f"{len(texts)} elements {inner} stand in this test, each with a {own} of its own "
        f'({listed(texts)}); if each is a test, write test = "/{outer}/{inner}" in [xml], and '
        "all other paths from there"
    )
