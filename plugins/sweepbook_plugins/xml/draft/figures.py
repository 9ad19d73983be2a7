"""Single figures in XML nobody has described yet."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, NamedTuple

from sweepbook.dialect.parameters import quantity_of
from sweepbook.draft import phrases
from sweepbook.draft.absent_words import NOT_MEASURED
from sweepbook.draft.document import Table, one_of
from sweepbook.draft.evidence import Evidence, keep_figure
from sweepbook.draft.fields import verdict_of
from sweepbook.draft.numbers import is_frequency, is_numeric
from sweepbook.draft.parsed import Named, Parsed, plausible, tells
from sweepbook.draft.reading import Understood, role_of, take_figure
from sweepbook.draft.trade_words import UNIT, VALUES
from sweepbook_plugins.xml.draft.around import Place, said_of
from sweepbook_plugins.xml.draft.names import keep_templates
from sweepbook_plugins.xml.draft.steps import found_steps
from sweepbook_plugins.xml.draft.tree import Tree, attributes, chain, text_of

if TYPE_CHECKING:
    from lxml.etree import _Element

_WORDS_OF_A_FIGURE = 3
"""No more: a number and a unit, or a verdict; others are lists."""

Form = tuple[str, str, str]
"""Path of the element, role, path of the figure from it."""


class Lacking(NamedTuple):
    """A text where a figure may stand: the form that it would be of, the text, its element."""

    form: Form
    text: str
    element: "_Element"


@dataclass
class Figures:
    """Elements with single figures.

    Attributes:
        names: templates by path of a text, by form.
        frequency: path of the frequency, by form.
        taken: elements that are figures, and so no keys.
        lacking: texts that may stand for a missing figure.
        numbers: places in tests where numbers stand.
    """

    names: dict[Form, dict[str, list[str]]] = field(default_factory=dict)
    frequency: dict[Form, str] = field(default_factory=dict)
    taken: "set[_Element]" = field(default_factory=set)
    lacking: list["Lacking"] = field(default_factory=list)
    numbers: set[Place] = field(default_factory=set)

    def tables(self) -> list[Table]:
        """A table `xml.figures` for each form; a text is a figure where others like it are."""
        made = []
        for (path, role, where), names in self.names.items():
            if role == "verdict" and (path, "value", where) in self.names:
                continue
            table = Table("[[xml.figures]]")
            table.add("path", path)
            named = {of: one_of(templates) for of, templates in names.items()}
            if named:
                table.add("name", named)
            table.add(role, where)
            if (path, role, where) in self.frequency:
                key = "frequency" if role == "value" else f"{role.partition('.')[0]}.frequency"
                table.add(key, self.frequency[path, role, where])
            made.append(table)
        return made


def figures(
    tree: Tree, tests: "Sequence[_Element]", skip: "set[_Element]", found: Understood,
    evidence: Evidence, result: Figures,
) -> None:  # fmt: skip
    """Find the elements with single figures in tests.

    Args:
        tree: the file.
        tests: the elements of tests.
        skip: elements that hold curves or axes.
        found: what names are made of; takes their words.
        evidence: takes their texts.
        result: takes what is found.
    """
    for test in tests:
        for element in test.iter():
            if not isinstance(element.tag, str) or element is test or element in skip:
                continue
            if any(one in skip for one in element.iterancestors()):
                continue
            _figure(tree, test, element, found, evidence, result)


def from_keys(evidence: Evidence, found: Understood) -> None:
    """Keep attributes and elements that are called by a parameter which has no sweep.

    Args:
        evidence: its keys that are paths from a test; takes the texts.
        found: takes the keys.
    """
    for key, texts in evidence.properties.items():
        part = found.naming.parse(key)
        last = key.rpartition("/")[2].partition("[")[0].strip("@")
        if key.startswith("/") or not part.parameter or quantity_of(part.parameter[1]) == "loss":
            continue
        named = found.naming.parse(last)
        if not named.parameter and not phrases.whole(last, VALUES):
            continue
        if phrases.find(last, {"": UNIT}):
            found.naming.take_unit(texts[0] if texts else "")
            continue
        lacking = [text for text in texts if phrases.whole(text, NOT_MEASURED)]
        numbers = [text for text in texts if text not in lacking]
        if numbers and all(map(is_numeric, numbers)) and take_figure(key, numbers, found):
            keep_figure(evidence, part.parameter[1], numbers)
            missing = found.numbers.missing
            missing += [text for text in lacking if text not in missing]


def _figure(
    tree: Tree, test: "_Element", element: "_Element", found: Understood, evidence: Evidence,
    result: Figures,
) -> None:  # fmt: skip
    slots = said_of(tree, element, test, result.numbers)
    parsed = {slot: found.naming.parse_in(slot, text) for slot, text in slots.items()}
    told = {slot: part for slot, part in parsed.items() if tells(part)}
    steps, tagged = found_steps(tree, chain(element, test), found)
    name = found.naming.together([*tagged, *told.values()])
    where = _value(element, told, tree)
    if name.parameter is None or where is None:
        return
    path, text = where
    if len(text.split()) > _WORDS_OF_A_FIGURE:
        return
    role = role_of(" ".join([*steps, path]), [text])
    if role is None and _is_lacking(name, text):
        result.lacking.append(Lacking(("/".join(steps), "value", path), text, element))
    at = next((of for of, some in slots.items() if _is_at(of, some)), None)
    if role is None or not _fits(name, role, at):
        return
    form = ("/".join(steps), role, path)
    keep_templates(result.names.setdefault(form, {}), told)
    for part in (*tagged, *told.values()):
        found.naming.take(part, name)
    _unit(slots, result.names[form], name.parameter, found)
    if at is not None and role != "verdict":
        result.frequency[form] = at
    result.taken.add(element)
    if role == "value":
        keep_figure(evidence, name.parameter, [text])
    if role == "verdict":
        evidence.verdicts.append(text)


def _is_lacking(name: Named, text: str) -> bool:
    """Whether a text may say that there is no figure, where others of its form are numbers."""
    figure = name.parameter is not None and quantity_of(name.parameter) not in ("", "loss")
    return figure and not any(map(str.isdigit, text)) and verdict_of(text) is None


def settle(found: Understood, result: Figures) -> None:
    """Keep texts where figures stand, and no figures, as words for a missing one."""
    for one in result.lacking:
        if one.form in result.names:
            result.taken.add(one.element)
            known = found.numbers.missing
            known += [] if one.text in known else [one.text]


def _is_at(slot: str, text: str) -> bool:
    """Whether a text is a frequency."""
    return is_frequency(slot.rpartition("@")[2]) and is_numeric(text)


def _fits(name: Named, role: str, at: str | None) -> bool:
    """Whether a figure of this role, perhaps at a frequency, can have the name."""
    if name.parameter == "wire_map" and role != "verdict":
        return False
    if role == "value" and at is None and quantity_of(name.parameter or "") == "loss":
        return False
    bare = role in ("verdict", "accuracy") or role.startswith("worst")
    return plausible(name) or (bare and not name.pairs)


def _value(element: "_Element", told: dict[str, Parsed], tree: Tree) -> tuple[str, str] | None:
    """Path and text of what an element with a name says: its text, or an attribute."""
    if text_of(element):
        return ".", text_of(element)
    for name, text in attributes(element).items():
        path = f"@{tree.spaces.name(name, attribute=True)}"
        if path in told or not text or is_frequency(path[1:]) or phrases.whole(name, UNIT):
            continue
        return path, text
    return None


def _unit(
    slots: dict[str, str], names: dict[str, list[str]], parameter: str, found: Understood
) -> None:
    """An attribute that names the unit."""
    from sweepbook.dialect.units import UNITS

    quantity = quantity_of(parameter)
    spellings = [s for unit in UNITS.get(quantity, {}).values() for s in unit.spellings]
    for slot, text in slots.items():
        new = names.get(slot, ["{unit}"]) == ["{unit}"]
        if new and phrases.whole(slot, UNIT) and text in spellings:
            names[slot] = ["{unit}"]
            known = found.naming.units.setdefault(quantity, [])
            known += [] if text in known else [text]
