"""Evidence taken apart: names and numbers of the curves, and which keys hold single figures."""

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from sweepbook.dialect.parameters import quantity_of
from sweepbook.draft import (
    alike,
    cells_told,
    ends_beside,
    guessed_ends,
    loss_unit,
    numbers,
    phrases,
    power_sums,
    settled_figures,
    unknown_words,
    worst_told,
)
from sweepbook.draft.absent_words import NOT_MEASURED, is_sign
from sweepbook.draft.curve_facts import Measured
from sweepbook.draft.document import PARAMETER
from sweepbook.draft.evidence import Evidence, SeenCurve, keep_figure
from sweepbook.draft.figure_words import needs_no_pairs, role_of
from sweepbook.draft.guessed_ends import BESIDE
from sweepbook.draft.key_offers import FURTHER, chosen_by, steps_of
from sweepbook.draft.legend_order import Order
from sweepbook.draft.legend_words import borne_out
from sweepbook.draft.loss_unit import LossUnit
from sweepbook.draft.naming import Naming, settle
from sweepbook.draft.numbers import Notes, is_numeric
from sweepbook.draft.parsed import UNIT_WORDS, Parsed, plausible, tells, told_whole
from sweepbook.draft.trade_words import PAIR_WORDS, POWER_SUMS
from sweepbook.draft.verdicts import verdict_of


@dataclass
class Understood:
    """What the names and numbers of the evidence are.

    Attributes:
        naming: words of names.
        numbers: notation.
        templates: of each slot, in the order of their first use.
        curves: the curves that have a name, as numbers.
        guessed: word of the record by a word of the export that only its curves explain.
        by_unit: word of the record by a word of the export that its unit explains.
        strange: names of curves that nothing explains.
        beside: names of what reads as limits or margins beside curves.
        figures: keys of properties by role and template.
        figure_keys: keys that are single figures, and so no fields.
        loss: unit of losses; those of `curves` are in dB.
        order: which of two pairs comes first, where the export says so.
    """

    naming: Naming
    numbers: Notes
    templates: dict[str, list[str]] = field(default_factory=dict)
    curves: list[Measured] = field(default_factory=list)
    guessed: dict[str, str] = field(default_factory=dict)
    by_unit: dict[str, str] = field(default_factory=dict)
    strange: list[str] = field(default_factory=list)
    beside: list[str] = field(default_factory=list)
    figures: dict[str, dict[str, list[str]]] = field(default_factory=dict)
    figure_keys: set[str] = field(default_factory=set)
    loss: LossUnit = field(default_factory=LossUnit)
    order: Order | None = None

    def tells(self, part: Parsed) -> bool:
        """Whether a text names something, or is written as a name of curves is."""
        known = (part.template in of for of in self.templates.values())
        return tells(part) or ("{" in part.template and any(known))


def understand(evidence: Evidence) -> Understood:
    """Find names and notation, and sort out single figures among the keys."""
    evidence.properties, told = cells_told.take_apart(evidence.properties)
    evidence.several += told
    curve_texts = [text for curve in evidence.curves for text in curve.texts.values()]
    named = curve_texts or evidence.names or list(evidence.properties)
    naming = settle(named, evidence.legend)
    naming.unknown = dict(evidence.legend.words)
    notes = numbers.look_at(
        (
            *(text for one in evidence.curves if _is_measured(one.value) for text in one.value),
            *evidence.gaps,
        ),
        (text for curve in evidence.curves for text in curve.frequency),
        evidence.singles + [text for texts in evidence.properties.values() for text in texts],
    )
    notes.missing = [text for text in notes.missing if verdict_of(text) is None]
    notes.lack((*_lacking(evidence), *_marks(curve_texts)))
    found = Understood(naming, notes)
    if (swapped := alike.two_ends(evidence.curves, naming)) is not None:
        naming.ends = swapped
    _told_ends(evidence, naming)
    guessed_ends.settle(evidence.curves, naming)
    naming.beside = alike.shared(evidence.curves, naming)
    _bear_out(evidence, found)
    found.guessed = _guessed(evidence.curves, naming, notes)
    naming.unknown = {**evidence.legend.words, **found.guessed}
    notes.lack(ends_beside.of_curves(evidence.curves, naming))
    for curve in evidence.curves:
        _take(curve, found)
    for key, texts in evidence.properties.items():
        if take_figure(key, texts, found) == "value":
            parameter = found.naming.name(key).parameter
            keep_figure(evidence, parameter, texts)
            _take_units_behind(texts, parameter, found)
    for key in [key for key in evidence.properties if key not in found.figure_keys]:
        take_figure(key, evidence.properties[key], found)  # now that it is known which are stated
    _take_units(evidence, found)
    if "worst_margin.margin" in found.figures:
        worst_told.take(evidence.properties, found)
    settled_figures.settle(evidence.properties, found, evidence.in_all)
    stated = (text for some in evidence.properties.values() for text in some)
    spelled = (*naming.units.get("loss", ()), *evidence.axis_names)
    found.order = evidence.legend.order
    found.loss = loss_unit.settle(evidence.legend.units, spelled, stated, found.curves)
    found.curves = loss_unit.scaled(found.loss, found.curves)
    return found


