"""Single figures of an export to scalars, stated items and declared accuracies of a record."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

from sweepbook.dialect import skewed, two_units
from sweepbook.dialect.model import Meaning
from sweepbook.dialect.outlandish import Stated
from sweepbook.dialect.parameters import DELAY_NS, UNIT_SUFFIX, parameters, quantity_of
from sweepbook.dialect.raw import Cell, Fault, Name, RawFigure
from sweepbook.dialect.readings import Reading

_VALUE = {"value"}
"""The only role of most figures."""
_STATED = {"worst_margin": "margin", "worst_value": "value"}
_WHICH = ("pairs", "second_pair", "end")
"""Roles that tell of which pairs and end what is stated is."""


@dataclass(slots=True)
class Figures:
    """What became of the single figures of one test.

    Attributes:
        scalars: entries of `results.scalars`.
        items: entries of `stated.items`.
        accuracy: entries of `test.accuracy`.
        left: figures that found no place, to go to `extra`.
        faults: faults that lose the test.
        doubts: what may be wrong in the dialect, and loses nothing.
        stated: every stated figure as it was read.
    """

    scalars: list[dict[str, Any]] = field(default_factory=list)
    items: list[dict[str, Any]] = field(default_factory=list)
    accuracy: list[dict[str, Any]] = field(default_factory=list)
    left: list[RawFigure] = field(default_factory=list)
    faults: list[Fault] = field(default_factory=list)
    doubts: list[Fault] = field(default_factory=list)
    stated: list[Stated] = field(default_factory=list)


def build(figures: Iterable[RawFigure], meaning: Meaning) -> Figures:
    """Sort single figures by name and turn each name's into entries of the record."""
    by_name: dict[Name, dict[str, RawFigure]] = {}
    result = Figures()
    for figure in figures:
        roles = by_name.setdefault(figure.name.bare, {})
        known = roles.get(figure.role)
        if known and (other := two_units.spare(known, figure, meaning)):
            result.left.append(two_units.keyed(other))
            roles[figure.role] = figure if other is known else known
        elif known:
            result.faults.append(Fault(figure.cell.place, _again(figure, known)))
        elif not meaning.numbers.is_missing(figure.cell.text):
            roles[figure.role] = figure
    for name in [*by_name]:
        for group in _STATED:
            _complete(by_name, name, group, meaning, result)
    for name, roles in by_name.items():
        for make in (_scalar,) if roles.keys() == _VALUE else (_scalar, _item, _accuracy):
            try:
                make(name, roles, meaning, result)
            except Fault as fault:
                result.faults.append(fault)
    values = (roles["value"] for roles in by_name.values() if "value" in roles)
    result.doubts += skewed.notes(result.scalars, values)
    return result


def _complete(
    by_name: dict[Name, dict[str, RawFigure]],
    name: Name,
    group: str,
    meaning: Meaning,
    result: Figures,
) -> None:
    """Give what is stated of a worst case the pairs and the end that stand beside it.

    Where these texts do not tell, it is left to `extra`: of the wrong pair it would be held against
    another curve than its own.
    """
    roles = by_name[name]
    told = [roles.pop(f"{group}.{which}", None) for which in _WHICH]
    if not any(told):
        return
    stated = {role: roles.pop(role) for role in [*roles] if role.startswith(f"{group}.")}
    texts = (figure.cell.text.strip() if figure else "" for figure in told)
    full = meaning.completer.complete(name, *texts) if stated else None
    if full is None:
        result.left += [figure for figure in told if figure]
        if stated:
            result.left += stated.values()
            result.doubts.append(_untellable(name, group, [of for of in told if of], meaning))
        elif _lacks_pairs(by_name, name.parameter, group):
            result.doubts += [_of_none(figure, name, group) for figure in told if figure]
        return
    roles = by_name.setdefault(full, {})
    for role, figure in stated.items():
        known = roles.setdefault(role, figure)
        if known is not figure:
            again = figure._replace(name=full)
            result.faults.append(Fault(figure.cell.place, _again(again, known)))


def _lacks_pairs(
    by_name: Mapping[Name, Mapping[str, RawFigure]], parameter: str, group: str
) -> bool:
    """Whether something is stated of a parameter's worst case and nothing says of which pairs."""
    return any(
        name.parameter == parameter
        and not name.pairs
        and f"{group}.pairs" not in roles
        and any(role.startswith(f"{group}.") for role in roles)
        for name, roles in by_name.items()
    )


