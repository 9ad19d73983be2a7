"""Texts and attributes of XML nobody has described yet, by the paths that lead to them."""

import re
from collections import Counter
from collections.abc import Collection, Sequence
from typing import TYPE_CHECKING

from sweepbook.draft.evidence import Evidence
from sweepbook_plugins.xml.draft.tree import Tree, attributes, text_of

if TYPE_CHECKING:
    from lxml.etree import _Element

_CHOOSING = re.compile(r"[^\]\[=/]{1,40}")
_LONGEST = 200


def keys(
    tree: Tree,
    tests: "Sequence[_Element]",
    skip: "set[_Element]",
    evidence: Evidence,
    named: "Collection[tuple[str, str]]" = (),
) -> None:
    """Hand over every other text by the path that leads to it, those of tests first.

    Args:
        tree: a file.
        tests: its tests.
        skip: elements of curves, axes and figures.
        evidence: takes the texts.
        named: paths from a test and attributes there that name curves, and so are no keys.
    """
    texts = Evidence()
    for test in tests:
        for name, text in attributes(test).items():
            evidence.put(f"@{tree.spaces.name(name, attribute=True)}", text)
        _below(tree, test, "", skip, texts)
    for key, some in texts.properties.items():
        path, _, attribute = re.sub(r"\[[^]]*\]", "", key).rpartition("/@")
        if (path, attribute) not in named:
            for text in some:
                evidence.put(key, text)
    inside = set(tests)
    around: list[tuple[str, _Element]] = [(f"/{tree.spaces.name(str(tree.root.tag))}", tree.root)]
    while around:
        path, element = around.pop(0)
        if element in inside or element in skip:
            continue
        for name, text in attributes(element).items():
            evidence.put(f"{path}/@{tree.spaces.name(name, attribute=True)}", text)
        if 0 < len(text_of(element)) <= _LONGEST:
            evidence.put(path, text_of(element))
        around += [
            (f"{path}/{tree.spaces.name(str(child.tag))}", child)
            for child in element
            if isinstance(child.tag, str)
        ]


def _below(
    tree: Tree, element: "_Element", path: str, skip: "set[_Element]", evidence: Evidence,
    chosen_by: str = "",
) -> None:  # fmt: skip
    """Hand over what stands below an element, but not the child whose text chose it."""
    children = [c for c in element if isinstance(c.tag, str) and c not in skip]
    children = [c for c in children if tree.spaces.name(str(c.tag)) != chosen_by]
    count = Counter(str(child.tag) for child in children)
    for child in children:
        name = tree.spaces.name(str(child.tag))
        if count[str(child.tag)] > 1:
            chosen = _condition(tree, child, children)
            if chosen is None:
                continue
            name += chosen
        here = f"{path}{name}"
        if 0 < len(text_of(child)) <= _LONGEST:
            evidence.put(here, text_of(child))
        for attribute, text in attributes(child).items():
            shown = tree.spaces.name(attribute, attribute=True)
            if f"@{shown}=" not in name:
                evidence.put(f"{here}/@{shown}", text)
        _below(tree, child, f"{here}/", skip, evidence, _chosen_by(name))


def _chosen_by(name: str) -> str:
    """The child of an element whose text stands in its path as what chose it, or ""."""
    condition = name.partition("[")[2].partition("=")[0]
    return "" if condition.startswith("@") else condition


def _condition(tree: Tree, child: "_Element", children: "Sequence[_Element]") -> str | None:
    """What tells an element from others of its name: an attribute, or the text of a child."""
    same = [other for other in children if other.tag == child.tag]
    for attribute, text in attributes(child).items():
        texts = [other.get(attribute) for other in same]
        if len(set(texts)) == len(texts) and _CHOOSING.fullmatch(text):
            return f"[@{tree.spaces.name(attribute, attribute=True)}={text}]"
    for inner in child:
        if isinstance(inner.tag, str) and not len(inner) and _CHOOSING.fullmatch(text_of(inner)):
            texts = [other.findtext(str(inner.tag)) for other in same]
            if len(set(texts)) == len(texts):
                return f"[{tree.spaces.name(str(inner.tag))}={text_of(inner)}]"
    return None
