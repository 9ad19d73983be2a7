"""Writer of the invented Thrennoby Erruk 3's export: XML, several tests a file."""

from collections.abc import Iterator, Sequence
from xml.sax.saxutils import escape

from sweepbook_demo.curves import Curve
from sweepbook_demo.erruk_entry import attributes, header, pairs_of
from sweepbook_demo.erruk_words import QUANTITIES, SIDES
from sweepbook_demo.grid import runs_khz
from sweepbook_demo.instrument import RANGE_DB
from sweepbook_demo.sheet import Sheet

_NEGATIVE = frozenset({"return_loss", "next", "fext"})
_VALUES_A_LINE = 16

_TOP = """\
<?xml version="1.0" encoding="UTF-8"?>
<!-- Erruk 3, program 3.0.4 -->
<roll xmlns="urn:thrennoby:roll:2" xmlns:g="urn:thrennoby:gear:2" \
xmlns:tr="urn:thrennoby:trace:2" issue="2">
 <made by="Thrennoby" instrument="Erruk 3"/>
"""


def write(sheets: Sequence[Sheet], *, points: bool = False) -> bytes:
    """The export of several tests, as UTF-8 text; site and building are taken from the first.

    Args:
        sheets: the tests.
        points: write one element a point; else lists of values over axes that the tests share.
    """
    place = sheets[0].facts
    lines = [f' <site building="{place["building"]}">{escape(place["site"])}</site>']
    if not points:
        for name in sorted({_axis(sheet) for sheet in sheets}, reverse=True):
            lines += _axis_lines(next(sheet for sheet in sheets if _axis(sheet) == name))
    for number, sheet in enumerate(sheets, start=1):
        facts = sheet.facts
        head = attributes(no=str(number), label=facts["label"], reason=facts["purpose"])
        lines += [f" <entry{head}>", *header(sheet)]
        for curve in sheet.curves:
            lines += _point_lines(sheet, curve) if points else _list_lines(sheet, curve)
        lines.append(" </entry>")
    return (_TOP + "".join(f"{line}\n" for line in lines) + "</roll>\n").encode()


def _axis(sheet: Sheet) -> str:
    return f"f{sheet.frequency_khz[-1] // 1000}"


def _axis_lines(sheet: Sheet) -> Iterator[str]:
    yield f' <tr:axis id="{_axis(sheet)}">'
    for start, step, count in runs_khz(int(sheet.frequency_khz[-1])):
        yield f'  <tr:run start="{start}000" step="{step}000" count="{count}"/>'
    yield " </tr:axis>"


def _trace(curve: Curve, axis: str = "") -> str:
    word = QUANTITIES[curve.parameter]
    return attributes(of=word, end=SIDES[curve.end], **pairs_of(curve), axis=axis)


def _list_lines(sheet: Sheet, curve: Curve) -> Iterator[str]:
    texts = _texts(sheet, curve)
    yield f"  <tr:trace{_trace(curve, _axis(sheet))}>"
    for first in range(0, len(texts), _VALUES_A_LINE):
        yield " ".join(texts[first : first + _VALUES_A_LINE])
    yield "  </tr:trace>"


def _point_lines(sheet: Sheet, curve: Curve) -> Iterator[str]:
    yield f"  <tr:trace{_trace(curve)}>"
    for khz, text in zip(sheet.frequency_khz, _texts(sheet, curve), strict=True):
        yield f'<tr:p hz="{khz}000">{text}</tr:p>'
    yield "  </tr:trace>"


def _texts(sheet: Sheet, curve: Curve) -> list[str]:
    """What is printed at every frequency: attenuation and delay positive, the rest negative."""
    values = sheet.curves[curve]
    if curve.parameter == "propagation_delay":
        return [f"{value:.1f}" for value in values]
    if curve.parameter not in _NEGATIVE:
        return [f"{value:.{sheet.decimals}f}" for value in values]
    beyond = f"&lt;-{RANGE_DB:.{sheet.decimals}f}"
    clipped = curve.parameter != "return_loss"
    return [
        beyond if clipped and value >= RANGE_DB else f"{-value:.{sheet.decimals}f}"
        for value in values
    ]