def _of_none(figure: RawFigure, name: Name, group: str) -> Fault:
    return Fault(
        figure.cell.place,
        f"{(figure.key or figure.role)!r} should say which pairs or end the {group} of '{name}' is "
        f"of, and none is stated there, but one without pairs elsewhere; it is kept in extra; see "
        f"the names in figures.{group} and {figure.role}",
    )


def _untellable(name: Name, group: str, told: list[RawFigure], meaning: Meaning) -> Fault:
    texts = [(figure.role.rpartition(".")[2], figure.cell.text.strip()) for figure in told]
    shown = " and ".join(repr(text) for _, text in texts)
    unknown = [text for which, text in texts if not meaning.completer.knows(which, text)]
    why = "they do not fit" if len(told) > 1 else "it does not fit"
    if unknown:
        many = "are no declared words" if len(unknown) > 1 else "is no declared word"
        why = f"{' and '.join(map(repr, unknown))} {many} for that"
    return Fault(
        told[0].cell.place,
        f"{shown} should say which pairs and end the {group} of '{name}' is of: {why}, and the "
        f"{group} is kept in extra; see words.pairs, words.ends, crosstalk.between and "
        f"{told[0].role}{_apart(name, group, told)}; what stands for all pairs, or for none, "
        "belongs into numbers.missing",
    )


def _apart(name: Name, group: str, told: list[RawFigure]) -> str:
    """What to say where two pairs may stand apart, of which only one was named."""
    if 2 not in parameters()[name.parameter].pairs or len(told) == len(_WHICH):
        return ""
    return f"; if the second of two pairs stands by itself, name it by {group}.second_pair"


def _again(figure: RawFigure, known: RawFigure) -> str:
    """What to say of a figure that was taken before: which of both is wrong only people know."""
    if figure.cell == known.cell:
        return (
            f"the {figure.role} of '{figure.name}' is read from here twice, since two forms of the "
            "dialect take it (take one of them out), or it stands twice in this line"
        )
    lacks = " and ".join(_untold(figure.name))
    why = f"; the name says no {lacks}, which may be what tells both apart" if lacks else ""
    return (
        f"the {figure.role} of '{figure.name}' comes a second time, the first in "
        f"{known.cell.place}{why}; if the export has it once, two forms or columns of the dialect "
        "take it"
    )


def _untold(name: Name) -> Iterator[str]:
    """What a name leaves open that one of its parameter may say."""
    parameter = parameters()[name.parameter]
    if not name.pairs and any(parameter.pairs):
        yield "pair"
    if name.end is None and parameter.end == "each":
        yield "end"


def _scalar(name: Name, roles: Mapping[str, RawFigure], meaning: Meaning, result: Figures) -> None:
    """Make the scalar of a name, if it has a value."""
    value, frequency = roles.get("value"), roles.get("frequency")
    if value is None:
        result.left += [frequency] if frequency else []
        return
    quantity = quantity_of(name.parameter)
    if not quantity:
        raise Fault(
            value.cell.place, f"{name.parameter} has no figure; use results.{name.parameter}"
        )
    reading = _read(value, quantity, meaning, negative=name.parameter in meaning.negative)
    if name.parameter == "propagation_delay" and not reading.bound:
        _check_delay(reading.value, value)
    scalar: dict[str, Any] = {"parameter": name.parameter, "pairs": list(name.pairs)}
    if name.end:
        scalar["end"] = name.end
    scalar |= {parameters()[name.parameter].value_name: reading.value, "decimals": reading.decimals}
    if reading.resolution is not None:
        scalar["resolution"] = reading.resolution
    if frequency:
        scalar["frequency_mhz"] = meaning.figure_numbers.read(frequency.cell, "frequency").value
    if reading.bound:
        scalar["bound"] = reading.bound
    if reading.bound or reading.resolution is not None:
        scalar["as_stated"] = value.cell.text.strip()
    result.scalars.append(scalar)


def _read(figure: RawFigure, quantity: str, meaning: Meaning, *, negative: bool = False) -> Reading:
    """Read a figure in the unit that stands in its name, or else in the declared one.

    Raises:
        Fault: it is no number.
    """
    numbers = meaning.figure_numbers.in_unit(quantity, figure.name.unit)
    return numbers.read(figure.cell, quantity, negative=negative)


