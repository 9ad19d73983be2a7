"""The words of an export: parameters, pairs, ends, verdicts, and words of lists."""

import re
from collections.abc import Iterator, Mapping, Sequence

from sweepbook.dialect.parameters import FAR_END, parameters
from sweepbook.dialect.wiring import scheme_said
from sweepbook.dialect.words import SCHEMES
from sweepbook.draft import phrases
from sweepbook.draft.document import (
    ASSUMED,
    FOUND,
    UNTOLD,
    Note,
    Table,
    bare,
    listed,
    one_of,
    quoted,
)
from sweepbook.draft.evidence import Evidence
from sweepbook.draft.field_times import Filled
from sweepbook.draft.key_words import CONFIGURATIONS, PURPOSES, SCREENS
from sweepbook.draft.reading import Understood
from sweepbook.draft.trade_words import OPPOSITES, PIN_PAIRS, POWER_SUMS
from sweepbook.draft.verdicts import marginal_of, states_none, verdict_of

_CALLED = {
    "numbers": {"4-5": "pair-1", "1-2": "pair-2", "3-6": "pair-3", "7-8": "pair-4"},
    "colours": {"4-5": "blue", "1-2": "orange", "3-6": "green", "7-8": "brown"},
}
"""What a dialect calls the pairs by numbers and colours under T568B; else it is by contacts."""
_SCHEME = {
    "numbers": "pairs are numbered as under T568B; under T568A 1-2 is pair 3 and 3-6 is pair 2",
    "colours": "colours as under T568B; under T568A 1-2 is green and 3-6 is orange",
}
_STATED_SCHEME = re.compile(
    r"(?:(?<![A-Za-z])T[- ]?|^)568[- ]?([AB])(?![A-Za-z0-9.])", re.IGNORECASE
)
"""TIA-568-B.2 is a standard, and no scheme."""
_DOUBTFUL = (
    (
        "dc_loop_resistance",
        ("loop", "loop resistance", "dc loop resistance"),
        "this is of the loop of both conductors, not of one of them",
    ),
    (
        "acr_f",
        ("acr f", "attenuation to crosstalk ratio far end"),
        "this is relative to the disturbed pair's loss; of ELFEXT some take the disturbing pair's",
    ),
    (
        "acr_n",
        ("acr n", "attenuation to crosstalk ratio near end"),
        "this is of the near end",
    ),
)
"""Parameters whose words may mean something else: clear words, and what is assumed of others."""

_CALLED_AS_UNIT = "what is stated of each pair in the unit that it is called as"
_BY_CURVES = "by the course of its curves alone, the trade has no such word; look whether it is so"
_BY_UNIT = "by the unit beside its numbers, the trade has no such word; look whether it is so"
_THE_OTHER = "the only other word where verdicts stand; look whether it is so"
_STRANGE = 12
"""Words for a verdict that are named where nobody knows what they mean."""
_LISTS: Mapping[str, tuple[str, Mapping[str, Sequence[str]]]] = {
    "test.configuration": ("configurations", CONFIGURATIONS),
    "test.purpose": ("purposes", PURPOSES),
    "results.wire_map.screen": ("screens", SCREENS),
}


def word_tables(evidence: Evidence, found: Understood, filled: Sequence[Filled]) -> list[Table]:
    """Every table below `words`."""
    naming = found.naming
    named = Table("[words.parameters]")
    for parameter in parameters():
        if parameter in naming.parameters:
            spelt = naming.parameters[parameter]
            told = [word for word in spelt if evidence.legend.words.get(word) == parameter]
            notes = [Note(FOUND, "the file explains it", told)] if told else []
            named.add(parameter, one_of(spelt), *notes, *_guessed(found, parameter))
    named.notes += _unread(found)
    known = [_known_words(one) for one in filled if one.path in _LISTS]
    return [
        named,
        *_pairs(evidence, found),
        _ends(evidence, found),
        _verdicts(evidence, found, filled),
        *known,
    ]


def _unread(found: Understood) -> Iterator[Note]:
    """What is told of curves without a name, and of what stands beside curves."""
    if found.strange:
        text = "these curves have no name that is known; they go to extra until it is declared"
        count = len(found.strange)
        of = count + len(found.curves)
        head = (
            f"{count} of the {of} curves that were looked at are NOT READ by it as it stands, "
            "see the lines above [words.parameters]."
        )
        yield Note(UNTOLD, text, found.strange, head)
    if found.beside:
        yield Note(
            ASSUMED, "these are limits or margins, and no curves; they go to extra", found.beside
        )


