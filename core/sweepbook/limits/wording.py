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

_F = "f"


def formula(shape: Shape, unit: str, f: str = _F) -> str:
    """Write a shape as a person would, with f for the frequency in MHz.

    Args:
        shape: the formula as data.
        unit: of a constant.
        f: what stands for the frequency: a letter, or a number that is put in for it.
    """
    match shape:
        case Constant(value=value):
            return f"{value:g} {unit}"
        case LogLine():
            return _line(shape, f)
        case Sum(parts=parts):
            return _joined([_part(part, f) for part in parts])
        case VoltageSum(lines=lines):
            terms = [f"{_times(x.weight)}10^(-({_line(x.line, f)})/20)" for x in lines]
            times = " " if f == _F else " x "
            return f"-20{times}log10({' + '.join(terms)})"
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


def _part(part: Part, f: str) -> str:
    terms = _joined([_term(term, f) for term in part.terms])
    if part.times == 1.0:
        return terms
    return f"{part.times:g} x {terms}" if len(part.terms) == 1 else f"{part.times:g} x ({terms})"


def _term(term: Term, f: str) -> str:
    times = " " if f == _F else " x "
    match term.p:
        case 0.0:
            return f"{term.c:g}"
        case -0.5:
            return f"{term.c:g}/sqrt({f})"
        case 0.5:
            power = f"sqrt({f})"
        case 1.0:
            power = f
        case _:
            power = f"{f}^{term.p:g}"
    return power if term.c == 1.0 else f"{term.c:g}{times}{power}"


def _line(line: LogLine, f: str) -> str:
    sign = "-" if line.b < 0 else "+"
    over = f if line.f0_mhz == 1.0 else f"{f}/{line.f0_mhz:g}"
    times = " " if f == _F else " x "
    return f"{line.a:g} {sign} {abs(line.b):g}{times}log10({over})"


def _joined(terms: list[str]) -> str:
    return " + ".join(terms).replace("+ -", "- ")


def _times(weight: float) -> str:
    return "" if weight == 1.0 else f"{weight:g} x "


def _amount(amount: Amount) -> str:
    return f"{amount.value:g} {amount.unit}"
