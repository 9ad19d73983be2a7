"""Writer of the invented Osquary Tolk's export: several tests a file, one row a point."""

from collections.abc import Mapping, Sequence

from sweepbook_demo.curves import Curve
from sweepbook_demo.instrument import RANGE_DB
from sweepbook_demo.sheet import SCALAR_DECIMALS, Sheet

_QUANTITIES = {
    "insertion_loss": "damping",
    "return_loss": "echo",
    "next": "near talk",
    "psnext": "sum near talk",
    "acr_n": "near ratio",
    "psacr_n": "sum near ratio",
    "fext": "far talk",
    "acr_f": "far ratio",
    "psacr_f": "sum far ratio",
    "propagation_delay": "run time",
    "delay_skew": "spread",
    "length": "length",
    "dc_loop_resistance": "loop",
    "dc_resistance_unbalance_within_pair": "imbalance",
    "dc_resistance_unbalance_between_pairs": "imbalance",
}
_VERDICTS = {"pass": "OK", "pass*": "OK*", "fail*": "NOT OK*", "fail": "NOT OK"}
_RECEIVING = {"near": "base", "far": "probe", "": ""}
_DRIVING = {"near": "probe", "far": "base", "": ""}
_NAMED_BY_DRIVER = frozenset({"fext", "acr_f", "psacr_f"})

_FILE_FACTS = {
    "site": "site", "building": "building",
    "near_serial": "base serial", "near_firmware": "base software", "near_level": "base grade",
    "near_calibrated": "base last adjusted", "near_due": "base adjust before",
    "far_serial": "probe serial", "far_firmware": "probe software", "far_level": "probe grade",
    "far_calibrated": "probe last adjusted", "far_due": "probe adjust before",
    "near_adaptor_part": "base head part", "near_adaptor_serial": "base head serial",
    "near_adaptor_category": "base head category",
    "far_adaptor_part": "probe head part", "far_adaptor_serial": "probe head serial",
    "far_adaptor_category": "probe head category",
    "reference_at": "zeroed", "reference_near_unit": "zeroed base",
    "reference_far_unit": "zeroed probe", "reference_near_adaptor": "zeroed base head",
    "reference_far_adaptor": "zeroed probe head",
}  # fmt: skip
_TEST_FACTS = {
    "label": "link", "floor": "floor", "near_space": "base space", "near_cabinet": "base cabinet",
    "near_panel": "base panel", "near_port": "base port", "near_end": "base end",
    "far_space": "probe space", "far_end": "probe end",
    "near_jack_maker": "base jack maker", "near_jack_part": "base jack part",
    "near_jack_category": "base jack category",
    "far_jack_maker": "probe jack maker", "far_jack_part": "probe jack part",
    "far_jack_category": "probe jack category",
    "cable_maker": "cable maker", "cable_part": "cable part", "cable_reel": "cable reel",
    "cable_category": "cable category", "cable_construction": "cable build",
    "cable_conductor": "cable wire", "cable_nvp": "speed factor",
    "limit": "judged by", "configuration": "set-up", "purpose": "reason",
    "started": "begun", "ended": "done", "operator": "who", "ambient_c": "air",
    "wire_map": "wires", "wire_map_verdict": "wires verdict", "screen": "shield",
}  # fmt: skip
_NUMBERS = frozenset({"cable_nvp", "ambient_c"})


def write(sheets: Sequence[Sheet]) -> bytes:
    """The export of several tests; what holds for the file is taken from the first."""
    lines = ["TOLK SURVEY;7", "maker;Osquary", "model;Tolk"]
    lines += [f"{key};{sheets[0].facts.get(name, '')}" for name, key in _FILE_FACTS.items()]
    lines.append("test;what;pair;side;kHz;reading;text")
    for number, sheet in enumerate(sheets, start=1):
        lines += [f"{number};{row}" for row in _rows(sheet)]
    return "".join(f"{line}\n" for line in lines).encode("utf-8")


def _rows(sheet: Sheet) -> list[str]:
    return [
        *_fact_rows(sheet.facts),
        *_scalar_rows(sheet),
        *_stated_rows(sheet),
        *(row for curve in sheet.curves for row in _point_rows(sheet, curve)),
    ]


def _fact_rows(facts: Mapping[str, str]) -> list[str]:
    rows = []
    for name, key in _TEST_FACTS.items():
        value = facts.get(name, "")
        filled = f"{value.replace('.', ',')};" if name in _NUMBERS else f";{value}"
        rows.append(f"{key};;;;{filled}")
    return rows


def _place(curve: Curve) -> str:
    """The cells pair and side of a curve."""
    sides = _DRIVING if curve.parameter in _NAMED_BY_DRIVER else _RECEIVING
    contacts = "/".join(pair.replace("-", "") for pair in curve.pairs)
    return f"{contacts};{sides[curve.end]}"


def _comma(value: float, decimals: int) -> str:
    return f"{value:.{decimals}f}".replace(".", ",")


def _scalar_rows(sheet: Sheet) -> list[str]:
    rows = []
    for scalar, value in sheet.scalars.items():
        if scalar.parameter == "propagation_delay":
            continue
        reading = _comma(value, SCALAR_DECIMALS[scalar.parameter])
        rows.append(f"{_QUANTITIES[scalar.parameter]};{_place(scalar)};;{reading};")
    return rows


def _stated_rows(sheet: Sheet) -> list[str]:
    rows = [f"verdict;;;;;{_VERDICTS[sheet.stated.verdict]}"]
    for parameter, item in sheet.stated.items.items():
        rows.append(f"verdict {_QUANTITIES[parameter]};;;;;{_VERDICTS[item.verdict]}")
        worst = item.worst
        khz = "" if worst.frequency_khz is None else str(worst.frequency_khz)
        margin = _comma(worst.margin, SCALAR_DECIMALS.get(parameter, sheet.decimals))
        rows.append(f"reserve {_QUANTITIES[parameter]};{_place(worst.curve)};{khz};{margin};")
    return rows


def _point_rows(sheet: Sheet, curve: Curve) -> list[str]:
    head = f"{_QUANTITIES[curve.parameter]};{_place(curve)}"
    delay = curve.parameter == "propagation_delay"
    clipped = curve.parameter in ("next", "fext")
    rows = []
    for khz, value in zip(sheet.frequency_khz, sheet.curves[curve], strict=True):
        if delay:
            reading = _comma(value, 1)
        elif clipped and value >= RANGE_DB:
            reading = f"<-{_comma(RANGE_DB, sheet.decimals)}"
        else:
            reading = _comma(-value, sheet.decimals)
        rows.append(f"{head};{khz};{reading};")
    return rows