def _pairs(evidence: Evidence, found: Understood) -> list[Table]:
    """How pairs are called, and the scheme that leads numbers and colours to contacts."""
    naming, kind = found.naming, found.naming.pairing.name
    pairs, wiring = Table("[words.pairs]"), Table("[wiring]")
    for pair, called in _CALLED.get(kind, {pair: pair for pair in PIN_PAIRS}).items():
        if pair in naming.pairs:
            pairs.add(called, one_of(naming.pairs[pair]))
    if kind not in _SCHEME:
        text = (
            "the file tells the contacts of each"
            if kind == "told"
            else "pairs are named by their contacts"
        )
        how = Note(FOUND, text)
        if kind == "letters":
            text = "the letters go to contacts as in 1000BASE-T; no margin depends on it"
            how = Note(ASSUMED, text)
        pairs.notes = [how] if pairs.lines else []
        return [pairs]
    if pairs.lines:
        stated = {
            f"T568{found[1].upper()}": text
            for texts in evidence.properties.values()
            for text in texts
            for found in _STATED_SCHEME.finditer(text)
        }
        told = f"{_SCHEME[kind]}. No margin depends on it, only which pair it is told of"
        note = Note(ASSUMED, told, list(stated.values()))
        if len(stated) == 1:
            note = Note(FOUND, "the file says so", list(stated.values()))
        wiring.add("scheme", next(iter(stated)) if len(stated) == 1 else "T568B", note)
        for key, texts in evidence.properties.items():
            said = {scheme_said(text) for text in texts}
            if len(said - {""}) == len(SCHEMES):
                wiring.add("key", key, Note(FOUND, "it differs from test to test", texts))
                break
            if said and "" not in said and key in evidence.in_all:
                wiring.add("key", key, Note(FOUND, "each test says it", texts))
                break
    return [wiring, pairs]


def _guessed(found: Understood, parameter: str) -> list[Note]:
    words = [word for word, meant in found.guessed.items() if meant == parameter]
    how = Note(ASSUMED, _BY_CURVES)
    if parameter in POWER_SUMS.values():
        how = Note(FOUND, "its curves are the power sums of those of two pairs whose word is in it")
    notes = [how._replace(samples=words)] if words else []
    told = [word for word, meant in found.by_unit.items() if meant == parameter]
    notes += [Note(ASSUMED, _BY_UNIT, told)] if told else []
    called = [word for word, of in found.naming.called_as_units.items() if of == parameter]
    notes += [Note(ASSUMED, _CALLED_AS_UNIT, called)] if called else []
    for meant, clear, doubt in _DOUBTFUL:
        spelt = [word for word in found.naming.parameters[parameter] if word not in (*words, *told)]
        unclear = [word for word in spelt if not phrases.has(word, clear)]
        if meant == parameter and unclear:
            notes.append(Note(ASSUMED, doubt, unclear))
    return notes


def _ends(evidence: Evidence, found: Understood) -> Table:
    table = Table("[words.ends]")
    words = {end: list(found.naming.end_words.get(end, [])) for end in ("near", "far")}
    lacking = [
        curve.name
        for curve in found.curves
        if curve.name.parameter
        and parameters()[curve.name.parameter].end == "each"
        and curve.name.end is None
    ]
    far = lacking and all(name.parameter in FAR_END for name in lacking)
    if lacking:
        words["far" if far else "near"].append("")
    notes = [Note(ASSUMED, "which unit is near and which far is a matter of naming")]
    told = evidence.legend.ends
    if told is not None and found.naming.ends in told.spellings():
        notes = [Note(FOUND, "the file says which is which", told.texts)]
    if lacking:
        shown = [f"{name.parameter} {'/'.join(name.pairs)}" for name in lacking]
        said = "near one"
        if far:
            said = "far one: far-end crosstalk, received at the far end"
        notes.append(Note(ASSUMED, f"names without an end are of the {said}", shown))
    for end, spellings in words.items():
        if spellings:
            table.add(end, one_of(spellings))
    table.notes = notes if table.lines else []
    return table


