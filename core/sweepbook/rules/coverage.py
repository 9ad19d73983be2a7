"""Rules about what is missing: parameters, pairs, ends, range and step."""

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from itertools import groupby
from typing import Any

from sweepbook.judging.assessment import Outcome, Recomputed
from sweepbook.judging.curves import Key
from sweepbook.judging.lost_readings import lost
from sweepbook.judging.one_order import alone, other_order
from sweepbook.judging.phrases import name
from sweepbook.judging.working import Lack, LackKind
from sweepbook.record.grids import of_grid
from sweepbook.rules.case import Case
from sweepbook.rules.model import Hit
from sweepbook.rules.words import where

SWEEPS = "$.results.sweeps"
MOST = 20
"""Places of a grid that are told of."""


def parameters_are_there(case: Case) -> Iterator[Hit]:
    """Yield every required parameter of which the record holds nothing."""
    limit = case.assessment.limit_path or ""
    for lack in _lacks(case, LackKind.PARAMETER):
        yield Hit("$.results", {"parameter": name(lack.parameter), "limit": limit})


def pairs_are_there(case: Case) -> Iterator[Hit]:
    """Yield every pair or combination of which a required parameter holds nothing.

    ACR-N of the other order may be the worse of both, which nothing but NEXT tells; such are told
    once.
    """
    of_both: list[Lack] = []
    for lack in _lacks(case, LackKind.PAIRS):
        key = Key(lack.parameter, lack.end, lack.pairs)
        curves = case.needed_working.measured_curves.get(lack.parameter)
        if other_order(key) in (alone(curves.keys) if curves else ()):
            of_both.append(lack)
        else:
            yield _pairs([lack], "")
    if of_both:
        named = " to ".join(of_both[0].pairs[::-1])
        order = f"that of {named} is" if len(of_both) == 1 else "those of the other order are"
        yield _pairs(of_both, f", unless {order} the worse of both orders, which only NEXT shows")


def _pairs(lacks: Sequence[Lack], unless: str) -> Hit:
    """Pairs of one parameter that are missing: the first of them, and how many more."""
    first, more = lacks[0], len(lacks) - 1
    told = where(first.end, first.pairs) + (f", and {more} more" if more else "")
    return Hit(SWEEPS, {"parameter": name(first.parameter), "where": told, "unless": unless})


def both_ends_are_there(case: Case) -> Iterator[Hit]:
    """Yield every end from which a required parameter holds nothing."""
    for lack in _lacks(case, LackKind.END):
        yield Hit(SWEEPS, {"parameter": name(lack.parameter), "end": lack.end or "other"})


def range_is_covered(case: Case) -> Iterator[Hit]:
    """Yield, once a frequency, the curves that start too high or stop too low."""
    for kind, edge in ((LackKind.START, "first"), (LackKind.STOP, "last")):
        for (measured, asked), lacks in _alike(_lacks(case, kind), _edge):
            figures = {"edge": edge, "measured_mhz": measured, "asked_mhz": asked}
            yield Hit(SWEEPS, {**_curves(lacks), **figures})


def step_is_fine(case: Case) -> Iterator[Hit]:
    """Yield the curves whose steps are too wide, those together that are so alike.

    A range for which the table allows another step is told with the first.
    """
    by_curve: dict[tuple[Any, ...], list[Lack]] = {}
    for lack in _lacks(case, LackKind.STEP):
        by_curve.setdefault((lack.parameter, lack.end, lack.pairs), []).append(lack)
    alike: dict[tuple[tuple[float, ...], ...], list[Lack]] = {}
    for (first, *_), steps in ((lacks, tuple(map(_step, lacks))) for lacks in by_curve.values()):
        alike.setdefault(steps, []).append(first)
    for ((step, at, most), *others), lacks in alike.items():
        more = "".join(
            f"; {other:g} MHz at {there:g} MHz, where {allowed:g} are"
            for other, there, allowed in others
        )
        figures = {"step_mhz": step, "at_mhz": at, "most_mhz": most, "more": more}
        yield Hit(SWEEPS, {**_curves(lacks), **figures})


