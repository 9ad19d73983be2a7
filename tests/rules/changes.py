"""Changes to a clean record, as the cases write them down."""

from collections.abc import Iterable, Iterator
from typing import Any

import numpy as np
from numpy.typing import NDArray

from sweepbook.limits.interpretations import Interpretations
from sweepbook.limits.library import Library
from sweepbook.limits.shapes import line
from sweepbook.record.model import Record

from .link import F64, clean

SHAPES = ("cut_at_db", "times", "line_db", "beside_limit_db")
LIMIT = "tia-568.2-d/cat6a/permanent-link"
ORIGIN = [{"sha256": "0" * 64, "name": "made-up.csv", "locator": "line 1"}]


def record(changes: Iterable[dict[str, Any]], resolved: dict[str, Any] | None = None) -> Record:
    """Build the clean record with the changes of a case, each an object with one verb.

    {"set": path, "to": value}; {"remove": path}; {"append": path, "value": value};
    {"length_m": metres}; {"drop": curve}; {"level_db": n, "curve": curve};
    {"add_db": n, "curve": curve, "from_mhz", "to_mhz"};
    {"power_sum": curves, "exported": curve}; {"of": curve, "less": curve, "exported": curve}, or
    "less_greater_of": curves, at each frequency the greater of them; with "decimals" if not two;
    {"acr_f_for_fext": order}, ACR-F of both ends in its place, with the pairs in the "right" order
    or the "other";
    {"ripple_db": rms, "seed": n}, a ripple of its own on every curve of return loss and NEXT;
    {"again": curve, "as": members, "add_db": n}; {"every": n}; {"up_to_mhz": f};
    {"made_from": curve, "curve": curve, "add_db": n, "slope_db": a MHz, "noise_db": rms,
    "seed": n};
    {"finer": n}, n times the points, those between on straight lines;
    {"leave_out_mhz": [above, below]}, the points between these;
    {"cut_at_db": n, "curve": curve}; {"times": n, "curve": curve};
    {"line_db": [at 1 MHz, a decade], "curve": curve}; {"beside_limit_db": n, "curve": curve}.
    A path is member names and positions joined by "/"; a curve is any of parameter, end and pairs.
    """
    changes = list(changes)
    length = next((change["length_m"] for change in changes if "length_m" in change), None)
    members = clean() if length is None else clean(length)
    for change in changes:
        _apply(members, change)
    return Record.build(origin=ORIGIN, resolved=resolved, **members)


def _apply(members: dict[str, Any], change: dict[str, Any]) -> None:
    if "set" in change:
        holder, name = _find(members, change["set"])
        holder[name] = change["to"]
    elif "remove" in change:
        holder, name = _find(members, change["remove"])
        del holder[name]
    elif "append" in change:
        holder, name = _find(members, change["append"])
        holder[name].append(change["value"])
    elif "length_m" not in change:
        _apply_to_sweeps(members["results"], change)


def _apply_to_sweeps(results: dict[str, Any], change: dict[str, Any]) -> None:  # noqa: C901
    sweeps = results["sweeps"]
    if "drop" in change:
        results["sweeps"] = [sweep for sweep in sweeps if not _is(sweep, change["drop"])]
        assert len(results["sweeps"]) < len(sweeps), change
    elif "again" in change:
        values = np.round(_values(sweeps, change["again"]) + change["add_db"], 2).tolist()
        first = next(sweep for sweep in sweeps if _is(sweep, change["again"]))
        sweeps.append({**first, **change["as"], "value_db": values})
    elif "acr_f_for_fext" in change:
        results["sweeps"] = [*_acr_f_for_fext(sweeps, change["acr_f_for_fext"])]
    elif "ripple_db" in change:
        for number, sweep in enumerate(sweeps):
            _ripple(results, sweep, number, change)
    elif "level_db" in change:
        for sweep in [sweep for sweep in sweeps if _is(sweep, change["curve"])]:
            sweep["value_db"] = [float(change["level_db"])] * len(sweep["value_db"])
    elif "made_from" in change:
        _make(results, change)
    elif "add_db" in change and "curve" in change:
        touched = [sweep for sweep in sweeps if _is(sweep, change["curve"])]
        assert touched, change
        for sweep in touched:
            _add(results, sweep, change)
    elif any(verb in change for verb in SHAPES):
        _shape(results, change)
    elif "exported" in change:
        sweeps.append(_derived(sweeps, change))
    elif "finer" in change:
        _refine(results, change["finer"])
    elif "leave_out_mhz" in change:
        frequency, (above, below) = results["grids"][0]["frequency_mhz"], change["leave_out_mhz"]
        kept = [place for place, mhz in enumerate(frequency) if not above < mhz < below]
        assert len(kept) < len(frequency), change
        _thin(results, np.array(kept))
    elif "every" in change:
        _thin(results, np.arange(0, len(results["grids"][0]["frequency_mhz"]), change["every"]))
    else:
        frequency = np.array(results["grids"][0]["frequency_mhz"])
        _thin(results, np.flatnonzero(frequency <= change["up_to_mhz"]))