def _check_delay(delay_ns: float, figure: RawFigure) -> None:
    """Hold a delay against what cables have; 0 is what an instrument without a signal writes.

    Raises:
        Fault: the unit cannot be right.
    """
    low, high = DELAY_NS
    if delay_ns and not low <= abs(delay_ns) <= high:
        raise Fault(
            figure.cell.place,
            f"{figure.cell.text.strip()!r} for '{figure.name}' would be {delay_ns:g} ns, which no "
            f"cable has; see units.delay{_by_name(figure)}",
        )


def _by_name(figure: RawFigure) -> str:
    """What to say of the unit that stands in a name."""
    unit = figure.name.unit
    return (
        f", and {{unit}} in its name, which says {unit}: leave it out if it is not so"
        if unit
        else ""
    )


def _item(name: Name, roles: Mapping[str, RawFigure], meaning: Meaning, result: Figures) -> None:
    """Make the stated item of a name, if anything is stated of it."""
    item: dict[str, Any] = {"parameter": name.parameter}
    if name.pairs:
        item["pairs"] = list(name.pairs)
    if name.end:
        item["end"] = name.end
    bare = len(item)
    if verdict := roles.get("verdict"):
        word = verdict_word(verdict.cell, meaning)
        item |= {"verdict": word} if word else {}
        item["verdict_as_stated"] = verdict.cell.text.strip()
    for group, main in _STATED.items():
        stated = _stated(name, group, main, roles, meaning, result)
        item |= {group: stated} if stated else {}
    if len(item) > bare:
        result.items.append(item)


def _stated(
    name: Name,
    group: str,
    main: str,
    roles: Mapping[str, RawFigure],
    meaning: Meaning,
    result: Figures,
) -> dict[str, Any] | None:
    """A stated worst margin or worst value, with its frequency and limit; None if there is none."""
    figure = roles.get(f"{group}.{main}")
    beside = {word: roles.get(f"{group}.{word}") for word in ("frequency", "limit")}
    if figure is None and not any(beside.values()):
        return None
    quantity = quantity_of(name.parameter)
    negative = name.parameter in meaning.negative
    turned = meaning.margin_good == "negative" if main == "margin" else negative
    reading = _read(figure, quantity, meaning, negative=turned) if figure else None
    if figure is None or reading is None or reading.bound:
        result.left += [other for other in (figure, *beside.values()) if other is not None]
        return None
    suffix = UNIT_SUFFIX[quantity]
    result.stated.append(Stated(figure, quantity, float(reading.value)))
    stated: dict[str, Any] = {
        f"{main}_{suffix}": reading.value,
        "decimals": reading.decimals,
        "as_stated": figure.cell.text.strip(),
    }
    if reading.resolution is not None:
        stated["resolution"] = reading.resolution
    if frequency := beside["frequency"]:
        at = meaning.figure_numbers.read(frequency.cell, "frequency").value
        result.stated.append(Stated(frequency, "frequency", float(at)))
        stated["frequency_mhz"] = at
    if limit := beside["limit"]:
        turned = negative and not meaning.limits_positive
        value = _read(limit, quantity, meaning, negative=turned).value
        result.stated.append(Stated(limit, quantity, float(value)))
        stated[f"limit_{suffix}"] = value
    return stated


def _accuracy(
    name: Name, roles: Mapping[str, RawFigure], meaning: Meaning, result: Figures
) -> None:
    """Make the declared accuracy of a parameter, if the source has one."""
    figure = roles.get("accuracy")
    if figure is None:
        return
    quantity = quantity_of(name.parameter)
    reading = _read(figure, quantity, meaning)
    entry: dict[str, Any] = {"parameter": name.parameter}
    if name.end:
        entry["end"] = name.end
    entry |= {f"constant_{UNIT_SUFFIX[quantity]}": reading.value, "declared_by": "export"}
    result.accuracy.append(entry)


def verdict_word(cell: Cell, meaning: Meaning) -> str | None:
    """The record's word for a verdict; None where the export's word states none.

    Raises:
        Fault: the word is not declared.
    """
    text = cell.text.strip()
    word = meaning.words.verdicts.get(text)
    if word is None:
        known = ", ".join(map(repr, meaning.words.verdicts)) or "none"
        what = f"{text!r} is no declared verdict (declared are {known})"
        if text.lstrip("+-")[:1].isdigit():
            raise Fault(
                cell.place,
                f"{what} but rather a value; see which key or column the dialect takes for the "
                "verdict, or add it to words.verdicts",
            )
        raise Fault(cell.place, f"{what}; add it to words.verdicts")
    return None if word == "none" else word
