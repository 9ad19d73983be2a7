"""What names a curve in XML nobody has described yet: attributes, texts, names of elements."""

from collections.abc import Collection, Mapping, Sequence
from typing import TYPE_CHECKING

from sweepbook.draft.absent_words import says
from sweepbook.draft.naming import Naming
from sweepbook.draft.numbers import is_figure, is_frequency
from sweepbook.draft.parsed import PLACEHOLDER, Parsed, tells
from sweepbook.draft.reading import Understood
from sweepbook.draft.verdicts import are_verdicts, verdict_of
from sweepbook_plugins.xml.draft.referring import reference
from sweepbook_plugins.xml.draft.shape import Curve
from sweepbook_plugins.xml.draft.tests import LONGEST_WORD, lineage, named_by
from sweepbook_plugins.xml.draft.tree import Tree, attributes, chain, local_name, text_of
from sweepbook_plugins.xml.draft.varying import MOST_TESTS, is_stated, loose

if TYPE_CHECKING:
    from lxml.etree import _Element


Drawn = tuple[Tree, "Sequence[_Element]", Sequence[Curve]]
"""A file, the elements of its tests, and its curves."""
STEP = "step "
COLUMN = "column "


def column_slot(curve: Curve) -> str:
    """What the name of a column is called among all that name a curve."""
    before, _, behind = curve.column or ("", "", "")
    return f"{COLUMN}{before}{{}}{behind}"


def keep_templates(names: dict[str, list[str]], told: Mapping[str, Parsed]) -> None:
    """Keep the templates of the texts that name a figure; of two pairs in two texts, which one.

    Args:
        names: templates by path of a text; takes those that it lacks.
        told: what the texts say, by path.
    """
    paired = [slot for slot, part in told.items() if part.pairs]
    for slot, part in told.items():
        template = part.template
        if len(paired) > 1 and len(part.pairs) == 1:
            word = "{first_pair}" if slot == paired[0] else "{second_pair}"
            template = template.replace("{pairs}", word)
        known = names.setdefault(slot, [])
        known += [] if template in known else [template]


def texts_of(tree: Tree, curve: Curve, test: "_Element") -> dict[str, str]:
    """All that may name a curve, by the path from its element; names of elements by their step."""
    line = chain(curve.element, test)
    found: dict[str, str] = {}
    for at, one in enumerate(line):
        found[f"{STEP}{at}"] = local_name(one)
        prefix = "../" * (len(line) - 1 - at)
        for name, text in attributes(one).items():
            if len(text) <= LONGEST_WORD:
                found[f"{prefix}{tree.at(name)}"] = text
    if curve.column is not None:
        found[column_slot(curve)] = curve.column[1]
    if told := reference(tree, curve.element, test):
        found.pop(told.slot, None)
        found |= told.said
    return found | _in_children(tree, curve, line)


def _in_children(tree: Tree, curve: Curve, line: "Sequence[_Element]") -> dict[str, str]:
    """Texts of plain children, of an element of a curve and of those around it, by path."""
    found: dict[str, str] = {}
    for up, one in enumerate(reversed(line)):
        for child, which in named_by(one):
            name = f"{tree.name(child)}{which}"
            if is_figure(text_of(child)):
                continue
            if curve.titled and child is curve.titled.element:
                continue
            if child not in line and (up or name not in (curve.values, curve.frequency)):
                found[f"{'../' * up}{name}"] = text_of(child)
    return found


def apart(texts: Sequence[Mapping[str, str]], found: Understood, slots: Sequence[str]) -> list[str]:
    """The texts with pairs by which curves are written in several ways, each with its own form.

    That is where no curve has two of them together, and where some lack one whose template takes
    no blank: a placeholder alone does.

    Args:
        texts: all that may name each curve, by path.
        found: templates by path.
        slots: the paths that name curves.
    """
    paired = [slot for slot in slots if any("pair" in of for of in found.templates.get(slot, ()))]
    held = [{slot for slot in paired if slot in of} for of in texts]
    beside = {slot: set[str]().union(*(of for of in held if slot in of)) for slot in paired}
    seen = set[str]().union(*held)
    return [
        slot
        for slot in paired
        if slot in seen and (seen - beside[slot] or _lacks(slot, held, found.templates[slot]))
    ]


def _lacks(slot: str, held: Sequence[Collection[str]], templates: Collection[str]) -> bool:
    """Whether a curve lacks a text, and no template of it takes that."""
    alone = any(PLACEHOLDER.fullmatch(template) for template in templates)
    return not alone and any(slot not in of for of in held)


def blank_too(
    templates: Mapping[str, Sequence[str]], texts: Sequence[Mapping[str, str]]
) -> dict[str, list[str]]:
    """Templates by path, with that of a blank where some curves do without a text for their end.

    Args:
        templates: of curves that are written alike.
        texts: all that may name each of them, by path.
    """
    found = {slot: list(some) for slot, some in templates.items()}
    for slot, some in found.items():
        ends = all(PLACEHOLDER.findall(template) == ["{end}"] for template in some)
        if ends and _lacks(slot, texts, some):
            some.append("")
    return found


def naming_attributes(
    tree: Tree, curves: Sequence[Curve], tests: "Sequence[_Element]", slots: Sequence[str]
) -> set[tuple[str, str]]:
    """Path from the test, and attribute, of elements around curves that name these."""
    found: set[tuple[str, str]] = set()
    for curve in curves:
        if tests[0] not in lineage(curve.element):
            continue
        line = [tree.name(one) for one in chain(curve.element, tests[0])]
        for slot in slots:
            ups, _, attribute = slot.rpartition("@")
            if attribute and ups.count("../") in range(1, len(line)):
                found.add(("/".join(line[: -ups.count("../")]), attribute))
    return found


