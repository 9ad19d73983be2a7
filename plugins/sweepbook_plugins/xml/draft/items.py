"""Facts of XML nobody has described yet that are an element each, with a key in it and a value.

Of a curve it is the value that is long; the key names it as it names any other fact.
"""

from collections import Counter, defaultdict
from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

from sweepbook.draft import phrases
from sweepbook.draft.verdicts import verdict_of
from sweepbook_plugins.xml.draft.tree import CHOICE, Item, Tree, attributes, elements_in, text_of

if TYPE_CHECKING:
    from lxml.etree import _Element

_LEAST = 8
"""So many elements of a name side by side may be facts of a test."""
_LEAST_WORDS = 3
"""So many of them say something else than a figure of a parameter."""
_BOTH = 2


def items_in(tree: Tree) -> "dict[_Element, Item]":
    """The elements of a file that are a key with its value each."""
    groups: dict[tuple[_Element, str], list[_Element]] = defaultdict(list)
    for element in tree.elements():
        parent = element.getparent()
        if parent is not None:
            groups[parent, str(element.tag)].append(element)
    by_tag: dict[str, list[list[_Element]]] = defaultdict(list)
    for (_, tag), group in groups.items():
        by_tag[tag].append(group)
    found: dict[_Element, Item] = {}
    for tagged in by_tag.values():
        if max(map(len, tagged)) >= _LEAST:
            found |= _of_one_name(tree, tagged)
    return found


def _of_one_name(tree: Tree, groups: "Sequence[Sequence[_Element]]") -> "dict[_Element, Item]":
    """The elements of one name, by those side by side, where all of them are key and value."""
    if not _may_be_keys(tree, max(groups, key=len)[:_LEAST]):
        return {}
    told = {of: _texts(tree, of) for group in groups for of in group}
    places = dict.fromkeys(place for texts in told.values() for place in texts)
    if len(places) != _BOTH:
        return {}
    keys = [at for at in places if _are_keys([[told[of].get(at, "") for of in g] for g in groups])]
    if not keys:
        return {}
    at = max(keys, key=lambda place: _again([told[of][place] for of in told]))
    value = next(place for place in places if place != at)
    made = {of: Item(texts[at], at, texts.get(value, ""), value) for of, texts in told.items()}
    return made if _hold_words(made.values()) else {}


def _may_be_keys(tree: Tree, some: "Sequence[_Element]") -> bool:
    """Whether one of two texts of a few elements may be a key: points of curves hold none."""
    told = [_texts(tree, of) for of in some]
    places = {place for texts in told for place in texts}
    return len(places) <= _BOTH and any(
        all(_is_key(texts.get(at, "")) for texts in told) for at in places
    )


def _texts(tree: Tree, element: "_Element") -> dict[str, str]:
    """The texts of an element and of its plain children, by their paths; all of it, or none."""
    found = {tree.at(name): text.strip() for name, text in attributes(element).items()}
    count: Counter[str] = Counter()
    for child in elements_in(element):
        name = tree.name(child)
        count[name] += 1
        if len(child) or attributes(child):
            return {}
        found[name if count[name] == 1 else f"{name}[{count[name]}]"] = text_of(child)
    if not len(element):
        found["."] = text_of(element)
    return {at: text for at, text in found.items() if text}


def _are_keys(groups: Sequence[Sequence[str]]) -> bool:
    """Whether texts name elements: each side by side with others has a word of its own."""
    return all(len({*group}) == len(group) and all(map(_is_key, group)) for group in groups)


def _is_key(text: str) -> bool:
    return any(map(str.isalpha, text)) and CHOICE.fullmatch(text) is not None


def _again(texts: Sequence[str]) -> int:
    """How often a text comes that stood before."""
    return len(texts) - len({*texts})


def _hold_words(items: Iterable[Item]) -> bool:
    """Whether some keys name no parameter and hold words, as those of figures and curves do not."""
    told = {
        item.key
        for item in items
        if any(map(str.isalpha, item.text))
        and not phrases.parameter_in(item.key)
        and not verdict_of(item.text)
    }
    return len(told) >= _LEAST_WORDS
