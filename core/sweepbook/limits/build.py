"""Immutable values out of a limit file that follows the schema."""

from types import MappingProxyType
from typing import Any

from sweepbook.limits.ends import build_ends
from sweepbook.limits.model import (
    Interval,
    LimitTable,
    Names,
    NotUsable,
    ParameterLimit,
    RelaxedWhen,
    Rounding,
    Segment,
    StepRange,
    Tightened,
    WireMap,
)
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
    Weighted,
)


def build(document: dict[str, Any], sha256: str) -> LimitTable:
    """Make the table.

    Args:
        document: follows the schema and makes sense.
        sha256: digest of the file it came from.
    """
    parameters = {word: _parameter(word, member) for word, member in document["parameters"].items()}
    doubtful = [entry for entry in document["not_usable"] if "obligation" in entry]
    parameters |= {entry["parameter"]: _without_value(entry) for entry in doubtful}
    steps = document["steps"]
    return LimitTable(
        path=document["path"],
        document=document["document"],
        edition=document["edition"],
        series=document.get("series", document["document"]),
        based_on=document.get("based_on", ""),
        published_year=document["published_year"],
        family=document["family"],
        title=document["title"],
        class_or_category=document["class_or_category"],
        configuration=document["configuration"],
        configuration_note=document.get("configuration_note", ""),
        consolidation_point=document.get("consolidation_point"),
        environment=document.get("environment"),
        longest_length_m=document["longest_length_m"],
        connections=document["connections"],
        ends=build_ends(document["ends"]) if "ends" in document else None,
        variants=tuple(document.get("variants", ())),
        names=Names(**{group: tuple(words) for group, words in document["names"].items()}),
        parameters=MappingProxyType(parameters),
        wire_map=_wire_map(document["wire_map"]),
        steps=tuple(StepRange(**part) for part in steps["ranges"]),
        steps_grade=steps["grade"],
        steps_source=steps["source"],
        not_usable=tuple(not_usable(entry) for entry in document["not_usable"]),
        sources=MappingProxyType(dict(document["sources"])),
        notes=tuple(document["notes"]),
        sha256=sha256,
    )


def not_usable(entry: dict[str, Any]) -> NotUsable:
    """One limit too doubtful to judge by."""
    return NotUsable(entry["parameter"], entry["grade"], entry["recalled"], entry["missing"])


def _without_value(entry: dict[str, Any]) -> ParameterLimit:
    """A limit that the document asks for and nobody here knows well enough."""
    shape = Unknown(entry["recalled"], entry["missing"])
    segment = Segment(entry["from_mhz"], entry["to_mhz"], shape, "D", None, "memory", (), "")
    return ParameterLimit(
        parameter=entry["parameter"],
        title=entry["title"],
        obligation=entry["obligation"],
        required_when=None,
        obtained=entry["obtained"],
        sense=entry["sense"],
        unit=entry["unit"],
        decides="each",
        segments=(segment,),
        cap=None,
        floor=None,
        rounding=None,
        tightened=None,
        allowance_percent=0.0,
        relaxed_when=None,
        clause="",
        notes=entry["missing"],
    )


def _wire_map(member: dict[str, Any]) -> WireMap:
    return WireMap(
        obligation=member["obligation"],
        expected=MappingProxyType(dict(member["expected"])),
        screen_obligation=member["screen"]["obligation"],
        screen_required_when=member["screen"]["required_when"],
        grade=member["grade"],
        source=member["source"],
    )


def _parameter(word: str, member: dict[str, Any]) -> ParameterLimit:
    rounding = member.get("rounding")
    relaxed = member.get("relaxed_when")
    tightened = member.get("tightened")
    return ParameterLimit(
        parameter=word,
        title=member["title"],
        obligation=member["obligation"],
        required_when=member.get("required_when"),
        obtained=member["obtained"],
        sense=member["sense"],
        unit=member["unit"],
        decides=member["decides"],
        segments=tuple(_segment(segment) for segment in member["segments"]),
        cap=member.get("cap"),
        floor=member.get("floor"),
        rounding=Rounding(**rounding) if rounding else None,
        tightened=Tightened(**tightened) if tightened else None,
        allowance_percent=member.get("allowance_percent", 0.0),
        relaxed_when=_relaxed(relaxed) if relaxed else None,
        clause=member.get("clause", ""),
        notes=member.get("notes", ""),
    )


def _segment(member: dict[str, Any]) -> Segment:
    interval = member.get("interval")
    return Segment(
        from_mhz=member.get("from_mhz"),
        to_mhz=member.get("to_mhz"),
        shape=build_shape(member["shape"]),
        grade=member["grade"],
        interval=Interval(*interval) if interval else None,
        source=member["source"],
        support=tuple(member.get("support", ())),
        note=member.get("note", ""),
    )


def _relaxed(member: dict[str, Any]) -> RelaxedWhen:
    return RelaxedWhen(**{"note": "", **member, "amount": build_shape(member["amount"])})


def build_shape(member: dict[str, Any]) -> Shape:
    """Make a shape out of one that follows the schema."""
    match member["kind"]:
        case "sum":
            return Sum(tuple(_part(part) for part in member["parts"]))
        case "log_line":
            return _line(member)
        case "voltage_sum":
            lines = member["lines"]
            return VoltageSum(tuple(Weighted(x["what"], x["weight"], _line(x)) for x in lines))
        case "constant":
            return Constant(member["value"])
        case "difference_of":
            return DifferenceOf(member["minuend"], member["subtrahend"])
        case _:
            return GreaterOf(tuple(Amount(**amount) for amount in member["of"]))


def _part(member: dict[str, Any]) -> Part:
    terms = tuple(Term(term["c"], term["p"]) for term in member["terms"])
    return Part(member["what"], member["times"], terms)


def _line(member: dict[str, Any]) -> LogLine:
    return LogLine(member["a"], member["b"], member["f0_mhz"])
