"""The core half of a dialect, out of plain data that follow the schema."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from typing import Any, TypeVar

from sweepbook.dialect import dates, half_days, joins, names, several, wires, wiring, within, words
from sweepbook.dialect.dates import Calendar
from sweepbook.dialect.fields import EXTERNAL_IDS
from sweepbook.dialect.file_form import marked
from sweepbook.dialect.model import Meaning
from sweepbook.dialect.names import Grammar
from sweepbook.dialect.numbers import Numbers
from sweepbook.dialect.parameters import CROSSTALK, FAR_END
from sweepbook.dialect.units import DEFAULTS, in_names, spelt_of, unit_of
from sweepbook.dialect.words import Words, as_list
from sweepbook.numerals import Notation

_Part = TypeVar("_Part")


def compile_meaning(document: Mapping[str, Any]) -> tuple[Meaning, list[str]]:
    """Build the core half, and say what the schema cannot: words that contradict each other.

    Args:
        document: the whole dialect, already valid against the schema.

    Returns:
        the meaning, and problems with their key paths; use the meaning only if there are none.
    """
    found: list[str] = []

    def tried(make: Callable[[], _Part], spare: _Part) -> _Part:
        try:
            return make()
        except ValueError as error:
            found.append(str(error))
            return spare

    scheme = document.get("wiring", {}).get("scheme", "")
    spelled = tried(lambda: words.build(document.get("words", {}), scheme), Words())
    numbers = tried(lambda: _numbers(document), Numbers())
    found += _unsaid(document)
    fields = dict(flatten(document["fields"]))
    found += wires.contradictions(fields)
    external = document["fields"]["link"].get("external_ids", {})
    meaning = Meaning(
        words=spelled,
        numbers=numbers,
        figure_units=document.get("units", {}).get("figures", {}),
        calendar=tried(lambda: _calendar(document.get("dates", {})), Calendar()),
        grammar=_grammar(document, spelled, numbers),
        negative=frozenset(document.get("signs", {}).get("negative", ())),
        limits_positive=document.get("signs", {}).get("limits") == "positive",
        margin_good=document.get("signs", {}).get("good_margin", "positive"),
        fields={
            path: as_list(keys)
            for path, keys in fields.items()
            if not path.startswith(f"{EXTERNAL_IDS}.")
        },
        within=tried(lambda: within.forms(dict(flatten(document.get("within", {}))), fields), {}),
        external_ids=external,
        defaults=dict(flatten(document.get("defaults", {}))),
        limits=tried(lambda: words.invert(document.get("limits", {}), "limits"), {}),
        figures={
            role: as_list(templates) for role, templates in flatten(document.get("figures", {}))
        },
        wires=tried(lambda: wires.form_of(document.get("wire_map", {})), wires.WireForm()),
        several=tried(lambda: several.build(document.get("cells", ())), {}),
        wiring=tried(
            lambda: wiring.build(
                document.get("wiring", {}), document.get("words", {}).get("pairs", {})
            ),
            wiring.Wiring(),
        ),
    )
    said = document.get("join", {})
    found += _bad_templates(meaning, joins.files_of(said) if joins.are_several(said) else [])
    if not found:
        tried(lambda: len(meaning.figure_keys), 0)
    return meaning, found


def flatten(tree: Mapping[str, Any], prefix: str = "") -> Iterator[tuple[str, Any]]:
    """Path and value of every leaf of nested tables: ("link.near.place.panel", "Panel A")."""
    for name, value in tree.items():
        path = f"{prefix}.{name}" if prefix else name
        if isinstance(value, Mapping):
            yield from flatten(value, path)
        else:
            yield path, value


def _unsaid(document: Mapping[str, Any]) -> Iterator[str]:
    """What the declared words make necessary to say: pair order and meaning of the far end."""
    parameters = document.get("words", {}).get("parameters", {})
    crosstalk = document.get("crosstalk", {})
    two = [name for name in CROSSTALK if name in parameters]
    if two and "first" not in crosstalk:
        yield (
            f"crosstalk.first: is missing. {', '.join(two)} name two pairs; say whether the first "
            "is the disturbing or the disturbed one"
        )
    far = [name for name in FAR_END if name in parameters]
    if far and "far_end" not in crosstalk:
        yield (
            f"crosstalk.far_end: is missing. Say whether the end named with {', '.join(far)} is "
            "the receiving or the driving one"
        )


def _numbers(document: Mapping[str, Any]) -> Numbers:
    """Number notation.

    Raises:
        ValueError: decimal and thousands marks are the same, or one is a digit; no such unit, or a
            spelling of it that is another's.
    """
    table = document.get("numbers", {})
    notation = Notation(table.get("decimal", "."), table.get("thousands", ""))
    if notation.thousands and notation.thousands in f"{notation.decimal}+-0123456789":
        raise ValueError(
            f"numbers.thousands: {notation.thousands!r} cannot be told from the rest of a number"
        )
    clipped = []
    for bound in ("at_least", "at_most"):
        for form in as_list(table.get(bound, [])):
            before, _, after = form.partition("{}")
            if not before and not after:
                raise ValueError(f"numbers.{bound}: '{{}}' alone would clip every value")
            clipped.append((before, after, bound))
    said = document.get("units", {})
    tables = ("figures", "spellings")
    units = {**DEFAULTS, **{name: of for name, of in said.items() if name not in tables}}
    for key, called in flatten({**units, "figures": said.get("figures", {})}):
        try:
            unit_of(key.removeprefix("figures."), called)
        except ValueError as error:
            raise ValueError(f"units.{key}: {error}") from error
    try:
        spelt = spelt_of({name: as_list(of) for name, of in said.get("spellings", {}).items()})
    except ValueError as error:
        raise ValueError(f"units.spellings: {error}") from error
    return Numbers(notation, frozenset(table.get("missing", ())), clipped, units, spelt)


def _calendar(table: Mapping[str, Any]) -> Calendar:
    """Forms of dates.

    Raises:
        ValueError: a form names no whole date or has a word for half of the day as fixed text, a
            word is of both halves, or the zone does not exist.
    """
    standard = Calendar()
    forms = table.get("forms", list(standard.forms))
    for form in forms:
        try:
            dates.pattern(form)
        except ValueError as error:
            raise ValueError(f"dates.forms: {form!r}: {error}") from error
    zone = table.get("zone", "")
    if zone:
        try:
            dates.zone_of(zone)
        except ValueError as error:
            raise ValueError(f"dates.zone: {error}") from error
    months = {name.lower(): number for number, name in enumerate(table.get("months", ()), 1)}
    try:
        before, after = (as_list(table.get(key, [])) for key in ("before_noon", "after_noon"))
        halves = half_days.halves_of(before, after)
    except ValueError as error:
        raise ValueError(f"dates.before_noon and dates.after_noon: {error}") from error
    beside = [one for form in forms for one in dates.beside_clock(form)]
    if fault := half_days.fault(beside, declared=bool(halves)):
        raise ValueError(f"dates.forms: {fault}")
    return Calendar(
        forms,
        zone,
        table.get("offsets", {}),
        months or standard.months,
        halves or standard.halves,
        table.get("repeated_hour", ""),
    )


def _grammar(document: Mapping[str, Any], spelled: Words, numbers: Numbers) -> Grammar:
    crosstalk = document.get("crosstalk", {})
    figures = document.get("units", {}).get("figures", {})
    return Grammar(
        words=spelled,
        units={
            quantity: in_names(quantity, unit, figures.get(quantity, ""))
            for quantity, unit in numbers.units.items()
        },
        between_pairs=as_list(crosstalk.get("between", "-")),
        first=crosstalk.get("first", "disturbing"),
        far_end=crosstalk.get("far_end", "receiving"),
        blank=numbers.missing | {""},
        spelt=numbers.spelt,
    )


def _bad_templates(meaning: Meaning, files: Iterable[str]) -> Iterator[str]:
    """Templates of figures that cannot be; below the name of a file they begin with its form."""
    for role, templates in meaning.figures.items():
        for template in templates:
            below = any(template.startswith(f"{file}/") for file in files)
            if fault := names.check(marked(template) if below else template):
                yield f"figures.{role}: {fault}"
            elif "parameter" not in names.placeholders(template):
                yield f"figures.{role}: {template!r} does not hold {{parameter}}"
