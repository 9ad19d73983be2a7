"""What to say of a curve that comes twice: where the texts of the two elements differ."""

from collections import Counter
from collections.abc import Iterator
from typing import TYPE_CHECKING

from sweepbook_plugins.xml.found import LISTED, SHOWN, CurveAt
from sweepbook_plugins.xml.paths import Names

if TYPE_CHECKING:
    from lxml.etree import _Element


def message(first: CurveAt, second: CurveAt, names: Names) -> str:
    """What to say of the second of two curves with one name.

    Args:
        first: the curve that came before.
        second: the other.
        names: the namespaces that the dialect declares.
    """
    told = f"the curve '{second.name}' comes a second time"
    if first.column != second.column:
        return f"{told}, the first at {first.column}"
    apart = list(_apart(first.element, second.element, names))[:LISTED]
    if not apart:
        return (
            f"{told}; the first is {first.place()}, and nothing but values tells the two apart: "
            "one may bear the name of a curve that is missing"
        )
    return (
        f"{told}; the first, {first.place()}, differs from it in {' and '.join(apart)}: if that "
        "tells the two apart, put it into name"
    )


def _apart(first: "_Element", second: "_Element", names: Names) -> Iterator[str]:
    """The texts in which two elements, and those around them, differ, with both of them."""
    one: _Element | None = first
    other: _Element | None = second
    prefix = ""
    while one is not None and other is not None and one is not other:
        here, there = _texts(one, names), _texts(other, names)
        for path in dict.fromkeys((*here, *there)):
            texts = here.get(path, ""), there.get(path, "")
            if texts[0] != texts[1]:
                yield f"{prefix}{path} ({texts[0]!r}, here {texts[1]!r})"
        one, other, prefix = one.getparent(), other.getparent(), f"../{prefix}"


def _texts(element: "_Element", names: Names) -> dict[str, str]:
    """Attributes of an element and texts of plain children, by path, as far as they are short.

    Children of one name that come again are points and figures, which name nothing.
    """
    found = {
        f"@{names.show(str(name), attribute=True)}": str(text)
        for name, text in element.attrib.items()
    }
    count = Counter(child.tag for child in element)
    for child in element:
        if count[child.tag] > 1 or not isinstance(child.tag, str) or len(child):
            continue
        if child.text and child.text.strip():
            found.setdefault(names.show(child.tag), child.text.strip())
    return {path: text for path, text in found.items() if len(text) <= SHOWN}
