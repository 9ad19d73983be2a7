"""Texts and attributes of XML nobody has described yet, by the paths that lead to them."""

import re
from collections import Counter
from collections.abc import Collection, Sequence
from typing import TYPE_CHECKING

from sweepbook.draft import phrases
from sweepbook.draft.dates import is_day
from sweepbook.draft.evidence import Evidence
from sweepbook.draft.key_offers import steps_of
from sweepbook.draft.numbers import is_numeric
from sweepbook.draft.parsed import Ends
from sweepbook.draft.trade_words import ENDS
from sweepbook_plugins.xml.draft.item_keys import value_key
from sweepbook_plugins.xml.draft.tree import (
    CHOICE,
    Item,
    Tree,
    all_in,
    attributes,
    elements_in,
    local,
    local_name,
    text_of,
)

if TYPE_CHECKING:
    from lxml.etree import _Element

_LONGEST = 200
_KEY_AND_VALUE = 2
_CONTACTS = frozenset("12345678")
"""Numbers that choose elements all the same: each is a wire from one contact to another."""
_IDS = ("id", "key", "uid", "ident", "ref")


def keys(
    tree: Tree,
    tests: "Sequence[_Element]",
    skip: "set[_Element]",
    evidence: Evidence,
    named: "Collection[tuple[str, str]]" = (),
    ends: Ends | None = None,
) -> set[str]:
    """Hand over every other text by the path that leads to it, those of tests first.

    Args:
        tree: a file.
        tests: its tests.
        skip: elements of curves, axes and figures.
        evidence: takes the texts.
        named: paths from a test and attributes there that name curves, and so are no keys.
        ends: words for near and far.

    Returns:
        the keys that hold a text in every test of the file.
    """
    known = _identifiers(tree, set(tests))
    texts = Evidence()
    in_all: list[set[str]] = []
    for test in tests:
        own = Evidence()
        for name, text in attributes(test).items():
            own.put(tree.at(name), text)
        _below(tree, test, "", skip, own, ends)
        in_all.append({key for key, some in own.properties.items() if some})
        for key, some in own.properties.items():
            texts.properties.setdefault(key, [])
            for text in some:
                texts.put(key, text)
    for key, some in texts.properties.items():
        path, _, attribute = re.sub(r"\[[^]]*\]", "", key).rpartition("/@")
        if (path, attribute) not in named and not known.issuperset(some):
            for text in some:
                evidence.put(key, text)
    return set.intersection(*in_all) | _around(tree, tests, skip, evidence, ends)


def _around(
    tree: Tree, tests: "Sequence[_Element]", skip: "set[_Element]", evidence: Evidence,
    ends: Ends | None,
) -> set[str]:  # fmt: skip
    """Hand over what stands outside of tests, and so counts for each of them; its keys."""
    found: set[str] = set()
    elements: Counter[str] = Counter()
    holders = {one for test in tests for one in test.iterancestors()}.union(tests)
    around: list[tuple[str, _Element]] = [(f"/{tree.name(tree.root)}", tree.root)]
    while around:
        path, element = around.pop(0)
        if element in tests or element in skip or _chooses_parent(path):
            continue
        elements[path] += 1
        if item := tree.items.get(element):
            found |= _put_item(path, item, evidence)
            continue
        for name, text in attributes(element).items():
            shown = tree.at(name)
            if not _is_id(name) and f"[{shown}=" not in steps_of(path)[-1]:
                evidence.put(f"{path}/{shown}", text)
                found.add(f"{path}/{shown}")
        if 0 < len(text_of(element)) <= _LONGEST:
            evidence.put(path, text_of(element))
            found.add(path)
        around += [
            (f"{path}/{tree.name(child)}{condition}", child)
            for child, condition in _told_apart(tree, element, holders, ends)
        ]
    single = {path for path, count in elements.items() if len(tests) < 2 * count and count > 1}
    evidence.own |= {key for key in found if {key, key.rpartition("/@")[0]} & single}
    return found


def _identifiers(tree: Tree, tests: "set[_Element]") -> set[str]:
    """Texts by which tests refer to what is named outside of them, once for all."""
    found = set()
    for element in all_in(tree.root):
        if tests.isdisjoint((element, *element.iterancestors())):
            for name, text in attributes(element).items():
                if _is_id(name) and any(map(str.isalnum, text)):
                    found.add(text)
    return found


def _is_id(name: str) -> bool:
    return local(name).casefold() in _IDS


def _told_apart(
    tree: Tree, element: "_Element", holders: "set[_Element]", ends: Ends | None
) -> "list[tuple[_Element, str]]":
    """The children and what tells each from others of its name; "" for what is around a test."""
    children = elements_in(element)
    beside = [child for child in children if child not in holders]
    count = Counter(str(child.tag) for child in beside)
    told = [(c, _condition(tree, c, beside, ends) if count[str(c.tag)] > 1 else "") for c in beside]
    apart = [
        (child, condition)
        for child, condition in told
        if condition is not None and (not condition or _is_of_all(tree, child, condition, ends))
    ]
    return [*((child, "") for child in children if child in holders), *apart]


