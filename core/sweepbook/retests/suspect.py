"""Where the failing curves point: which end and which pairs, with a hint and no more than that.

That a fault seen from one end only lies near that end, and the like, is common practice, no
source: a sweep over frequency holds no distance, and none is made up here.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from sweepbook.judging import phrases
from sweepbook.judging.assessment import Margin, ScalarMargin
from sweepbook.judging.overview import failing, worst_margin

if TYPE_CHECKING:
    from sweepbook.judging.assessment import Assessment

REFLECTION = "return loss"
CROSSTALK = "near-end crosstalk"
FAR_CROSSTALK = "far-end crosstalk"
LOSS = "insertion loss"
FAMILIES = {
    "return_loss": REFLECTION,
    "next": CROSSTALK,
    "psnext": CROSSTALK,
    "acr_n": CROSSTALK,
    "psacr_n": CROSSTALK,
    "fext": FAR_CROSSTALK,
    "psfext": FAR_CROSSTALK,
    "acr_f": FAR_CROSSTALK,
    "psacr_f": FAR_CROSSTALK,
    "insertion_loss": LOSS,
}
_NEAREST = "nearest to its limit of all that is required"
_TOO = f", and it is {_NEAREST}"
_BY_END = (REFLECTION, CROSSTALK)
_ALL_PAIRS = 4
_OTHER = {
    "wire_map": "hint: open both terminations and put the wires named on their pins",
    "length": "hint: the route may be longer than planned, or the NVP set wrong",
    "propagation_delay": "hint: the route may be longer than planned",
    "delay_skew": "hint: pairs of one cable differ in length; other cable may be in the link",
    "dc_loop_resistance": "hint: a poor contact of this pair, or a cable too long or too thin",
}


@dataclass(frozen=True, slots=True)
class Suspect:
    """One thing that fails, or comes nearest to it, seen from one end where it has an end.

    Attributes:
        what: the family of parameters in words, such as "near-end crosstalk".
        end: "near", "far", or "" where what fails has no end.
        termination: name of the termination at that end as the record has it, or "".
        pairs: the pairs of the failing curves, the worst first; crosstalk as "1-2/3-6".
        frequency_mhz: where the worst of them is worst; None for a single figure.
        margin: of the worst of them, negative where it fails; None where it has none.
        unit: of the margin.
        hint: where somebody may look first, marked as a hint, or what sets the curve of a pass
            apart; "" where nothing points anywhere.
    """

    what: str
    end: str
    termination: str
    pairs: tuple[str, ...]
    frequency_mhz: float | None
    margin: float | None
    unit: str
    hint: str


def suspects(assessment: "Assessment") -> tuple[Suspect, ...]:
    """What the failing required curves and figures of one test point to, the worst first."""
    parts = failing([*assessment.margins, *assessment.scalars])
    groups: dict[tuple[str, str], list[Margin | ScalarMargin]] = {}
    for part in parts:
        groups.setdefault((_family(part), _end(part)), []).append(part)
    link = assessment.record.document.get("link", {})
    found = []
    for (what, end), group in groups.items():
        place = link.get(end, {}) if end else {}
        ends = {other for family, other in groups if family == what}
        pairs = tuple(dict.fromkeys(_pairs(part) for part in group if _pairs(part)))
        doubted = group[0].parameter in assessment.ends_in_doubt
        hint = _hint(group[0], what, ends, pairs, doubted=doubted)
        found.append(_suspect(group[0], what, end, place.get("termination", ""), pairs, hint))
    return tuple(found)


def nearest(assessment: "Assessment") -> tuple[Suspect, ...]:
    """What sets a marginal pass apart: the curve with the asterisk, and the nearest to its limit.

    Of curves that the tester gave an asterisk the nearest to its limit comes first. Nothing is
    told where no margin is known.
    """
    marked = [margin for margin in assessment.margins if _is_marked(margin, assessment)]
    curve, starred = worst_margin(assessment.margins), worst_margin(marked)
    found = []
    if starred is not None:
        hint = "the tester put its asterisk on it"
        found.append(_of_pass(starred, assessment, f"{hint}{_TOO if starred is curve else ''}"))
    if curve is not None and curve is not starred:
        found.append(_of_pass(curve, assessment, _NEAREST))
    return tuple(found)


def _is_marked(margin: Margin, assessment: "Assessment") -> bool:
    """Whether the verdict that was stated of a curve, or of several with it, has an asterisk."""
    stated: Sequence[Mapping[str, Any]]
    stated = assessment.record.document.get("stated", {}).get("items", ())
    return any(
        str(item.get("verdict", "")).endswith("*")
        and item.get("parameter") == margin.parameter
        and item.get("end") in (None, margin.end)
        and tuple(item.get("pairs", ())) in ((), margin.pairs)
        for item in stated
    )


def _of_pass(curve: Margin, assessment: "Assessment", hint: str) -> Suspect:
    end, what = curve.end or "", _family(curve)
    link = assessment.record.document.get("link", {})
    termination = (link.get(end, {}) if end else {}).get("termination", "")
    pairs = (_pairs(curve),) if _pairs(curve) else ()
    return _suspect(curve, what, end, termination, pairs, hint)


def words(suspect: Suspect) -> str:
    """One suspect in a line: what, where, how far off, and the hint."""
    return "; ".join(_words(suspect))


def _words(suspect: Suspect) -> Iterator[str]:
    end = f"{suspect.end} end" if suspect.end else ""
    if suspect.termination:
        end += f" ({suspect.termination})"
    pairs = f"pair{'s' if len(suspect.pairs) > 1 else ''} {', '.join(suspect.pairs)}"
    yield ", ".join(filter(None, (suspect.what, end, pairs if suspect.pairs else "")))
    if suspect.margin is not None and suspect.unit != "faults":
        unit = "%" if suspect.unit == "percent" else suspect.unit
        side = "worse" if suspect.margin < 0 else "better"
        off = f"{phrases.figure(abs(suspect.margin))} {unit} {side} than the limit"
        at = suspect.frequency_mhz
        yield off if at is None else f"{off} at {phrases.frequency(at)}"
    if suspect.hint:
        yield suspect.hint


def _suspect(
    worst: Margin | ScalarMargin,
    what: str,
    end: str,
    termination: str,
    pairs: tuple[str, ...],
    hint: str,
) -> Suspect:
    if isinstance(worst, Margin):
        margin, at = worst.worst_margin_db, worst.worst_margin_mhz
    else:
        margin, at = worst.margin, None
    return Suspect(what, end, termination, pairs, at, margin, worst.unit, hint)


def _family(part: Margin | ScalarMargin) -> str:
    return FAMILIES.get(part.parameter, phrases.name(part.parameter))


def _end(part: Margin | ScalarMargin) -> str:
    """The end from which the curve was measured, where that says where a fault may lie."""
    return (part.end or "") if isinstance(part, Margin) and _family(part) in _BY_END else ""


def _pairs(part: Margin | ScalarMargin) -> str:
    return "/".join(part.pairs) if isinstance(part, Margin) else part.pair or ""


def _hint(
    worst: Margin | ScalarMargin, what: str, ends: set[str], pairs: Sequence[str], *, doubted: bool
) -> str:
    """Where to look first; common practice, no source."""
    if isinstance(worst, ScalarMargin):
        said = worst.reason if worst.parameter == "wire_map" else ""
        return "; ".join(filter(None, (said, _OTHER.get(worst.parameter, ""))))
    if what in _BY_END:
        (end, *more) = sorted(ends)
        if more:
            return "hint: it fails from both ends, so look at both terminations and the cable"
        if doubted:
            return "hint: the two ends seem to be interchanged, so look at the terminations at both"
        return f"hint: it fails from this end only, so look at the termination at the {end} end"
    if what == LOSS:
        if len(pairs) == _ALL_PAIRS:
            return "hint: all pairs fail, which speaks for a link too long or the wrong cable"
        return "hint: not all pairs fail, which speaks for a poor contact of these"
    return _OTHER.get(worst.parameter, "")