def _shape(results: dict[str, Any], change: dict[str, Any]) -> None:
    """Give the named curves another shape."""
    verb = next(verb for verb in SHAPES if verb in change)
    curve, frequency = change["curve"], results["grids"][0]["frequency_mhz"]
    touched = [sweep for sweep in results["sweeps"] if _is(sweep, curve)]
    assert touched, change
    for sweep in touched:
        values = np.array(sweep["value_db"])
        match verb:
            case "cut_at_db":
                values = np.minimum(values, change[verb])
            case "times":
                values = values * change[verb]
            case "line_db":
                values = change[verb][0] + change[verb][1] * np.log10(frequency)
            case _:
                table, readings = Library.load().table(LIMIT), Interpretations.load()
                limit = line(table, sweep["parameter"], np.array(frequency), readings)
                values = change[verb] + limit.value
        sweep["value_db"] = np.round(values, 2).tolist()


def _find(members: dict[str, Any], path: str) -> tuple[Any, Any]:
    """The holder of the last step of a path, and that step."""
    *steps, last = [int(step) if step.isdecimal() else step for step in path.split("/")]
    holder: Any = members
    for step in steps:
        holder = holder[step]
    return holder, last


def _is(sweep: dict[str, Any], curve: dict[str, Any]) -> bool:
    return all(sweep.get(name) == value for name, value in curve.items())


def _add(results: dict[str, Any], sweep: dict[str, Any], change: dict[str, Any]) -> None:
    frequency = np.array(results["grids"][0]["frequency_mhz"])
    inside = (frequency >= change["from_mhz"]) & (frequency <= change["to_mhz"])
    moved = np.array(sweep["value_db"]) + np.where(inside, change["add_db"], 0.0)
    sweep["value_db"] = np.round(moved, 2).tolist()


def _ripple(results: dict[str, Any], sweep: dict[str, Any], number: int, how: Any) -> None:
    """Forty waves, as reflections all along a link make them, each of its own phase and size."""
    if sweep["parameter"] not in ("return_loss", "next"):
        return
    random = np.random.default_rng([how["seed"], number])
    frequency = np.array(results["grids"][0]["frequency_mhz"])
    period_mhz = random.uniform(3.0, 60.0, 40)[:, None]
    phase = random.uniform(0.0, 2.0 * np.pi, 40)[:, None]
    waves = np.sin(2.0 * np.pi * frequency / period_mhz + phase).sum(axis=0) / np.sqrt(20.0)
    sweep["value_db"] = np.round(np.array(sweep["value_db"]) + how["ripple_db"] * waves, 2).tolist()


def _make(results: dict[str, Any], how: dict[str, Any]) -> None:
    values = _values(results["sweeps"], how["made_from"])
    frequency = np.array(results["grids"][0]["frequency_mhz"])
    noise = np.random.default_rng(how["seed"]).normal(0.0, how["noise_db"], values.size)
    made = values + how["add_db"] + how["slope_db"] * frequency + noise
    (sweep,) = (one for one in results["sweeps"] if _is(one, how["curve"]))
    sweep["value_db"] = np.round(made, 2).tolist()


def _refine(results: dict[str, Any], times: int) -> None:
    grid = results["grids"][0]
    place = np.arange(len(grid["frequency_mhz"]))
    every = np.linspace(0, place[-1], place[-1] * times + 1)
    grid["frequency_mhz"] = np.round(np.interp(every, place, grid["frequency_mhz"]), 4).tolist()
    for sweep in results["sweeps"]:
        sweep["value_db"] = np.round(np.interp(every, place, sweep["value_db"]), 2).tolist()


def _thin(results: dict[str, Any], kept: NDArray[np.intp]) -> None:
    grid = results["grids"][0]
    grid["frequency_mhz"] = [grid["frequency_mhz"][position] for position in kept]
    for sweep in results["sweeps"]:
        sweep["value_db"] = [sweep["value_db"][position] for position in kept]


def _derived(sweeps: list[dict[str, Any]], change: dict[str, Any]) -> dict[str, Any]:
    """A derived curve as an instrument exports it: a power sum, or one curve less others.

    The power sum is -10 lg of the sum of 10^(-x/10) over the named curves, by definition.
    """
    if "power_sum" in change:
        members = [_values(sweeps, curve) for curve in change["power_sum"]]
        powers = sum((10.0 ** (-values / 10.0) for values in members), np.zeros(1))
        value_db = -10.0 * np.log10(powers)
    else:
        losses = [_values(sweeps, one) for one in change.get("less_greater_of", ())]
        losses = losses or [_values(sweeps, change["less"])]
        value_db = _values(sweeps, change["of"]) - np.max(losses, axis=0)
    named = change["exported"]
    decimals = change.get("decimals", 2)
    rounded = np.round(value_db + change.get("add_db", 0.0), decimals).tolist()
    return {**named, "grid": "g", "decimals": decimals, "value_db": rounded}


def _acr_f_for_fext(sweeps: list[dict[str, Any]], order: str) -> Iterator[dict[str, Any]]:
    """FEXT from i to k at one end is that from k to i at the other, by reciprocity.

    ACR-F is FEXT less the insertion loss of the disturbed pair.
    """
    for sweep in sweeps:
        if sweep["parameter"] != "fext":
            yield sweep
            continue
        for end, two in (("far", sweep["pairs"]), ("near", sweep["pairs"][::-1])):
            loss = _values(sweeps, {"parameter": "insertion_loss", "pairs": two[1:]})
            made = np.round(np.array(sweep["value_db"]) - loss, 2).tolist()
            named = {"end": end, "pairs": two if order == "right" else two[::-1]}
            yield {**sweep, "parameter": "acr_f", **named, "value_db": made}


def _values(sweeps: list[dict[str, Any]], curve: dict[str, Any]) -> F64:
    found = [sweep for sweep in sweeps if _is(sweep, curve)]
    assert len(found) == 1, curve
    return np.array(found[0]["value_db"])
