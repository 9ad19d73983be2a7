"""truth.json: what was planted, what should come out, and every margin as the model has it.

Margins are computed here from the printed figures, with the tester's own limits and arithmetic;
nothing of sweepbook takes part.
"""

import json
from collections.abc import Sequence
from typing import Any

from sweepbook_demo import expected
from sweepbook_demo.curves import derive
from sweepbook_demo.instrument import RANGE_DB
from sweepbook_demo.plan import PlannedLink
from sweepbook_demo.sheet import Sheet
from sweepbook_demo.tester import (
    Worst,
    delay_margins_at_10_mhz,
    margins,
    scalar_margins,
    worst_by_parameter,
)

_UNITS = {
    "length": "m",
    "delay_skew": "ns",
    "propagation_delay": "ns",
    "dc_loop_resistance": "ohm",
}
_ABOUT = {
    "what": "Planted things and true margins of the demo's tests, and what holding them against "
    "schedule.csv should say; written by the model. One entry a test: a link that was tested twice "
    "has two, told apart by file and purpose.",
    "margins": "Worst margin of every curve over the points that decide and were exported, from "
    "the printed figures; positive is good. A derived curve is computed from printed insertion "
    "loss and crosstalk, and left out where a part was not exported. Return loss does not "
    "decide where the pair's insertion loss is below 3.0 dB. Pairs of crosstalk are disturbing, "
    "disturbed; `end` is where it is received; far-end crosstalk of the near end "
    "follows by reciprocity.",
    "limits": "recalled, see limit_lines.py; a reading beyond the tester's range of "
    f"{RANGE_DB:.0f} dB counts as {RANGE_DB:.0f} dB",
}


def true_margins(sheet: Sheet) -> list[Worst]:
    """Margins of every measured and every derivable curve, and of the scalars."""
    measured = {
        curve: values
        for curve, values in sheet.curves.items()
        if curve.parameter not in ("psnext", "acr_f", "psacr_f", "acr_n", "psacr_n")
    }
    whole = measured | derive(measured, with_acr_n=sheet.limit.family == "iso")
    found = margins(sheet.limit, sheet.frequency_khz, whole)
    if not any(worst.curve.parameter == "propagation_delay" for worst in found):
        found += delay_margins_at_10_mhz(sheet.limit, sheet.scalars)
    return found + scalar_margins(sheet.limit, sheet.scalars)


def describe(link: PlannedLink, sheet: Sheet) -> dict[str, Any]:
    """One link's entry."""
    found = true_margins(sheet)
    return {
        "label": link.facts["label"],
        "file": link.file,
        "purpose": "retest" if link.occasion else "initial",
        "family": link.limit.family,
        "category": link.limit.category,
        "configuration": link.limit.configuration,
        "limit_as_stated": link.facts["limit"],
        "planted": [{"code": item.code, "what": item.words} for item in link.planted],
        "stated": sheet.stated.verdict,
        "recomputed": link.recomputed,
        "judgement": link.judgement,
        "worst": [_margin(worst) for worst in worst_by_parameter(found).values()],
        "margins": [_margin(worst) for worst in found],
    }


def _margin(worst: Worst) -> dict[str, Any]:
    unit = _UNITS.get(worst.curve.parameter, "db")
    entry: dict[str, Any] = {"parameter": worst.curve.parameter}
    if worst.curve.end:
        entry["end"] = worst.curve.end
    entry["pairs"] = list(worst.curve.pairs)
    entry[f"margin_{unit}"] = round(worst.margin, 4)
    if worst.frequency_khz is not None:
        entry["frequency_mhz"] = worst.frequency_khz / 1000
    return entry


def write(links: Sequence[tuple[PlannedLink, Sheet]]) -> str:
    """The whole document, one margin a line."""
    head = json.dumps(_ABOUT, indent=1)
    entries = ",\n".join(_entry(describe(link, sheet)) for link, sheet in links)
    held = expected.entries([link for link, _ in links])
    rows = ",\n".join(f" {json.dumps(entry)}" for entry in held)
    about, counted = json.dumps(expected.ABOUT), json.dumps(expected.totals(held))
    reconciliation = (
        f'{{"about": {about},\n"schedule": "schedule.csv",\n"totals": {counted},\n'
        f'"labels": [\n{rows}\n]}}'
    )
    return f'{{"about": {head},\n"links": [\n{entries}\n],\n"reconciliation": {reconciliation}}}\n'


def _entry(entry: dict[str, Any]) -> str:
    lines = []
    for key, value in entry.items():
        if isinstance(value, list) and value:
            inner = ",\n   ".join(json.dumps(item) for item in value)
            lines.append(f'  "{key}": [\n   {inner}]')
        else:
            lines.append(f'  "{key}": {json.dumps(value)}')
    return " {\n" + ",\n".join(lines) + "\n }"
