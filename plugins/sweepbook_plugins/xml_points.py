"""One element a point: the texts of a curve taken at once, or one by one where they differ.

An element of lxml costs more than all the rest of a point. So a curve is written out again by the
library, which is quick, and its points are taken from that text by an exact form made from the
first of them. Where a point differs from the first in anything but its numbers, the short way says
no, and every point is looked at by itself.
"""

import re
from collections.abc import Callable, Sequence
from functools import lru_cache
from html import unescape
from typing import TYPE_CHECKING, NamedTuple

from sweepbook_plugins.xml_layout import PointForm
from sweepbook_plugins.xml_paths import Path
from sweepbook_plugins.xml_tree import every, text_at

if TYPE_CHECKING:
    from lxml.etree import _Element

_TOKENS = r"([^<\s]*+(?: ++[^<\s]++)*+)"
_FORMS = {"text": rf"\s*+{_TOKENS}\s*+", "attribute": _TOKENS.replace("<", '"<')}
_OPENING = re.compile(r"\((?!\?)")


class Points(NamedTuple):
    """The points of a curve.

    Attributes:
        frequency: n texts; none where the form names no frequency.
        value: n texts.
        place_of: place of a point, for messages.
        alone: whether the curve element holds nothing but these points.
        taken: whether nothing in the points is left to be looked at.
        tag: name of the points, where they are children of the curve.
    """

    frequency: Sequence[str]
    value: Sequence[str]
    place_of: Callable[[int], str]
    alone: bool
    taken: bool
    tag: str = ""


def read(curve: "_Element", form: PointForm, place: str) -> Points:
    """The points in a curve element; there may be none."""
    rest = place.partition(", ")[2]

    def place_of(position: int) -> str:
        point = every(curve, form.path)[position]
        return f"line {point.sourceline}, {rest}, point {position + 1}"

    quick = _quick(curve, form)
    if quick is not None:
        frequency, value, alone = quick
        return Points(frequency, value, place_of, alone, True, form.path.steps[0].tag)
    found = every(curve, form.path)
    frequency = _texts(found, form.frequency) if form.frequency else []
    return Points(frequency, _texts(found, form.value), place_of, alone=False, taken=False)


def _texts(points: Sequence["_Element"], path: Path) -> list[str]:
    return [(text_at(point, path) or "").strip() for point in points]


def _quick(curve: "_Element", form: PointForm) -> tuple[Sequence[str], Sequence[str], bool] | None:
    """Frequencies, values and whether nothing else is there; None if the short way is no way."""
    from lxml import etree

    if len(form.path.steps) != 1 or form.path.steps[0].conditions:
        return None
    tag = form.path.steps[0].tag
    first = next(curve.iterchildren(tag), None)
    if first is None:
        return None
    made = _pattern(first, form)
    if made is None:
        return None
    text = etree.tostring(curve, encoding="unicode", with_tail=False)
    inner = text.index(">") + 1
    begins = made.point.search(text, inner)
    run = made.run.match(text, begins.start()) if begins else None
    if run is None or not _is_level(text[inner : run.start()]):
        return None
    found = made.point.findall(text, run.start(), run.end())
    if len(found) != _counter(tag)(curve):
        return None
    columns = list(zip(*found, strict=True)) if made.frequency is not None else [tuple(found)]
    value = columns[made.value]
    frequency = columns[made.frequency] if made.frequency is not None else ()
    if "&" in text:
        value, frequency = tuple(map(unescape, value)), tuple(map(unescape, frequency))
    head, tail = text[inner : run.start()], text[run.end() : text.rindex("<")]
    return frequency, value, not head.strip() and not tail.strip()


def _is_level(text: str) -> bool:
    """Whether every element that begins in a text of the library's own writing ends in it."""
    ends = text.count("</")
    return text.count("<") - ends == ends + text.count("/>")


class _Pattern(NamedTuple):
    """The exact form of a point, as text.

    Attributes:
        point: one point; its groups are frequency and value in the order of the text.
        run: all points one after the other.
        frequency, value: which group is which, counted from 0.
    """

    point: re.Pattern[str]
    run: re.Pattern[str]
    frequency: int | None
    value: int


def _pattern(first: "_Element", form: PointForm) -> _Pattern | None:
    """The form of the first point; None where it holds more than one frequency and one value."""
    sources = {form.value: "value"} | ({form.frequency: "frequency"} if form.frequency else {})
    order: list[str] = []
    made = _form(first, Path(False, 0, (), None), sources, order)
    if made is None or sorted(order) != sorted(sources.values()):
        return None
    return _compiled(made, tuple(order))


@lru_cache(maxsize=256)
def _compiled(made: str, order: tuple[str, ...]) -> _Pattern:
    plain = _OPENING.sub("(?:", made)
    return _Pattern(
        re.compile(rf"{made}\s*+"),
        re.compile(rf"(?:{plain}\s*+)*+"),
        order.index("frequency") if "frequency" in order else None,
        order.index("value"),
    )


def _form(
    element: "_Element", path: Path, sources: dict[Path, str], order: list[str]
) -> str | None:
    """The form of an element as the library writes it; None where it holds what is no source."""
    parts = [f"<{re.escape(_called(element))}"]
    for name in element.attrib:
        what = sources.get(path._replace(attribute=str(name)))
        if what is None or "}" in str(name):
            return None
        order.append(what)
        parts.append(f' {re.escape(str(name))}="{_FORMS["attribute"]}"')
    parts.append(">")
    if path in sources:
        order.append(sources[path])
        parts.append(_FORMS["text"])
    else:
        parts.append(r"\s*+")
    for child in element:
        step = next(
            (of.steps[-1] for of in sources if of.steps and of.steps[-1].tag == child.tag), None
        )
        if step is None or step.conditions or path.steps:
            return None
        inner = _form(child, path._replace(steps=(*path.steps, step)), sources, order)
        if inner is None:
            return None
        parts += [inner, r"\s*+"]
    return "".join([*parts, f"</{re.escape(_called(element))}>"])


def _called(element: "_Element") -> str:
    """The name of an element as it stands in the text."""
    local = str(element.tag).rpartition("}")[2]
    return f"{element.prefix}:{local}" if element.prefix else local


@lru_cache(maxsize=64)
def _counter(tag: str) -> "Callable[[_Element], float]":
    """Counts the children of a name."""
    from lxml import etree

    uri, _, local = tag.removeprefix("{").rpartition("}")
    if uri:
        return etree.XPath(f"count(n:{local})", namespaces={"n": uri})  # type: ignore[return-value]
    return etree.XPath(f"count({local})")  # type: ignore[return-value]
