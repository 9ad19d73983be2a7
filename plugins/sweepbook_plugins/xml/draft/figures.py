"""Single figures in XML nobody has described yet."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from sweepbook.dialect.parameters import quantity_of
from sweepbook.draft import phrases
from sweepbook.draft.document import Table, one_of
from sweepbook.draft.evidence import Evidence, keep_figure
from sweepbook.draft.fields import verdict_of
from sweepbook.draft.numbers import is_frequency, is_numeric
from sweepbook.draft.parsed import Named, Parsed, plausible, tells
from sweepbook.draft.reading import Understood, role_of, take_figure
from sweepbook.draft.trade_words import NOT_MEASURED, UNIT, VALUES
from sweepbook_plugins.xml.draft.names import keep_templates
from sweepbook_plugins.xml.draft.tree import Tree, attributes, chain, text_of

if TYPE_CHECKING:
    from lxml.etree import _Element

_WORDS_OF_A_FIGURE = 3
"""No more: a number and a unit, or a verdict; others are lists."""

Form = tuple[str, str, str]
"""Path of the element, role, path of the figure from it."""


@dataclass
class Figures:
    """Elements with single figures.

    Attributes:
        names: templates by path of a text, by form.
        frequency: path of the frequency, by form.
        taken: elements that are figures, and so no keys.
    """

    names: dict[Form, dict[str, list[str]]] = field(default_factory=dict)
    frequency: dict[Form, str] = field(default_factory=dict)
    taken: "set[_Element]" = field(default_factory=set)

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
    slots = {
        f"@{tree.spaces.name(name, attribute=True)}": text
        for name, text in attributes(element).items()
    }
    around = element.getparent()
    if around is not None and around is not test:
        slots |= {
            f"../@{tree.spaces.name(name, attribute=True)}": text
            for name, text in attributes(around).items()
        }
    parsed = {slot: found.naming.parse_in(slot, text) for slot, text in slots.items()}
    told = {slot: part for slot, part in parsed.items() if tells(part)}
    steps, tagged = _steps(tree, chain(element, test), found)
    name = found.naming.together([*tagged, *told.values()])
    where = _value(element, told, tree)
    if name.parameter is None or where is None:
        return
    path, text = where
    if len(text.split()) > _WORDS_OF_A_FIGURE or _is_lacking(text, found):
        return
    role = role_of(" ".join([*steps, path]), [text])
    if role is None or not _fits(name, role):
        return
    form = ("/".join(steps), role, path)
    keep_templates(result.names.setdefault(form, {}), told)
    for part in (*tagged, *told.values()):
        found.naming.take(part, name)
    _unit(slots, result.names[form], name.parameter, found)
    for slot, text in slots.items():
        if is_frequency(slot.rpartition("@")[2]) and is_numeric(text) and role != "verdict":
            result.frequency[form] = slot
    result.taken.add(element)
    if role == "value":
        keep_figure(evidence, name.parameter, [text])
    if role == "verdict":
        evidence.verdicts.append(text)


def _is_lacking(text: str, found: Understood) -> bool:
    """Whether a text says that there is no figure; such a one is kept."""
    if not phrases.whole(text, NOT_MEASURED) or verdict_of(text):
        return False
    found.numbers.missing += [] if text in found.numbers.missing else [text]
    return True


def _steps(
    tree: Tree, line: "Sequence[_Element]", found: Understood
) -> tuple[list[str], list[Parsed]]:
    """The path of an element, names that are a parameter as templates; and what these say."""
    steps, tagged = [], []
    for one in line:
        name, local = tree.spaces.name(str(one.tag)), str(one.tag).rpartition("}")[2]
        part = found.naming.parse(local)
        if part.parameter is not None and part.template == "{parameter}":
            steps.append(f"{name.removesuffix(local)}{{parameter}}")
            tagged.append(part)
        else:
            steps.append(name)
    return steps, tagged


def _fits(name: Named, role: str) -> bool:
    """Whether a figure of this role can have the name."""
    if name.parameter == "wire_map" and role != "verdict":
        return False
    bare = role in ("verdict", "accuracy") or role.startswith("worst")
    return plausible(name) or (bare and not name.pairs)


def _value(element: "_Element", told: dict[str, Parsed], tree: Tree) -> tuple[str, str] | None:
    """Path and text of what an element with a name says: its text, or an attribute."""
    if text_of(element):
        return ".", text_of(element)
    for name, text in attributes(element).items():
        path = f"@{tree.spaces.name(name, attribute=True)}"
        if path in told or not text or is_frequency(path[1:]) or path == "@unit":
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
