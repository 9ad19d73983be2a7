"""A limit's formula in words."""

from sweepbook.limits.model import Segment
from sweepbook.limits.shape_model import (
    Amount,
    Constant,
    DifferenceOf,
    GreaterOf,
    LogLine,
    Part,
    Shape,
    Sum,
    Term,
    Unknown,
    VoltageSum,
)

_POWERS = {0.5: " sqrt(f)", -0.5: "/sqrt(f)", 0.0: "", 1.0: " f"}


def formula(shape: Shape, unit: str) -> str:
    """Write a shape as a person would, with f for the frequency in MHz.

    Args:
        shape: the formula as data.
        unit: of a constant.
    """
    match shape:
        case Constant(value=value):
            return f"{value:g} {unit}"
        case LogLine():
            return _line(shape)
        case Sum(parts=parts):
            return _joined([_part(part) for part in parts])
        case VoltageSum(lines=lines):
            terms = [f"{_times(x.weight)}10^(-({_line(x.line)})/20)" for x in lines]
            return f"-20 log10({' + '.join(terms)})"
        case DifferenceOf(minuend=minuend, subtrahend=subtrahend):
            return f"limit of {minuend} - limit of {subtrahend}"
        case Unknown():
            return "too doubtful to judge by"
        case GreaterOf(of=amounts):
            return f"{' or '.join(_amount(a) for a in amounts)}, whichever is greater"


def parts_in_words(shape: Shape) -> str:
    """What the parts of a sum or the lines of a voltage sum stand for; "" for other shapes."""
    match shape:
        case Sum(parts=parts):
            return "; ".join(f"{_times(part.times)}{part.what}" for part in parts)
        case VoltageSum(lines=lines):
            return "; ".join(f"{_times(line.weight)}{line.what}" for line in lines)
        case _:
            return ""


def frequencies(segment: Segment) -> str:
    """The range of a segment, or "" for a figure without frequency."""
    if segment.from_mhz is None or segment.to_mhz is None:
        return ""
    if segment.from_mhz == segment.to_mhz:
        return f"{segment.from_mhz:g} MHz"
    return f"{segment.from_mhz:g} to {segment.to_mhz:g} MHz"


def known(segment: Segment, unit: str) -> str:
    """The grade of a segment, with its interval where it has one."""
    if segment.interval is None:
        return f"grade {segment.grade}"
    low, high = segment.interval.low, segment.interval.high
    return f"grade {segment.grade}, off by {low:+g} to {high:+g} {unit} at most"


def _part(part: Part) -> str:
    terms = _joined([_term(term) for term in part.terms])
    if part.times == 1.0:
        return terms
    return f"{part.times:g} x {terms}" if len(part.terms) == 1 else f"{part.times:g} x ({terms})"


def _term(term: Term) -> str:
    power = _POWERS.get(term.p, f" f^{term.p:g}")
    if term.c == 1.0 and power.startswith(" "):
        return power[1:]
    return f"{term.c:g}{power}"


def _line(line: LogLine) -> str:
    sign = "-" if line.b < 0 else "+"
    over = "f" if line.f0_mhz == 1.0 else f"f/{line.f0_mhz:g}"
    return f"{line.a:g} {sign} {abs(line.b):g} log10({over})"


def _joined(terms: list[str]) -> str:
    return " + ".join(terms).replace("+ -", "- ")


def _times(weight: float) -> str:
    return "" if weight == 1.0 else f"{weight:g} x "


def _amount(amount: Amount) -> str:
    return f"{amount.value:g} {amount.unit}"
