"""Everything of an Erruk test but its curves: places, gear, single figures, verdicts."""

from collections.abc import Iterator
from xml.sax.saxutils import escape, quoteattr

from sweepbook_demo.curves import Curve
from sweepbook_demo.erruk_words import PAIR_NUMBERS, QUANTITIES, SIDES, UNITS, VERDICTS
from sweepbook_demo.facts import ACCURACY
from sweepbook_demo.sheet import SCALAR_DECIMALS, Sheet

_ENDS = (("near", "head"), ("far", "tail"))
_PLACES = ("floor", "space", "cabinet", "panel", "port")


def attributes(**named: str) -> str:
    """Attributes with a blank before each, underscores as hyphens; empty ones are left out."""
    return "".join(
        f" {name.replace('_', '-')}={quoteattr(value)}" for name, value in named.items() if value
    )


def pairs_of(curve: Curve) -> dict[str, str]:
    """The pair (the receiving one of two), and of two pairs the one it came from."""
    numbers = [PAIR_NUMBERS[pair] for pair in curve.pairs]
    return {"from": numbers[0] if len(numbers) == 2 else "", "pair": numbers[-1]}


def header(sheet: Sheet) -> Iterator[str]:
    """Lines of an entry before its curves."""
    for end, side in _ENDS:
        yield from _terminal(sheet, end, side)
    yield from _what_and_when(sheet)
    for end, side in _ENDS:
        yield from _handset(sheet, end, side)
    yield from _zeroing(sheet)
    for name, decibels in ACCURACY.items():
        yield f"  <trust{attributes(of=QUANTITIES[name], dB=f'{decibels:.1f}')}/>"
    wires, screen = sheet.facts["wire_map"], sheet.facts["screen"]
    yield f"  <wires{attributes(screen=screen)}>{wires}</wires>"
    yield from _figures(sheet)
    yield from _stated(sheet)


def _terminal(sheet: Sheet, end: str, side: str) -> Iterator[str]:
    facts = sheet.facts
    yield f"  <terminal{attributes(end=side, name=facts[f'{end}_end'])}>"
    held = {name: facts.get(f"{end}_{name}", "") for name in _PLACES} | {"floor": facts["floor"]}
    cells = (f"<{name}>{escape(text)}</{name}>" for name, text in held.items() if text)
    yield f"   {''.join(cells)}"
    jack = {name: facts[f"{end}_jack_{name}"] for name in ("maker", "part", "category")}
    yield f"   <jack{attributes(**jack)}/>"
    yield "  </terminal>"


def _what_and_when(sheet: Sheet) -> Iterator[str]:
    facts = sheet.facts
    cable = {
        word: facts[f"cable_{name}"]
        for word, name in (
            ("maker", "maker"),
            ("part", "part"),
            ("reel", "reel"),
            ("category", "category"),
            ("build", "construction"),
            ("wire", "conductor"),
        )
    }
    yield f"  <cable{attributes(**cable)}><nvp>{facts['cable_nvp']}</nvp></cable>"
    configuration = attributes(**{"as": facts["configuration"]})
    yield f"  <asked{configuration}>{escape(facts['limit'])}</asked>"
    yield f"  <when><begun>{facts['started']}</begun><done>{facts['ended']}</done></when>"
    yield f"  <who>{facts['operator']}</who>"
    yield f"  <air>{facts['ambient_c']}</air>"
    if "note" in facts:
        yield f"  <note>{escape(facts['note'])}</note>"


def _handset(sheet: Sheet, end: str, side: str) -> Iterator[str]:
    facts = sheet.facts
    unit = attributes(
        end=side,
        serial=facts[f"{end}_serial"],
        program=facts[f"{end}_firmware"],
        grade=facts[f"{end}_level"],
        checked=facts[f"{end}_calibrated"],
        check_before=facts[f"{end}_due"],
        charge=facts[f"{end}_charge"],
    )
    yield f"  <g:handset{unit}>"
    probe = {name: facts[f"{end}_adaptor_{name}"] for name in ("part", "serial", "category")}
    yield f"   <g:probe{attributes(**probe)}/>"
    yield "  </g:handset>"


def _zeroing(sheet: Sheet) -> Iterator[str]:
    facts = sheet.facts
    yield f"  <g:zeroing{attributes(at=facts['reference_at'])}>"
    for end, side in _ENDS:
        serial, probe = facts[f"reference_{end}_unit"], facts[f"reference_{end}_adaptor"]
        yield f"   <g:of{attributes(end=side, serial=serial, probe=probe)}/>"
    yield "  </g:zeroing>"


def _figures(sheet: Sheet) -> Iterator[str]:
    for scalar, value in sheet.scalars.items():
        if scalar.parameter == "propagation_delay":
            continue
        word = QUANTITIES[scalar.parameter]
        named = attributes(of=word, **pairs_of(scalar), unit=UNITS[word])
        yield f"  <figure{named}>{value:.{SCALAR_DECIMALS[scalar.parameter]}f}</figure>"


def _stated(sheet: Sheet) -> Iterator[str]:
    yield f"  <verdict>{VERDICTS[sheet.stated.verdict]}</verdict>"
    for parameter, item in sheet.stated.items.items():
        word, worst = QUANTITIES[parameter], item.worst
        place = attributes(
            end=SIDES[worst.curve.end],
            **pairs_of(worst.curve),
            hz="" if worst.frequency_khz is None else f"{worst.frequency_khz}000",
            unit=UNITS.get(word, "dB"),
        )
        margin = f"{worst.margin:.{SCALAR_DECIMALS.get(parameter, sheet.decimals)}f}"
        verdict = attributes(of=word, verdict=VERDICTS[item.verdict])
        yield f"  <item{verdict}><reserve{place}>{margin}</reserve></item>"