def _bear_out(evidence: Evidence, found: Understood) -> None:
    """Forget words that the file explains where the course of their curves says otherwise."""
    told, parse = evidence.legend.words, found.naming.parse_in
    parts = ((one, parse(slot, of)) for one in evidence.curves for slot, of in one.texts.items())
    named = ((one, part.parameter[0]) for one, part in parts if part.parameter)
    words = borne_out(told, ((word, measured(one, found)) for one, word in named if word in told))
    evidence.legend, found.naming.unknown = evidence.legend._replace(words=words), dict(words)


def _is_measured(texts: Sequence[str]) -> bool:
    """Whether texts are numbers with gaps between them, or one and the same gap all along."""
    filled = [text for text in texts if text]
    numeric = sum(map(is_numeric, filled))
    return numeric * 2 >= len(filled) or len(set(filled)) == 1


def _lacking(evidence: Evidence) -> list[str]:
    """Texts of single figures that say that there is none; a cross may be a fail."""
    named = (some for key, some in evidence.properties.items() if phrases.parameter_in(key))
    texts = [text for text in dict.fromkeys(map(str.strip, evidence.singles)) if text]
    lone = [text.strip() for some in named for text in some]
    lacking = [text for text in (*texts, *lone) if phrases.whole(text, NOT_MEASURED)]
    marks = (text for text in _marks(texts) if not is_sign(text))
    return [*dict.fromkeys((*lacking, *_among_numbers(evidence))), *marks]


def _among_numbers(evidence: Evidence) -> list[str]:
    """Words of an unknown language that stand for numbers of several figures, and judge nothing."""
    seen: Counter[str] = Counter()
    for key, texts in evidence.properties.items():
        if phrases.parameter_in(key):
            seen.update(words_for_none(texts))
    return [text for text, count in seen.items() if count > 1]


def words_for_none(texts: Sequence[str]) -> list[str]:
    """Words among numbers that stand for none: without a digit, and no verdict; each once."""
    if not any(map(is_numeric, texts)):
        return []
    words = (text for text in dict.fromkeys(map(str.strip, texts)) if any(map(str.isalpha, text)))
    rest = (of for of in words if of not in UNIT_WORDS and not any(map(str.isdigit, of)))
    return [of for of in rest if verdict_of(of) is None]


def _marks(texts: Sequence[str]) -> list[str]:
    """Texts that hold neither letter nor digit: no pair or no end, where others name one."""
    bare = (text.strip() for text in texts if not any(map(str.isalnum, text)))
    return list(dict.fromkeys(filter(None, bare)))


def measured(curve: SeenCurve, found: Understood) -> Measured:
    """A curve as name and numbers, gaps and clipped values left out."""
    parts = [found.naming.parse_in(slot, text) for slot, text in curve.texts.items()]
    frequency = [found.numbers.value(text) for text in curve.frequency]
    value = [found.numbers.plain(text) for text in curve.value]
    return Measured(
        found.naming.together(parts), [f if f is not None else 0.0 for f in frequency], value
    )


def _take(curve: SeenCurve, found: Understood) -> None:
    """Keep the words and templates of a curve: all of them if its name is known, else the pairs."""
    one = measured(curve, found)
    parsed = {slot: found.naming.parse_in(slot, text) for slot, text in curve.texts.items()}
    limits = any(phrases.has(text, BESIDE) for text in curve.texts.values())
    if limits or not plausible(one.name):
        (found.beside if limits else found.strange).append(" ".join(curve.texts.values()))
        if limits or one.name.parameter:
            return
        parsed = {
            slot: part for slot, part in parsed.items() if part.pairs and told_whole(part.template)
        }
    else:
        found.curves.append(one)
    paired = [slot for slot, part in parsed.items() if part.pairs]
    for slot, part in parsed.items():
        found.naming.take(part, one.name)
        template = part.template
        if len(paired) > 1 and len(part.pairs) == 1:
            word = "first_pair" if slot == paired[0] else "second_pair"
            template = template.replace("{pairs}", f"{{{word}}}")
        if template and template not in found.templates.setdefault(slot, []):
            found.templates[slot].append(template)


def _take_units(evidence: Evidence, found: Understood) -> None:
    """Keep units that stand in a cell of their own beside a figure."""
    for key, texts in evidence.properties.items():
        named = phrases.parameter_in(FURTHER.sub("", key))
        for text in texts if named else ():
            if named and UNIT_WORDS.get(text) == quantity_of(named.meaning):
                found.naming.take_unit(text)


def _take_units_behind(texts: Sequence[str], parameter: str | None, found: Understood) -> None:
    """Keep units that stand behind the numbers of a figure."""
    for text in texts:
        unit = text.lstrip("0123456789.,+- ")
        if parameter and UNIT_WORDS.get(unit) == quantity_of(parameter):
            found.naming.take_unit(unit)


