"""Elements that state how near a curve comes to its limit, in XML nobody has described yet."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from sweepbook.draft import phrases
from sweepbook.draft.document import Table, one_of
from sweepbook.draft.evidence import Evidence
from sweepbook.draft.fields import verdict_of
from sweepbook.draft.numbers import is_frequency, is_numeric, unit_named
from sweepbook.draft.parsed import Parsed, plausible, tells
from sweepbook.draft.phrases import PAIR_LIKE
from sweepbook.draft.reading import Understood
from sweepbook.draft.trade_words import LIMIT, MARGIN, NO_VERDICT, VERDICT_KEYS
from sweepbook_plugins.xml.draft.names import keep_templates
from sweepbook_plugins.xml.draft.shape import Curve
from sweepbook_plugins.xml.draft.tests import LONGEST_WORD
from sweepbook_plugins.xml.draft.tree import Tree, attributes, chain, text_of

if TYPE_CHECKING:
    from lxml.etree import _Element

_AT = ("at", "bei", "à", "en", "bij", "w", "při", "ved", "vid")
"""Names of the frequency of a margin beside it."""


@dataclass
class Stated:
    """What is stated of curves.

    Attributes:
        names: templates by path of a text, by path of the element.
        roles: path of each figure, by path of the element.
        taken: elements that state something, and what is in them.
    """

    names: dict[str, dict[str, list[str]]] = field(default_factory=dict)
    roles: dict[str, dict[str, str]] = field(default_factory=dict)
    taken: "set[_Element]" = field(default_factory=set)

    def tables(self) -> list[Table]:
        """A table `xml.figures` for each path."""
        made = []
        for path, roles in self.roles.items():
            table = Table("[[xml.figures]]")
            table.add("path", path)
            table.add("name", {slot: one_of(some) for slot, some in self.names[path].items()})
            for role, where in roles.items():
                table.add(role, where)
            made.append(table)
        return made

    def take(
        self, tree: Tree, test: "_Element", curves: Sequence[Curve], found: Understood,
        evidence: Evidence,
    ) -> None:  # fmt: skip
        """Keep the elements of a test in which a margin stands beside what names its curve.

        Args:
            tree: the file.
            test: the element of the test.
            curves: of the file; what stands at each of their points is no margin of a curve.
            found: what names are made of; takes their words.
            evidence: takes the texts of verdicts.
        """
        points = {
            (one.element, one.point[0].rpartition("/")[2])
            for one in curves
            if one.point is not None
        }
        for element in test.iter():
            if not isinstance(element.tag, str) or element is test:
                continue
            step = tree.spaces.name(str(element.tag))
            around = element.getparent()
            if around is not None and (around, step) not in points:
                self._element(tree, test, element, found, evidence)

    def _element(
        self, tree: Tree, test: "_Element", element: "_Element", found: Understood,
        evidence: Evidence,
    ) -> None:  # fmt: skip
        cells = _cells(element, tree)
        roles = _roles(cells)
        if "worst_margin.margin" not in roles.values():
            return
        around = element.getparent()
        slots = {
            path: text
            for path, text in cells.items()
            if path not in roles and (not is_numeric(text) or PAIR_LIKE.fullmatch(text))
        }
        if around is not None and around is not test:
            slots |= {
                f"../@{tree.spaces.name(name, attribute=True)}": text
                for name, text in attributes(around).items()
            }
        parsed = {slot: found.naming.parse_in(slot, text) for slot, text in slots.items()}
        told = {slot: part for slot, part in parsed.items() if tells(part)}
        name = found.naming.together(told.values())
        if name.parameter is None or not (plausible(name) or not name.pairs):
            return
        path = "/".join(tree.spaces.name(str(one.tag)) for one in chain(element, test))
        _keep_names(self.names.setdefault(path, {}), told, slots)
        self.roles.setdefault(path, {}).update({role: where for where, role in roles.items()})
        for part in told.values():
            found.naming.take(part, name)
        evidence.axis_names += _units_of_frequency(element, tree, roles)
        evidence.verdicts += [cells[where] for where, role in roles.items() if role == "verdict"]
        self.taken.update(one for one in element.iter() if isinstance(one.tag, str))


def _units_of_frequency(
    element: "_Element", tree: Tree, roles: Mapping[str, str]
) -> "Iterator[str]":
    """The units beside frequencies of margins."""
    for child in element:
        name = tree.spaces.name(str(child.tag)) if isinstance(child.tag, str) else ""
        if roles.get(name) == "worst_margin.frequency":
            yield from filter(unit_named, attributes(child).values())


def _cells(element: "_Element", tree: Tree) -> dict[str, str]:
    """Texts of an element's attributes and of its children without any, by their path."""
    found = {
        f"@{tree.spaces.name(name, attribute=True)}": text
        for name, text in attributes(element).items()
    }
    for child in element:
        if isinstance(child.tag, str) and not len(child):
            found[tree.spaces.name(str(child.tag))] = text_of(child)
    return {path: text for path, text in found.items() if 0 < len(text) <= LONGEST_WORD}


def _roles(cells: Mapping[str, str]) -> dict[str, str]:
    """What each figure is, by its path: each role once."""
    found: dict[str, str] = {}
    for path, text in cells.items():
        role = _role(path.rpartition(":")[2].strip("@"), text)
        if role and role not in found.values():
            found[path] = role
    return found


def _role(name: str, text: str) -> str | None:
    if is_numeric(text):
        if phrases.whole(name, MARGIN):
            return "worst_margin.margin"
        if phrases.whole(name, LIMIT):
            return "worst_margin.limit"
        if is_frequency(name) or phrases.whole(name, _AT):
            return "worst_margin.frequency"
        return None
    if phrases.whole(name, VERDICT_KEYS) and (verdict_of(text) or phrases.whole(text, NO_VERDICT)):
        return "verdict"
    return None


def _keep_names(
    names: dict[str, list[str]], told: Mapping[str, Parsed], slots: Mapping[str, str]
) -> None:
    """Keep the templates of the texts that name a curve; a word for both ends names none."""
    keep_templates(names, told)
    for slot, some in names.items():
        text = slots.get(slot, "")
        bare = text and slot not in told and all("{end}" in of or "{" not in of for of in some)
        if bare and any(map(str.isalpha, text)) and "{" not in text and text not in some:
            some.append(text)
