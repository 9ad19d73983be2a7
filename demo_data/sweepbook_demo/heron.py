"""Writer of the invented Brindlewick Heron 5's export: one link a file, one column a curve."""

import csv
import io

import numpy as np

from sweepbook_demo.curves import Curve
from sweepbook_demo.instrument import RANGE_DB
from sweepbook_demo.sheet import SCALAR_DECIMALS, Sheet

_WORDS = {
    "insertion_loss": "IL",
    "return_loss": "RL",
    "next": "NEXT",
    "psnext": "PSNEXT",
    "acr_n": "ACR-N",
    "psacr_n": "PSACR-N",
    "fext": "FEXT",
    "acr_f": "ACR-F",
    "psacr_f": "PSACR-F",
    "propagation_delay": "delay",
    "delay_skew": "skew",
    "length": "length",
    "dc_loop_resistance": "loop",
    "dc_resistance_unbalance_within_pair": "unbalance",
    "dc_resistance_unbalance_between_pairs": "unbalance",
}
_UNITS = {"delay": "ns", "skew": "ns", "length": "m", "loop": "ohm", "unbalance": "%"}
_ENDS = {"near": " A", "far": " B", "": ""}
_VERDICTS = {"pass": "PASS", "pass*": "PASS*", "fail*": "FAIL*", "fail": "FAIL"}
_ORDERED = frozenset({"fext", "acr_f", "acr_n"})

_FACTS = {
    "site": "site", "building": "building", "floor": "floor", "label": "link",
    "near_space": "end A space", "near_cabinet": "end A cabinet", "near_panel": "end A panel",
    "near_port": "end A port", "near_end": "end A termination",
    "near_jack_maker": "end A connector maker", "near_jack_part": "end A connector part",
    "near_jack_category": "end A connector category",
    "far_space": "end B space", "far_end": "end B termination",
    "far_jack_maker": "end B connector maker", "far_jack_part": "end B connector part",
    "far_jack_category": "end B connector category",
    "cable_maker": "cable maker", "cable_part": "cable part", "cable_reel": "cable reel",
    "cable_category": "cable category", "cable_construction": "cable construction",
    "cable_conductor": "cable conductor", "cable_nvp": "cable NVP",
    "limit": "limit", "configuration": "configuration", "purpose": "purpose",
    "started": "started", "ended": "ended", "operator": "operator", "ambient_c": "ambient C",
    "near_serial": "unit A serial", "near_firmware": "unit A firmware",
    "near_level": "unit A accuracy level", "near_calibrated": "unit A calibrated on",
    "near_due": "unit A calibration due",
    "far_serial": "unit B serial", "far_firmware": "unit B firmware",
    "far_level": "unit B accuracy level", "far_calibrated": "unit B calibrated on",
    "far_due": "unit B calibration due",
    "near_adaptor_part": "adaptor A part", "near_adaptor_serial": "adaptor A serial",
    "near_adaptor_category": "adaptor A category",
    "far_adaptor_part": "adaptor B part", "far_adaptor_serial": "adaptor B serial",
    "far_adaptor_category": "adaptor B category",
    "reference_at": "field reference at",
    "reference_near_unit": "field reference unit A", "reference_far_unit": "field reference unit B",
    "reference_near_adaptor": "field reference adaptor A",
    "reference_far_adaptor": "field reference adaptor B",
    "accuracy_insertion_loss": "accuracy IL dB", "accuracy_return_loss": "accuracy RL dB",
    "accuracy_next": "accuracy NEXT dB", "accuracy_fext": "accuracy FEXT dB",
    "wire_map": "wire map", "wire_map_verdict": "wire map verdict", "screen": "screen",
}  # fmt: skip


def write(sheet: Sheet) -> bytes:
    """The export of one link, as UTF-8 text."""
    text = io.StringIO()
    out = csv.writer(text, lineterminator="\n")
    out.writerow(["Heron sweep report", "4"])
    out.writerow(["maker", "Brindlewick"])
    out.writerow(["model", "Heron 5"])
    out.writerows([key, sheet.facts.get(name, "")] for name, key in _FACTS.items())
    out.writerows(_scalar_lines(sheet))
    out.writerows(_stated_lines(sheet))
    text.write("\n")
    curves = list(sheet.curves)
    out.writerow(["MHz", *(_name(curve) for curve in curves)])
    columns = [[f"{khz / 1000:.2f}" for khz in sheet.frequency_khz]]
    columns += [_column(sheet, curve) for curve in curves]
    out.writerows(zip(*columns, strict=True))
    return text.getvalue().encode("utf-8")


def _name(curve: Curve) -> str:
    mark = ">" if curve.parameter in _ORDERED else "/"
    return f"{_WORDS[curve.parameter]}{_ENDS[curve.end]} {mark.join(curve.pairs)}"


def _column(sheet: Sheet, curve: Curve) -> list[str]:
    clipped = curve.parameter in ("next", "fext")
    texts = []
    for value in np.asarray(sheet.curves[curve]):
        if np.isnan(value):
            texts.append("--")
        elif clipped and value >= RANGE_DB:
            texts.append(f">{RANGE_DB:.{sheet.decimals}f}")
        else:
            texts.append(f"{value:.{sheet.decimals}f}")
    return texts


def _scalar_lines(sheet: Sheet) -> list[list[str]]:
    lines = []
    for scalar, value in sheet.scalars.items():
        word = _WORDS[scalar.parameter]
        key = f"{word} {_UNITS[word]} {'/'.join(scalar.pairs)}"
        lines.append([key, f"{value:.{SCALAR_DECIMALS[scalar.parameter]}f}"])
    return lines


def _stated_lines(sheet: Sheet) -> list[list[str]]:
    """Verdicts, then the worst margin of every parameter."""
    lines = [["verdict", _VERDICTS[sheet.stated.verdict]]]
    for parameter, item in sheet.stated.items.items():
        lines.append([f"verdict {_WORDS[parameter]}", _VERDICTS[item.verdict]])
    for parameter, item in sheet.stated.items.items():
        word, worst = _WORDS[parameter], item.worst
        if word in _UNITS:
            digits = SCALAR_DECIMALS[parameter]
            key = f"margin {_UNITS[word]} {word} {worst.curve.pairs[0]}"
            lines.append([key, f"{worst.margin:.{digits}f}"])
            continue
        name = _name(worst.curve)
        lines.append([f"margin dB {name}", f"{worst.margin:.{sheet.decimals}f}"])
        if worst.frequency_khz is not None:
            lines.append([f"margin MHz {name}", f"{worst.frequency_khz / 1000:.2f}"])
    return lines