def take_figure(key: str, texts: Sequence[str], found: Understood) -> str | None:
    """Keep a key that names a single figure; its role, or None where it names none.

    Args:
        key: a key, title or path.
        texts: seen below it.
        found: takes key and words.
    """
    part = found.naming.parse(key)
    if not part.parameter or not part.clean or FURTHER.search(key):
        return None
    name = found.naming.together([part])
    marks = (*_marks(texts), *found.numbers.missing)
    lacking = [text for text in texts if text in marks or phrases.whole(text, NOT_MEASURED)]
    said = [text for text in texts if text not in lacking]
    role = role_of(part.template, said) if said else _role_of_others(part.template, found)
    if role == "frequency" and not plausible(name) and "worst_margin.margin" in found.figures:
        role = "worst_margin.frequency"  # no value is stated that it could be of
    if role is None or (name.parameter == "wire_map" and role != "verdict"):
        return None
    if not (plausible(name) or (needs_no_pairs(role) and not name.pairs)):
        return None
    if role == "worst_value.value" and worst_told.are_pairs(part.template, said, found):
        return None
    if not name.pairs and phrases.has(chosen_by(key) or steps_of(key)[-1], PAIR_WORDS):
        return None  # it says which pair, and is no figure of one
    found.naming.take(part, name)
    if role != "verdict":
        found.numbers.lack(lacking)
    template = part.template
    if role == "value":
        _take_unit_of(template, name.parameter, found)
    if part.unit and template.endswith("/{unit}"):  # what else is named so is no unit
        template = template.replace("{unit}", part.unit)
    found.figures.setdefault(role, {}).setdefault(template, []).append(key)
    found.figure_keys.add(key)
    return role


def _take_unit_of(template: str, parameter: str | None, found: Understood) -> None:
    """Keep the unit that ends a name: "length_m"."""
    unit = template.rpartition("_")[2]
    if parameter and UNIT_WORDS.get(unit) == quantity_of(parameter):
        found.naming.take_unit(unit)


def _role_of_others(template: str, found: Understood) -> str | None:
    """The role of keys called as one is that says nothing in any test."""
    roles = (role for role, templates in found.figures.items() if template in templates)
    return next(roles, None)


def _told_ends(evidence: Evidence, naming: Naming) -> None:
    """The ends that the export explains, where they are all that stands in a slot of names."""
    if evidence.legend.ends is None:
        return
    told = evidence.legend.ends
    slots: dict[str, set[str]] = {}
    for curve in evidence.curves:
        for slot, text in curve.texts.items():
            slots.setdefault(slot, set()).add(text.strip().casefold())
    for near, far in told.spellings():
        held = [slot for slot, texts in slots.items() if texts - {""} == {near, far}]
        if held:
            naming.ends, naming.end_slots = (near, far), set(held)
            return


def _guessed(curves: Sequence[SeenCurve], naming: Naming, notes: Notes) -> dict[str, str]:
    """Meanings of words for parameters that the trade does not know."""
    spare = Understood(naming, notes)
    groups: dict[str, list[Measured]] = {}
    sums: dict[str, list[Measured]] = {}
    talk: list[Measured] = []
    taken: list[str] = []
    for curve in curves:
        one = measured(curve, spare)
        if one.name.parameter in POWER_SUMS and len(one.name.pairs) == 1:
            if word := _word_around(curve.texts, naming):
                sums.setdefault(word, []).append(one)
        elif one.name.parameter in POWER_SUMS and plausible(one.name):
            talk.append(one)
        if one.name.parameter:
            taken.append(one.name.parameter)
        elif one.name.pairs and (word := _word(curve.texts, naming)):
            groups.setdefault(word, []).append(one)
    beside = _beside_parameters(curves, naming)
    groups = {word: some for word, some in groups.items() if word not in beside}
    return power_sums.guess(sums, talk) | unknown_words.guess(groups, taken)


def _beside_parameters(curves: Sequence[SeenCurve], naming: Naming) -> set[str]:
    """Texts that stand beside a known word for a parameter, and so are no such words themselves."""
    found: set[str] = set()
    for curve in curves:
        known = [slot for slot, text in curve.texts.items() if naming.parse(text).parameter]
        if known:
            found |= {text.strip() for slot, text in curve.texts.items() if slot not in known}
    return found


def _word(texts: Mapping[str, str], naming: Naming) -> str:
    """What is left of the texts of a curve once pairs, end and words of all are taken out."""
    found = []
    for slot, text in texts.items():
        template = naming.parse(text).template
        found.append(alike.word(template, naming.beside.get(slot, frozenset())))
    words = [word for word in found if word]
    return words[0] if len(words) == 1 else ""


def _word_around(texts: Mapping[str, str], naming: Naming) -> str:
    """A text of a curve with a word for its parameter and something beside it, or "".

    Its pairs and its end are taken out.
    """
    for slot, text in texts.items():
        part = naming.parse(text)
        if part.parameter and part.template:
            spelt = part.template.replace(PARAMETER, part.parameter[0])
            word = alike.word(spelt, naming.beside.get(slot, frozenset()))
            return word if word != part.parameter[0] else ""
    return ""
