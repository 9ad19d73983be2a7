"""One test element to the texts of one test."""

from collections.abc import Iterator

from sweepbook.dialect.raw import Fault, Name, RawTest
from sweepbook.source import Source
from sweepbook_plugins.xml import curves as xml_curves
from sweepbook_plugins.xml.axes import axes
from sweepbook_plugins.xml.found import Axis, Found
from sweepbook_plugins.xml.plan import Plan
from sweepbook_plugins.xml.stream import Stream, TestAt
from sweepbook_plugins.xml.too_high import too_high
from sweepbook_plugins.xml.tree import Match, last_line, text_at
from sweepbook_plugins.xml.walk import Walk
from sweepbook_plugins.xml.wires import gather


def tests(source: Source, plan: Plan) -> Iterator[RawTest | Fault]:
    """The tests of a file as texts, and notes about the file as a whole."""
    stream = Stream(source, plan)
    for item in stream.tests():
        if isinstance(item, Fault):
            yield RawTest("", faults=[item])
        else:
            yield _test(item, plan)
    yield from stream.notes


def _test(at: TestAt, plan: Plan) -> RawTest:
    """All of one test."""
    found = Found()
    chosen = frozenset(("@", of.name) for of in plan.layout.test.steps[-1].conditions)
    try:
        walk = Walk(plan, at.where, found, at.early)
        walk.element(at.element, Match((plan.inside,), chosen, ""))
    except Fault as fault:
        found.faults.append(fault)
    if cause := too_high(at.element, plan, found):
        found.notes.append(cause)
    notation = plan.meaning.numbers.notation
    known: dict[str | Name, Axis] = {}
    for around in (*at.around, found):
        known |= axes(around, notation)
    curves = xml_curves.curves(found, known, notation, plan.layout.names)
    for each in (found, *at.around):
        gather(each, plan.meaning)
    properties = dict(found.properties)
    extra = {key: "\n".join(texts) for key, texts in found.left.items()}
    for around in at.around:
        properties |= around.properties
        extra |= {key: "\n".join(texts) for key, texts in around.left.items()}
        found.faults += around.faults
        found.notes += around.notes
    return RawTest(
        locator=_locator(at, plan),
        properties=properties,
        curves=curves,
        figures=found.figures,
        extra=extra,
        faults=found.faults,
        notes=found.notes,
    )


def _locator(at: TestAt, plan: Plan) -> str:
    """Where a test stands: "entry 3, lines 1200-2400"."""
    number = plan.layout.number and text_at(at.element, plan.layout.number)
    local = str(at.element.tag).rpartition("}")[2]
    first, last = at.element.sourceline or 0, last_line(at.element)
    return f"{local} {(number or str(at.number)).strip()}, lines {first}-{last}"