def slots_of(files: Sequence[Drawn], naming: Naming, ids: Collection[str]) -> list[str]:
    """The paths whose texts name curves.

    Args:
        files: those of the first test are looked at, and the others for what comes again in them.
        naming: what names are made of.
        ids: of axes. What refers to one of them says nothing else that is said elsewhere too.
    """
    texts: dict[str, list[str]] = {}
    tests = [test for file in files for test in _told_in(*file)]
    told_of = tests[0]
    spare = {slot for slot in loose(tests, ids=ids) if is_text(slot)}
    for held in told_of:
        for slot, text in held.items():
            if _is_around(slot, held, naming):
                continue
            known = texts.setdefault(slot, [])
            known += [] if text in known or not says(text) else [text]
    kept = []
    for slot, words in texts.items():
        name = slot.rpartition("/")[2].strip("@")
        if is_frequency(name) or (is_stated(name) and is_text(slot)):
            continue  # it names an axis, or what is stated of the curve
        parsed = [naming.parse(word) for word in words]
        told = sum(bool(part.parameter or part.pairs or part.end) for part in parsed)
        column = slot.startswith(COLUMN)
        clean = sum(bool(part.pairs and part.clean) if column else tells(part) for part in parsed)
        lettered = all(any(map(str.isalpha, word)) for word in words)
        digits = any(any(map(str.isdigit, word)) for word in words)
        judged = are_verdicts(words)
        wordy = lettered and not digits and len(words) > 1 and not judged
        named = told * 2 > len(words) and clean * 2 > len(words)
        ends = (
            len(words) == 2
            and not any(map(verdict_of, words))
            and not all(says(held.get(slot, "")) for held in told_of)
        )
        if named or ((wordy or ends) and not slot.startswith(STEP)):
            kept.append(slot)
    ended = {slot: _only_ends(texts[slot], naming) for slot in kept}
    if any(len(ends) > 1 for ends in ended.values()):  # then one end for all is a name by chance
        kept = [slot for slot in kept if len(ended[slot]) != 1 or len(texts[slot]) > 1]
    kept = _without_repeats(kept, spare, texts, naming)
    said = {slot: _parameters(texts[slot], naming) for slot in kept}
    several = any(len(parameters) > 1 for parameters in said.values())
    return [
        slot
        for slot in kept
        if not (several and _is_of_values(slot, said[slot]))
        or _stands_alone(slot, told_of, kept, naming)
    ]


def _is_around(slot: str, held: Mapping[str, str], naming: Naming) -> bool:
    """Whether an element is called by what says nothing, and one inside it by the parameter.

    Other curves may stand in its place, with no element around them.
    """
    if not slot.startswith(STEP):
        return False
    at, part = _step(slot), naming.parse(held[slot])
    if part.parameter or part.pairs or part.end:
        return False
    inner = (text for of, text in held.items() if of.startswith(STEP) and _step(of) > at)
    return any(naming.parse(text).parameter for text in inner)


def _step(slot: str) -> int:
    return int(slot.removeprefix(STEP))


def _stands_alone(
    slot: str, told_of: Sequence[Mapping[str, str]], kept: Sequence[str], naming: Naming
) -> bool:
    """Whether no other text names the parameter of a curve that an element of this name holds."""
    return any(
        naming.parse(held[slot]).parameter
        and not any(naming.parse(held.get(of, "")).parameter for of in kept if of != slot)
        for held in told_of
        if slot in held
    )


def _told_in(
    tree: Tree, tests: "Sequence[_Element]", curves: Sequence[Curve]
) -> list[list[dict[str, str]]]:
    """All that may name the curves of each test."""
    told: dict[_Element, list[dict[str, str]]] = {test: [] for test in tests[:MOST_TESTS]}
    for curve in curves:
        test = next((one for one in lineage(curve.element) if one in told), None)
        if test is not None:
            told[test].append(texts_of(tree, curve, test))
    return list(told.values())


def is_text(slot: str) -> bool:
    """Whether a slot is a text, and no name of an element or of a column."""
    return not slot.startswith((STEP, COLUMN))


def _without_repeats(
    kept: Sequence[str], spare: Collection[str], texts: Mapping[str, Sequence[str]], naming: Naming
) -> list[str]:
    """The paths but those that may name no curve and say what others say of curves: their end."""
    said = {slot: _kinds(texts[slot], naming) for slot in kept}
    for slot in kept:
        others = [kinds for other, kinds in said.items() if other != slot]
        if slot in spare and said[slot] <= set().union(*others):
            del said[slot]
    return list(said)


def _kinds(words: Sequence[str], naming: Naming) -> set[str]:
    """What words name of a curve: its parameter, its pairs, its end."""
    parsed = list(map(naming.parse, words))
    told = {"parameter": any(of.parameter for of in parsed)}
    told |= {"pairs": any(of.pairs for of in parsed), "end": any(of.end for of in parsed)}
    return {kind for kind, is_told in told.items() if is_told}


def _only_ends(words: Sequence[str], naming: Naming) -> set[str]:
    """The ends that words stand for which say nothing else; none where one says more."""
    parsed = list(map(naming.parse, filter(None, words)))
    bare = [part.end[1] for part in parsed if part.end and not part.parameter and not part.pairs]
    return set(bare) if len(bare) == len(parsed) else set()


def _parameters(words: Sequence[str], naming: Naming) -> set[str]:
    """The parameters that words stand for."""
    parsed = map(naming.parse, words)
    return {part.parameter[1] for part in parsed if part.parameter is not None}


def _is_of_values(slot: str, parameters: set[str]) -> bool:
    """Whether an element is called by a word for attenuation, as the values of any curve may be."""
    return slot.startswith(STEP) and parameters == {"insertion_loss"}
