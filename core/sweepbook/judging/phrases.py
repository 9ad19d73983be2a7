"""Judgements in words: pair, end, frequency, value, limit and where the limit stands written."""

from collections.abc import Sequence

from sweepbook.judging.assessment import Margin, Outcome, ScalarMargin
from sweepbook.judging.working import Lack, LackKind
from sweepbook.shown import figure as figure

NAMES = {
    "insertion_loss": "insertion loss",
    "return_loss": "return loss",
    "next": "NEXT",
    "psnext": "PSNEXT",
    "acr_n": "ACR-N",
    "psacr_n": "PSACR-N",
    "fext": "FEXT",
    "psfext": "PSFEXT",
    "acr_f": "ACR-F",
    "psacr_f": "PSACR-F",
    "tcl": "TCL",
    "tctl": "TCTL",
    "eltctl": "ELTCTL",
    "dc_loop_resistance": "DC loop resistance",
    "dc_resistance_unbalance_within_pair": "DC resistance unbalance within the pair",
    "dc_resistance_unbalance_between_pairs": "DC resistance unbalance between pairs",
}

MADE_FROM = {
    "psnext": "NEXT",
    "acr_n": "NEXT and insertion loss",
    "psacr_n": "NEXT and insertion loss",
    "acr_f": "FEXT and insertion loss",
    "psacr_f": "FEXT and insertion loss",
    "delay_skew": "propagation delay",
}


def name(parameter: str) -> str:
    """A parameter in the trade's words."""
    return NAMES.get(parameter, parameter.replace("_", " "))


def subject(parameter: str, end: str | None, pairs: Sequence[str]) -> str:
    """What a curve is of: "NEXT 3-6 to 4-5 at the far end"."""
    words = [name(parameter)]
    if pairs:
        words.append(" to ".join(pairs))
    if end:
        words.append(f"at the {end} end")
    return " ".join(words)


def frequency(value_mhz: float) -> str:
    """A frequency in MHz without idle zeros: "243.5 MHz"."""
    return f"{value_mhz:.6f}".rstrip("0").rstrip(".") + " MHz"


def distance(margin: float, limit: float, unit: str) -> str:
    """A margin in words: "2.13 dB worse than the limit of 35.31 dB"."""
    if margin == 0.0:
        return f"exactly at the limit of {figure(limit)} {unit}"
    side = "better" if margin > 0.0 else "worse"
    return f"{figure(abs(margin))} {unit} {side} than the limit of {figure(limit)} {unit}"


def curve(margin: Margin, where: str = "") -> str:
    """One judged curve in words.

    Args:
        margin: with at least one evaluated point.
        where: clause or document of the limit, for the brackets at the end; "" for none.
    """
    what = subject(margin.parameter, margin.end, margin.pairs)
    if margin.worst_margin_db is None or margin.limit_at_worst_margin_db is None:
        return f"{what}: {margin.reason}"
    text = distance(margin.worst_margin_db, margin.limit_at_worst_margin_db, margin.unit)
    tail = f" ({where})" if where else ""
    return f"{what}: {text} at {frequency(margin.worst_margin_mhz or 0.0)}{tail}"


def scalar(margin: ScalarMargin, where: str = "") -> str:
    """One judged figure in words."""
    what = " ".join(filter(None, (name(margin.parameter), margin.pair)))
    said = "" if margin.unit == "faults" or margin.outcome is Outcome.UNDECIDED else margin.reason
    words = "; ".join(filter(None, (where, said)))
    tail = f" ({words})" if words else ""
    if margin.value is None or margin.limit is None or margin.margin is None:
        return f"{what}: {margin.reason}"
    if margin.unit == "faults":
        return f"{what}: {margin.reason or 'as it should be'}{tail}"
    unit = "%" if margin.unit == "percent" else margin.unit
    return f"{what}: {distance(margin.margin, margin.limit, unit)}{tail}"


def lack(fact: Lack) -> str:
    """What is missing, in words."""
    what = subject(fact.parameter, fact.end, fact.pairs)
    at, asked = fact.at_mhz, fact.asked_mhz
    match fact.kind:
        case LackKind.PARAMETER | LackKind.END | LackKind.PAIRS:
            source = MADE_FROM.get(fact.parameter)
            return f"{what} is missing" + (f", and {source} to make it from" if source else "")
        case LackKind.START if at is not None and asked is not None:
            return f"{what} starts at {frequency(at)}, the limit at {frequency(asked)}"
        case LackKind.STOP if at is not None and asked is not None:
            return f"{what} stops at {frequency(at)}, the limit at {frequency(asked)}"
        case LackKind.STEP if at is not None and asked is not None:
            step = frequency(fact.step_mhz or 0.0)
            return f"{what} steps {step} at {frequency(at)}, allowed are {frequency(asked)}"
        case LackKind.LOST if at is not None and asked is not None:
            step = frequency(fact.step_mhz or 0.0)
            return (
                f"{what} lacks readings above {frequency(at)}, where it steps {step} beside steps "
                f"of {frequency(asked)}, and may have failed there"
            )
        case _:
            return f"{what} has no point where the limit holds"


def listed(texts: Sequence[str], most: int = 2) -> str:
    """The first few texts and how many more there are."""
    more = len(texts) - most
    return "; ".join(texts[:most]) + (f"; and {more} more" if more > 0 else "")


def undecided(parts: Sequence[Margin | ScalarMargin]) -> list[str]:
    """Why each undecided part is so, in words."""
    texts = []
    for part in parts:
        if part.outcome is Outcome.UNDECIDED:
            if isinstance(part, Margin):
                what = subject(part.parameter, part.end, part.pairs)
            else:
                what = " ".join(filter(None, (name(part.parameter), part.pair)))
            texts.append(f"{what}: {part.reason}")
    return texts