def _verdicts(evidence: Evidence, found: Understood, filled: Sequence[Filled]) -> Table:
    texts = list(evidence.verdicts)
    texts += [text for one in filled if one.path == "stated.overall" for text in one.texts]
    keys = [key for some in found.figures.get("verdict", {}).values() for key in some]
    texts += [text for key in keys for text in evidence.properties[key]]
    table = Table("[words.verdicts]")
    words: dict[str, list[str]] = {}
    judged = _by_margins(evidence, found)
    texts = [text for text in texts if text.strip()]
    for text in dict.fromkeys(texts):
        if word := verdict_of(text) or judged.get(text):
            words.setdefault(word, []).append(text)
    for word in ("pass", "pass*", "fail*", "fail"):
        if word in words:
            table.add(bare(word), one_of(words[word]), *_verdict_notes(words[word]))
    strange = [text for text in dict.fromkeys(texts) if not (verdict_of(text) or text in judged)]
    none = [text for text in strange if text and states_none(text)]
    if none:
        table.add("none", one_of(none), Note(ASSUMED, "these state no verdict", none))
    left = [text for text in strange if text not in none]
    strange = [text for text in left if text not in found.numbers.missing]
    if len(strange) == 1 and "pass" in words and "fail" not in words and _is_worded(strange[0]):
        table.add("fail", strange[0], Note(ASSUMED, _THE_OTHER, strange))
    elif strange:
        named = listed(list(map(quoted, strange)), _STRANGE)
        said = (
            "what these words mean; put each into the list of what it means, and what stands for "
            f"no value at all into numbers.missing: {named}"
        )
        table.notes.append(Note(UNTOLD, said))
        for word in ("pass", "fail"):
            if word not in words:
                table.add(word, [], asleep=True)
    else:
        _opposite(table, words)
    return table


def _is_worded(text: str) -> bool:
    return text.replace(" ", "").isalpha()


def _by_margins(evidence: Evidence, found: Understood) -> dict[str, str]:
    """What words for verdicts mean that the trade does not know, by the margins beside them."""
    margins: dict[str, list[float]] = {}
    for text, margin in evidence.judged:
        value = found.numbers.value(margin)
        if value is not None and verdict_of(text) is None and not states_none(text):
            margins.setdefault(text, []).append(value)
    passed = {text: "pass" for text, some in margins.items() if min(some) >= 0.0}
    failed = {text: "fail" for text, some in margins.items() if max(some) < 0.0}
    return passed | failed


def _verdict_notes(texts: Sequence[str]) -> list[Note]:
    """What words of one verdict rest on."""
    strange = [text for text in texts if verdict_of(text) is None]
    if strange:
        return [Note(ASSUMED, "by the margins beside them, which are all of one sign", strange)]
    near = [text for text in texts if marginal_of(text)]
    said = "a verdict with a word for a near one: within the accuracy of the tester"
    return [Note(ASSUMED, said, near)] if near else [Note(FOUND, "", texts)]


def _opposite(table: Table, words: dict[str, list[str]]) -> None:
    """The word for the other verdict, where the examples hold only one."""
    turned = {other: word for word, other in OPPOSITES.items()}
    for here, there, known in (("pass", "fail", OPPOSITES), ("fail", "pass", turned)):
        if here in words and there not in words:
            text = words[here][0]
            other = known.get(text.casefold())
            if other:
                other = other.upper() if text.isupper() else other
                other = other.capitalize() if text.istitle() else other
                note = f"not seen, the usual counterpart of '{text}'; a word not listed is refused"
                table.add(there, other, Note(ASSUMED, note))


def _known_words(one: Filled) -> Table:
    """The words of a field that takes one of a list."""
    name, known = _LISTS[one.path]
    table = Table(f"[words.{name}]")
    meant: dict[str | None, list[str]] = {}
    for text in one.texts:
        word = next((word for word, some in known.items() if phrases.whole(text, some)), None)
        meant.setdefault(word, []).append(text)
    strange = meant.pop(None, [])
    for word, texts in meant.items():
        if word:
            table.add(bare(word), one_of(texts), Note(ASSUMED, "by the sound of the text", texts))
    if strange:
        note = f"what these mean; left one of {', '.join(known)}, right the text"
        table.notes.append(Note(UNTOLD, note, strange))
    return table