def grids_lack_no_readings(case: Case) -> Iterator[Hit]:
    """Yield every place of a grid where a single step leaves out what the even ones beside it read.

    A step that is wider than allowed is told by another rule.
    """
    results = case.document["results"]
    used = Counter(sweep["grid"] for sweep in results.get("sweeps", ()) if "grid" in sweep)
    wide = {lack.at_mhz for lack in _lacks(case, LackKind.STEP)} if case.working else set()
    for position, grid in enumerate(results.get("grids", ())):
        for one in lost(of_grid(grid))[:MOST] if used[grid["id"]] else ():
            if one.from_mhz not in wide:
                said = {"readings": one.readings, "curves": used[grid["id"]]}
                steps = {"from_mhz": one.from_mhz, "to_mhz": one.to_mhz, "step_mhz": one.step_mhz}
                yield Hit(f"$.results.grids[{position}]", {**said, **steps})


def some_points_count(case: Case) -> Iterator[Hit]:
    """Yield, once a parameter, the required curves without a point that counts."""
    none = Outcome.NOT_EVALUATED
    judged = case.assessment.margins
    silent = [m for m in judged if m.outcome is none and m.obligation == "required"]
    for parameter, group in groupby(silent, key=lambda margin: margin.parameter):
        margins = list(group)
        yield Hit(
            SWEEPS,
            {
                "parameter": name(parameter),
                "curves": len(margins),
                "where": where(margins[0].end, margins[0].pairs),
                "points": margins[0].points_for_information,
            },
        )


def figures_are_judged(case: Case) -> Iterator[Hit]:
    """Yield, once a parameter, the single figures in dB, on which no verdict rests.

    One value of a curve proves neither that the rest passes nor where it was read.
    """
    figures: dict[str, list[int]] = {}
    for position, item in enumerate(case.document["results"].get("scalars", ())):
        if "value_db" in item and item["parameter"] in case.needed_table.parameters:
            figures.setdefault(item["parameter"], []).append(position)
    for parameter, places in figures.items():
        count = f"{len(places)} single figure{'s' if len(places) > 1 else ''}"
        path = f"$.results.scalars[{places[0]}]"
        yield Hit(path, {"parameter": name(parameter), "figures": count})


def sweeps_are_of_use(case: Case) -> Iterator[Hit]:
    """Yield every sweep that nothing could be judged by, with the reason."""
    for path, reason in case.needed_working.unread.items():
        yield Hit(path, {"reason": reason.rstrip(".")})


def _lacks(case: Case, kind: LackKind) -> list[Lack]:
    """What is missing of one kind; nothing where one failing parameter has settled the fail."""
    stated = case.assessment.stated or ""
    if case.assessment.recomputed is Recomputed.FAIL and stated.startswith("fail"):
        return []
    return [lack for lack in case.needed_working.lacks if lack.kind is kind]


def _alike(
    lacks: Iterable[Lack], figures: Callable[[Lack], tuple[float, ...]]
) -> Iterator[tuple[tuple[float, ...], list[Lack]]]:
    """The lacks with the same figures together, in the order in which these first come up."""
    groups: dict[tuple[float, ...], list[Lack]] = {}
    for lack in lacks:
        groups.setdefault(figures(lack), []).append(lack)
    yield from groups.items()


def _curves(lacks: Sequence[Lack]) -> dict[str, Any]:
    parameters = dict.fromkeys(name(lack.parameter) for lack in lacks)
    return {"parameters": ", ".join(parameters), "curves": len(lacks)}


def _edge(lack: Lack) -> tuple[float, ...]:
    return _given(lack.at_mhz, lack.asked_mhz)


def _step(lack: Lack) -> tuple[float, ...]:
    return _given(lack.step_mhz, lack.at_mhz, lack.asked_mhz)


def _given(*figures: float | None) -> tuple[float, ...]:
    """The figures, which a lack of this kind always has.

    Raises:
        ValueError: one is not given.
    """
    found = tuple(figure for figure in figures if figure is not None)
    if len(found) != len(figures):
        raise ValueError("a lack of start, stop or step came without its figures")
    return found
