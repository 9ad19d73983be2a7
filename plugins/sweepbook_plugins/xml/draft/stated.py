"""Elements that state how near a curve comes to its limit, in XML nobody has described yet."""

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from sweepbook.draft.document import FOUND, Note, Table, one_of
from sweepbook.draft.evidence import Evidence
from sweepbook.draft.figure_words import MARGIN_ROLE, VALUE_ROLE
from sweepbook.draft.numbers import unit_named
from sweepbook.draft.parsed import PLACEHOLDER, Parsed, plausible
from sweepbook.draft.reading import Understood
from sweepbook.draft.row_names import Subject
from sweepbook.draft.verdicts import verdict_of
from sweepbook_plugins.xml.draft import judged
from sweepbook_plugins.xml.draft.around import Place, place_of, said_of
from sweepbook_plugins.xml.draft.cells import Cell, cells_of, roles_of
from sweepbook_plugins.xml.draft.names import keep_templates
from sweepbook_plugins.xml.draft.shape import Curve
from sweepbook_plugins.xml.draft.signed import Margins
from sweepbook_plugins.xml.draft.steps import found_steps
from sweepbook_plugins.xml.draft.tree import (
    Tree,
    all_in,
    chain,
    local_name,
    within,
)

if TYPE_CHECKING:
    from lxml.etree import _Element

_BY_SIGN = Note(
    FOUND, "in dB, and below zero where the verdict beside it is a fail, and nowhere else"
)


@dataclass
class Stated:
    """What is stated of curves.

    Attributes:
        names: templates by path of a text, by path of the element.
        roles: path of each figure, by path of the element.
        taken: elements that state something, and what is in them.
        numbers: places in tests where numbers stand.
        margins: where margins stand that only their sign tells.
        signed: path of the element, and of such a margin from there.
        marks: path of the element and of a text with neither letter nor digit, and that text.
        subjects: the test and the parameter of each element, by its path.
        held: how many elements hold a text, by path of the element and of the text.
        words: texts without a digit that are none of the figures, by their place.
        places: of the figures.
    """

    names: dict[str, dict[str, list[str]]] = field(default_factory=dict)
    roles: dict[str, dict[str, str]] = field(default_factory=dict)
    taken: "set[_Element]" = field(default_factory=set)
    numbers: set[Place] = field(default_factory=set)
    margins: Margins = field(default_factory=dict)
    signed: set[tuple[str, str]] = field(default_factory=set)
    marks: dict[tuple[str, str, str], None] = field(default_factory=dict)
    subjects: dict[str, list[Subject]] = field(default_factory=dict)
    held: Counter[tuple[str, str]] = field(default_factory=Counter)
    words: dict[Place, dict[str, None]] = field(default_factory=dict)
    places: set[Place] = field(default_factory=set)

    def missing(self) -> list[str]:
        """The marks that stand for no end or no pair, where other texts name one.

        Also the words that stand where other elements of one name have figures.
        """
        told = [text for path, slot, text in self.marks if slot in self.names.get(path, ())]
        told += [text for place in self.places for text in self.words.get(place, ())]
        return list(dict.fromkeys(told))

    @property
    def verdicts(self) -> set[str]:
        """Paths of the verdicts beside margins, from the test."""
        return {
            within(path, roles["verdict"])
            for path, roles in self.roles.items()
            if "verdict" in roles
        }

    def tables(self) -> list[Table]:
        """A table `xml.figures` for each path."""
        made = []
        for path, roles in self.roles.items():
            table = Table("[[xml.figures]]")
            table.add("path", path)
            names = {slot: one_of(self._with_none(path, slot)) for slot in self.names[path]}
            if names:
                table.add("name", names)
            for role, where in roles.items():
                signed = role == MARGIN_ROLE and (path, where) in self.signed
                table.add(role, where, *([_BY_SIGN] if signed else []))
            made += judged.apart(table, self.subjects[path])
        return made

    def _with_none(self, path: str, slot: str) -> list[str]:
        """The templates of a text, and "" where some elements lack it and none of them takes that.

        A placeholder alone does.
        """
        some = self.names[path][slot]
        lacking = self.held[path, slot] < len(self.subjects[path])
        alone = any(PLACEHOLDER.fullmatch(template) for template in some)
        return [*some, ""] if lacking and not alone and "" not in some else some

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
        for element in all_in(test):
            if element is test or element in self.taken or element in tree.items:
                continue
            line = chain(element, test)
            steps = ((one.getparent(), tree.name(one)) for one in line)
            if points.isdisjoint(steps):
                self._element(tree, test, element, found, evidence)

    def _element(
        self, tree: Tree, test: "_Element", element: "_Element", found: Understood,
        evidence: Evidence,
    ) -> None:  # fmt: skip
        cells = cells_of(element, tree)
        here = place_of(element, test)
        roles = roles_of(cells, local_name(element), self.margins.get(here, ""))
        for path, cell in cells.items():
            if path not in roles and _is_a_word(cell.text):
                self.words.setdefault((*here, *cell.place), {})[cell.text] = None
        if not {MARGIN_ROLE, VALUE_ROLE} & set(roles.values()):
            return
        slots = {
            path: cell.text
            for path, cell in cells.items()
            if path not in roles and (*here, *cell.place) not in self.numbers
        }
        around = said_of(tree, element, test, self.numbers).items()
        slots |= {path: text for path, text in around if path.startswith("../")}
        parsed = {slot: found.naming.parse_in(slot, text) for slot, text in slots.items()}
        told = {slot: part for slot, part in parsed.items() if found.tells(part)}
        steps, tagged = found_steps(tree, chain(element, test), found)
        name = found.naming.together([*tagged, *told.values()])
        if name.parameter is None or not (plausible(name) or not name.pairs):
            return
        path = "/".join(steps)
        self.signed |= {(path, self.margins[here])} if here in self.margins else set()
        _keep_names(self.names.setdefault(path, {}), told, slots)
        self.held.update((path, slot) for slot in slots)
        self.subjects.setdefault(path, []).append((test, name.parameter))
        self.roles.setdefault(path, {}).update({role: where for where, role in roles.items()})
        bare = {of: text for of, text in slots.items() if not any(map(str.isalnum, text))}
        self.marks |= dict.fromkeys((path, of, text) for of, text in bare.items() if text)
        for part in (*tagged, *told.values()):
            found.naming.take(part, name)
        units = [cells[of].unit for of, role in roles.items() if _is_at(role)]
        units = [unit for unit in units if unit_named(unit)]
        evidence.figure_axes += units or [of for of, role in roles.items() if _is_at(role)]
        evidence.judged += _judged(cells, roles)
        evidence.verdicts += [
            cells[where].text for where, role in roles.items() if role == "verdict"
        ]
        numbers = (cells[where].place for where, role in roles.items() if role != "verdict")
        self.places.update((*here, *place) for place in numbers)
        self.taken.update(all_in(element))


def _is_a_word(text: str) -> bool:
    """Whether a text may stand for no figure: no digit, and no verdict."""
    return not any(map(str.isdigit, text)) and verdict_of(text) is None


def _is_at(role: str) -> bool:
    return role.endswith(".frequency")


def _judged(cells: Mapping[str, Cell], roles: Mapping[str, str]) -> list[tuple[str, str]]:
    """The word for a verdict, and the margin beside it."""
    at = {role: where for where, role in roles.items()}
    if not {"verdict", MARGIN_ROLE} <= at.keys():
        return []
    return [(cells[at["verdict"]].text, cells[at[MARGIN_ROLE]].text)]


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
