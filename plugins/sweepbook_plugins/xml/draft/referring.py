"""Elements that refer by an id to others which say what they are, in XML nobody has described."""

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, NamedTuple

from sweepbook.draft import phrases
from sweepbook.draft.numbers import is_numeric
from sweepbook_plugins.xml.draft.tabular import telling_texts, texts_of_columns
from sweepbook_plugins.xml.draft.tree import Meaning, Tree, all_in, attributes, chain, elements_in

if TYPE_CHECKING:
    from lxml.etree import _Element

_LEAST, _MOST = 3, 1_000
"""Elements side by side that say what ids mean."""
_LONGEST = 40
_NAMED = 0.5
"""So many of them at least name a parameter."""


class Reference(NamedTuple):
    """What an element says by referring to another.

    Attributes:
        slot: its attribute that has the id.
        said: texts by their path from the element, as names of a dialect have them.
    """

    slot: str
    said: Mapping[str, str]


def meanings_of(tree: Tree) -> dict[str, Meaning]:
    """What ids mean that stand once in a file; an id that has two meanings has none."""
    found: dict[str, Meaning | None] = {}
    for holder in all_in(tree.root):
        children = elements_in(holder)
        alike = _LEAST <= len(children) <= _MOST and len({of.tag for of in children}) == 1
        if not alike or any(len(inner) for of in children for inner in of):
            continue
        if not any(map(_is_id, attributes(children[0]).values())):
            continue
        told = texts_of_columns(children, tree)
        key = next((of for of, texts in told.items() if _are_ids(of, texts)), None)
        rest = {of: texts for of, texts in told.items() if of != key and not of.startswith("..")}
        if key is None or not any(map(_names_parameters, rest.values())):
            continue
        parts = telling_texts(rest)
        for at, element in enumerate(children):
            known = told[key][at] in found
            meant = Meaning(element, key, {of: rest[of][at] for of in parts})
            found[told[key][at]] = None if known else meant
    return {name: meant for name, meant in found.items() if meant is not None}


def told_by(tree: Tree, element: "_Element") -> list[str]:
    """The texts that an element says by referring to another, wherever that stands."""
    found = (tree.meant(element, text) for text in attributes(element).values())
    return [text for of in found if of is not None for text in of.said.values()]


def reference(tree: Tree, element: "_Element", test: "_Element") -> Reference | None:
    """What an element says by the first of its attributes that refers to another of its test."""
    for name, text in attributes(element).items() if tree.meanings else ():
        if (meant := tree.meant(element, text)) is None:
            continue
        path = _path(tree, element, meant.element, test)
        if path is not None:
            chosen = f"{path}[{meant.key}={tree.at(name)}]"
            said = {_at(chosen, of): text for of, text in meant.said.items() if text}
            return Reference(tree.at(name), said)
    return None


def _at(path: str, of: str) -> str:
    return path if of == "." else f"{path}/{of}"


def _path(tree: Tree, element: "_Element", other: "_Element", test: "_Element") -> str | None:
    """The path from an element to another in the same test; None where it is in none."""
    if test not in other.iterancestors():
        return None
    line, there = chain(element, test), chain(other, test)
    same = 0
    while line[same : same + 1] == there[same : same + 1] != []:
        same += 1
    return "/".join([*[".."] * (len(line) - same), *map(tree.name, there[same:])])


def _are_ids(path: str, texts: Sequence[str]) -> bool:
    """Whether texts at a path tell elements apart by name: no numbers, no remarks."""
    return path.startswith("@") and len(set(texts)) == len(texts) and all(map(_is_id, texts))


def _is_id(text: str) -> bool:
    return 0 < len(text) <= _LONGEST and " " not in text and not is_numeric(text)


def _names_parameters(texts: Sequence[str]) -> bool:
    named = sum(phrases.parameter_in(text) is not None for text in texts)
    return named >= _NAMED * len(texts)
