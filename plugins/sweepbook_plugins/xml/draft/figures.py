"""Single figures in XML nobody has described yet."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, NamedTuple

from sweepbook.dialect.parameters import quantity_of
from sweepbook.draft import phrases
from sweepbook.draft.absent_words import NO_VERDICT, NOT_MEASURED, says
from sweepbook.draft.document import Table, one_of
from sweepbook.draft.evidence import Evidence, keep_figure
from sweepbook.draft.parsed import UNIT_WORDS, Named, Parsed
from sweepbook.draft.reading import Understood
from sweepbook.draft.row_names import Subject
from sweepbook_plugins.xml.draft import judged
from sweepbook_plugins.xml.draft.around import Place, said_of
from sweepbook_plugins.xml.draft.figure_roles import (
    fits,
    frequency_at,
    may_lack,
    of_pairs_in,
    roles_of,
    texts_of,
)
from sweepbook_plugins.xml.draft.names import keep_templates
from sweepbook_plugins.xml.draft.steps import found_steps
from sweepbook_plugins.xml.draft.tree import Tree, all_in, chain, within

if TYPE_CHECKING:
    from lxml.etree import _Element


@dataclass
class Form:
    """One way that figures are written.

    Attributes:
        path: of the elements.
        roles: path of each figure from there.
        names: templates by path of a text.
        at: path of the frequency of a value, or "".
        subjects: the test and the parameter of each element.
    """

    path: str
    roles: dict[str, str] = field(default_factory=dict)
    names: dict[str, list[str]] = field(default_factory=dict)
    at: str = ""
    subjects: list[Subject] = field(default_factory=list)

    def takes(self, roles: Mapping[str, str]) -> bool:
        """Whether figures of an element stand where those of this form do."""
        apart = {where: role for role, where in self.roles.items()}
        return all(
            self.roles.get(role, where) == where and apart.get(where, role) == role
            for role, where in roles.items()
        )


class Lacking(NamedTuple):
    """A text where a figure may stand: path of the element, that from it, text and element."""

    path: str
    where: str
    text: str
    element: "_Element"


@dataclass
class Figures:
    """Elements with single figures.

    Attributes:
        forms: how they are written.
        taken: elements that are figures, and so no keys.
        lacking: texts that may stand for a missing figure.
        unjudged: texts that say that there is none, where a verdict may stand.
        numbers: places in tests where numbers stand.
    """

    forms: list[Form] = field(default_factory=list)
    taken: "set[_Element]" = field(default_factory=set)
    lacking: list["Lacking"] = field(default_factory=list)
    unjudged: list["Lacking"] = field(default_factory=list)
    numbers: set[Place] = field(default_factory=set)

    def forms_of(self, path: str, roles: Mapping[str, str]) -> list[Form]:
        """The forms for elements of a path with figures in these places.

        Values, and what is stated of a parameter as a whole, take one each: only the latter may
        lack the pairs.
        """
        values = {role: where for role, where in roles.items() if role == "value"}
        stated = {role: where for role, where in roles.items() if role != "value"}
        return [self._form(path, some) for some in (values, stated) if some]

    def _form(self, path: str, roles: Mapping[str, str]) -> Form:
        kind = "value" in roles
        fitting = (of for of in self.forms if of.path == path and of.takes(roles))
        form = next((of for of in fitting if ("value" in of.roles) == kind), None)
        if form is None:
            form = Form(path)
            self.forms.append(form)
        form.roles |= roles
        return form

    def values(self) -> set[tuple[str, str]]:
        """Path of the element, and path from it, of all places where values stand."""
        return {(of.path, of.roles["value"]) for of in self.forms if "value" in of.roles}

    def tables(self, stated: Collection[str] = ()) -> list[Table]:
        """A table `xml.figures` for each form; a text is a figure where others like it are.

        Args:
            stated: paths of verdicts that other tables have, so that these do not.
        """
        made, values = [], self.values()
        for form in self.forms:
            where = form.roles.get("verdict", "")
            if (form.path, where) in values or (where and within(form.path, where) in stated):
                del form.roles["verdict"]
            if form.roles:
                made += judged.apart(self._table(form), form.subjects)
        return made

    def _table(self, form: Form) -> Table:
        names: dict[str, list[str]] = {}
        for other in self.forms:
            if other.path == form.path:
                for slot, some in other.names.items():
                    known = names.setdefault(slot, [])
                    known += [of for of in some if of not in known]
        table = Table("[[xml.figures]]")
        table.add("path", form.path)
        unit = ["{unit}"] if "value" not in form.roles else None
        named = {slot: one_of(some) for slot, some in names.items() if some != unit}
        if named:
            table.add("name", named)
        for role, where in form.roles.items():
            table.add(role, where)
        kinds = {role.partition(".")[0] for role in form.roles} - {"verdict", "accuracy"}
        for kind in sorted(kinds) if form.at else ():
            table.add("frequency" if kind == "value" else f"{kind}.frequency", form.at)
        return table


def figures(
    tree: Tree, tests: "Sequence[_Element]", skip: "set[_Element]", found: Understood,
    evidence: Evidence, result: Figures, lists: "Mapping[_Element, Collection[str]]",
) -> None:  # fmt: skip
    """Find the elements with single figures in tests.

    Args:
        tree: the file.
        tests: the elements of tests.
        skip: elements that hold curves or axes.
        found: what names are made of; takes their words.
        evidence: takes their texts.
        result: takes what is found.
        lists: elements that hold lists of numbers of a curve, and the paths of these; what stands
            beside them may judge the curve.
    """
    for test in tests:
        for element in all_in(test):
            inside = element is test or any(one in skip for one in element.iterancestors())
            if inside or (element in skip and element not in lists):
                continue
            _figure(tree, test, element, found, evidence, result, lists.get(element, ()))


def _figure(
    tree: Tree, test: "_Element", element: "_Element", found: Understood, evidence: Evidence,
    result: Figures, lists: Collection[str],
) -> None:  # fmt: skip
    slots = said_of(tree, element, test, result.numbers)
    parsed = {slot: found.naming.parse_in(slot, text) for slot, text in slots.items()}
    told = {slot: part for slot, part in parsed.items() if found.tells(part)}
    steps, tagged = found_steps(tree, chain(element, test), found)
    told, name = _named(tagged, told, found)
    if name.parameter is None:
        return
    path, cells = (
        "/".join(steps),
        {k: v for k, v in texts_of(element, tree).items() if k not in told and k not in lists},
    )
    at = frequency_at(tree, element, test)
    swept = {one.name.parameter for one in found.curves}
    roles = {
        role: where
        for role, where in roles_of(steps, cells).items()
        if fits(name, role, measured_at=bool(at), swept=swept) and (role == "verdict" or not lists)
    }
    none = {
        where
        for role, where in roles.items()
        if role.startswith("worst_") and not says(cells[where])
    }
    found.numbers.lack(cells[where] for where in none)
    roles = {role: where for role, where in roles.items() if where not in none}
    of_pairs = of_pairs_in(cells, found.naming) if not name.pairs else set()
    roles = {role: where for role, where in roles.items() if where not in of_pairs}
    if "value" not in roles and not lists and (where := may_lack(name, cells, roles.values())):
        result.lacking.append(Lacking(path, where, cells[where], element))
    for where, text in cells.items():
        if where not in roles.values() and phrases.whole(text, (*NO_VERDICT, *NOT_MEASURED)):
            result.unjudged.append(Lacking(path, where, text, element))
    if not roles:
        return
    for form in result.forms_of(path, roles):
        form.at = form.at or at
        form.subjects.append((test, name.parameter))
        keep_templates(form.names, told)
        _unit(tree, slots, form.names, name.parameter, found)
    for part in (*tagged, *told.values()):
        found.naming.take(part, name)
    told_here = [*roles.values(), *filter(tree.names_unit, slots)]
    whole = name.parameter != "wire_map" and not of_pairs
    _take(tree, chain(element, test), whole, told_here, found, result)
    if "value" in roles:
        keep_figure(evidence, name.parameter, [cells[roles["value"]]])
        _unit_called(roles["value"], name.parameter, found)
    if "verdict" in roles:
        evidence.verdicts.append(cells[roles["verdict"]])
        evidence.taken.add(f"{path}/{roles['verdict']}")


def _named(
    tagged: Sequence[Parsed], told: dict[str, Parsed], found: Understood
) -> tuple[dict[str, Parsed], Named]:
    """The texts that name an element, and what they name.

    The contacts of a wire map, one after another, are no pairs of a name.
    """
    name = found.naming.together([*tagged, *told.values()])
    if name.parameter == "wire_map":
        told = {slot: part for slot, part in told.items() if part.clean or not part.pairs}
        name = found.naming.together([*tagged, *told.values()])
    return told, name


def _take(
    tree: Tree, steps: "Sequence[_Element]", whole: bool, told: Collection[str],
    found: Understood, result: Figures,
) -> None:  # fmt: skip
    """Take an element as a whole, or some of its texts alone.

    The wires beside the verdict of a wire map are no figure, and figures of a pair in an attribute
    each have a key each.
    """
    if whole:
        result.taken.add(steps[-1])
        return
    names = [tree.name(one) for one in steps]
    found.figure_keys.update("/".join([*names, where]).removesuffix("/.") for where in told)


def settle(found: Understood, evidence: Evidence, result: Figures) -> None:
    """Keep texts where figures stand, and no figures, as words for a missing one; so of verdicts.

    Args:
        found: takes words for a missing figure.
        evidence: takes words for no verdict.
        result: what was found in all tests.
    """
    verdicts = {(of.path, of.roles["verdict"]) for of in result.forms if "verdict" in of.roles}
    evidence.verdicts += [of.text for of in result.unjudged if (of.path, of.where) in verdicts]
    values = result.values()
    for one in result.lacking:
        if (one.path, one.where) in values:
            result.taken.add(one.element)
            found.numbers.lack([one.text])


def _unit_called(where: str, parameter: str, found: Understood) -> None:
    """Keep the unit that the attribute of a value is called as."""
    unit = where.removeprefix("@")
    if UNIT_WORDS.get(unit) == quantity_of(parameter):
        found.naming.take_unit(unit)


def _unit(
    tree: Tree, slots: dict[str, str], names: dict[str, list[str]], parameter: str,
    found: Understood,
) -> None:  # fmt: skip
    """An attribute that names the unit."""
    from sweepbook.dialect.units import UNITS

    quantity = quantity_of(parameter)
    spellings = [s for unit in UNITS.get(quantity, {}).values() for s in unit.spellings]
    for slot, text in slots.items():
        new = names.get(slot, ["{unit}"]) == ["{unit}"]
        if new and tree.names_unit(slot) and text in spellings:
            names[slot] = ["{unit}"]
            known = found.naming.units.setdefault(quantity, [])
            known += [] if text in known else [text]