def _is_of_all(tree: Tree, child: "_Element", condition: str, ends: Ends | None) -> bool:
    """Whether one of several elements outside of tests says something of all tests.

    An instrument at an end does, and a key with its value; of several cables or limits no path
    tells which one a test is of.
    """
    if child in tree.items:
        return True
    chooser, _, text = condition.strip("[]").partition("=")
    if _is_end(chooser.strip("@"), text, ends):
        return True
    inner = [one for one in elements_in(child) if text_of(one)]
    texts = len(attributes(child)) + len(inner) + bool(text_of(child))
    return texts == _KEY_AND_VALUE and not _is_id(chooser.strip("@"))


def _below(
    tree: Tree, element: "_Element", path: str, skip: "set[_Element]", evidence: Evidence,
    ends: Ends | None, chosen_by: str = "",
) -> None:  # fmt: skip
    """Hand over what stands below an element, but not the child whose text chose it.

    Others of the name of that child, as in rows of cells, are told from it by their place.
    """
    children = [of for of in elements_in(element) if of not in skip]
    count = Counter(str(child.tag) for child in children)
    places: Counter[str] = Counter()
    for child in children:
        name = tree.name(child)
        places[name] += 1
        if name == chosen_by:
            if places[name] == 1:
                continue
            name += f"[{places[name]}]"
        elif count[str(child.tag)] > 1:
            chosen = _condition(tree, child, children, ends)
            if chosen is None:
                continue
            name += chosen
        here = f"{path}{name}"
        if item := tree.items.get(child):
            _put_item(here, item, evidence)
            continue
        if 0 < len(text_of(child)) <= _LONGEST:
            evidence.put(here, text_of(child))
        for attribute, text in attributes(child).items():
            if f"{tree.at(attribute)}=" not in name:
                evidence.put(f"{here}/{tree.at(attribute)}", text)
        _below(tree, child, f"{here}/", skip, evidence, ends, _chosen_by(name))


def _put_item(path: str, item: Item, evidence: Evidence) -> set[str]:
    """Hand over the value of a key at a path; its key, if there is one."""
    key = value_key(path, item)
    if not 0 < len(item.text) <= _LONGEST:
        return set()
    evidence.put(key, item.text)
    return {key}


def _is_end(name: str, text: str, ends: Ends | None) -> bool:
    """Whether an attribute is an end, by the words of the export or of the trade, and no more."""
    words = [word for some in ENDS for word in some if len(word) > 1]
    words += ends or ()
    return phrases.whole(text, words) or phrases.whole(f"{name} {text}", words)


def _chooses(text: str) -> bool:
    """Whether a text can be what an element is chosen by: a word, and no figure or time."""
    return (
        CHOICE.fullmatch(text) is not None
        and not is_numeric(text)
        and not is_day(text)
        and any(map(str.isalpha, text))
    )


def _chosen_by(name: str) -> str:
    """The child of an element whose text stands in its path as what chose it, or ""."""
    condition = name.partition("[")[2].partition("=")[0]
    return "" if condition.startswith("@") else condition


def _chooses_parent(path: str) -> bool:
    """Whether a path leads to the child whose text chose the element around it."""
    *around, last = steps_of(path)
    return bool(around) and _chosen_by(around[-1]) == last


def _condition(
    tree: Tree, child: "_Element", children: "Sequence[_Element]", ends: Ends | None
) -> str | None:
    """What tells an element from others of its name: an attribute, or the text of a child."""
    if item := tree.items.get(child):
        return item.chosen
    same = [other for other in children if other.tag == child.tag]
    told = attributes(child)
    inner = [one for one in elements_in(child) if not len(one)]
    held = {one: [other.findtext(str(one.tag)) for other in same] for one in inner}
    roles = [one for one in inner if _is_end(local_name(one), text_of(one), ends)]
    for role in (one for one in roles if len(set(held[one])) == len(same)):
        return f"[{tree.name(role)}={text_of(role)}]"
    ends_first = sorted(told, key=lambda name: not _is_end(name, told[name], ends))
    wired = [name for name in told if _CONTACTS.issubset(other.get(name) for other in same)]
    for attribute in [*wired, *ends_first]:
        text, texts = told[attribute], [other.get(attribute) for other in same]
        if len(set(texts)) == len(texts) and CHOICE.fullmatch(text):
            return f"[{tree.at(attribute)}={text}]"
    of_wires = [one for one in inner if _CONTACTS.issubset(held[one])]
    for one in of_wires or [one for one in inner if _chooses(text_of(one))]:
        if len(set(held[one])) == len(same):
            return f"[{tree.name(one)}={text_of(one)}]"
    return None
