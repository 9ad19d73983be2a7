"""Keys with values of XML, by paths that say which of their two texts is the value.

What a value is called tells nothing of it: <fact name="Operator" data="Cara Nolan"/>. So it is
called a value while keys are looked at, and by its own name in the dialect.
"""

import re
from collections.abc import Iterable

from sweepbook.draft.document import Line, Note, Table
from sweepbook.draft.key_offers import chosen_by
from sweepbook_plugins.xml.draft.tree import Item, Tree, within

_VALUE = "value"


def value_key(path: str, item: Item) -> str:
    """The path of the value of an element at a path, for those who look at keys."""
    return within(path, _VALUE if _is_renamed(item) else item.value)


def own_paths(tables: list[Table], trees: Iterable[Tree]) -> list[Table]:
    """Tables with the names that values have in their files in their paths."""
    forms = {
        (tree.name(element), item.at, item.value)
        for tree in trees
        for element, item in tree.items.items()
        if _is_renamed(item)
    }
    for name, at, value in sorted(forms):
        chosen = rf"(?:^|(?<=/)){re.escape(name)}\[{re.escape(at)}=[^\[\]]*\]/"
        called = re.compile(rf"({chosen}){_VALUE}(?![^/])")
        for table in tables:
            table.lines = [_line(of, called, value) for of in table.lines]
            table.notes = [_note(of, called, value) for of in table.notes]
            table.left = [called.sub(rf"\1{value}", of) for of in table.left]
    return tables


def _is_renamed(item: Item) -> bool:
    """Whether a value has a name by which nobody knows that it is one."""
    return item.value != "." and not chosen_by(within(f"item{item.chosen}", item.value))


def _line(line: Line, called: re.Pattern[str], value: str) -> Line:
    notes = [_note(note, called, value) for note in line.notes]
    return line._replace(value=_said(line.value, called, value), notes=notes)


def _note(note: Note, called: re.Pattern[str], value: str) -> Note:
    samples = [called.sub(rf"\1{value}", of) for of in note.samples]
    return note._replace(text=_in_words(note.text, called, value), samples=samples)


def _said(of: object, called: re.Pattern[str], value: str) -> object:
    if isinstance(of, str):
        return called.sub(rf"\1{value}", of)
    return [_said(one, called, value) for one in of] if isinstance(of, list) else of


def _in_words(text: str, called: re.Pattern[str], value: str) -> str:
    """A sentence with paths in quotes."""
    return re.sub(r"(?<=')[^']*(?=')", lambda found: str(_said(found[0], called, value)), text)
