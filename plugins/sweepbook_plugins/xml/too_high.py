"""What to say where one element that is read as a test holds several, each with its own label."""

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
        return None
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
            return Cause(line_of(inner[1]), _message(shown, texts, plan))
    return None


def _message(inner: str, labels: list[str], plan: Plan) -> str:
    outer = "/".join(plan.layout.names.show(step.tag) for step in plan.layout.test.steps)
    return (
        f"{len(labels)} elements {inner} stand in this test, each with a label of its own "
        f'({listed(labels)}); if each is a test, write test = "/{outer}/{inner}" in [xml], and '
        "all other paths from there"
    )
