"""Tables of single figures and of worst cases."""

from .heads import Cells, key_lines
from .truth import PAIRS, Test
from .wording import LOSSES, UNITS, Wording

_LIMITS = {"propagation_delay": 498, "delay_skew": 44, "length": 900, "dc_loop_resistance": 210}
_PLACES = {"propagation_delay": 0, "delay_skew": 0, "length": 1, "dc_loop_resistance": 1}


def scalars(test: Test, wording: Wording) -> list[Cells]:
    """Length, delay, skew and loop resistance."""
    how = {"keys": _as_keys, "parameters": _a_row_each, "pairs": _a_row_a_pair}
    return how[wording.choices.scalars](test, wording)


def texts(test: Test, wording: Wording) -> dict[str, dict[str, str]]:
    """Text by parameter and pair; "" for the whole link."""
    return {
        "length": {"": wording.number(test.length, 1)},
        "propagation_delay": {pair: str(of) for pair, of in test.delay.items()},
        "delay_skew": {"": str(test.skew)},
        "dc_loop_resistance": {pair: wording.number(test.resistance[pair], 1) for pair in PAIRS},
    }


def title(parameter: str, wording: Wording, pair: str = "") -> str:
    """The key of a figure with its unit."""
    word = wording[parameter]
    name = f"{word} {wording.told_pairs((pair,))}" if pair else word
    return wording.with_unit(name, UNITS[parameter])


def _as_keys(test: Test, wording: Wording) -> list[Cells]:
    pairs = [
        (title(parameter, wording, pair), text)
        for parameter, some in texts(test, wording).items()
        for pair, text in some.items()
    ]
    return key_lines(pairs, wording, 6)


def _a_row_each(test: Test, wording: Wording) -> list[Cells]:
    """A row a parameter, a column a pair; what is of the whole link stands in the first of them."""
    choices = wording.choices
    first, bound, verdict = wording.distinct("parameter", "bound", "verdict")
    lines = [[first, *(wording.told_pairs((pair,)) for pair in PAIRS)]]
    lines[0] += [bound] * choices.scalar_limits + [verdict] * choices.scalar_verdicts
    for parameter, some in texts(test, wording).items():
        cells = [some.get(pair, "") for pair in PAIRS] if len(some) > 1 else [*some.values()]
        cells += [""] * (len(PAIRS) - len(cells))
        limit = wording.number(_LIMITS[parameter], _PLACES[parameter])
        row = [title(parameter, wording), *cells, *[limit] * choices.scalar_limits]
        lines.append([*row, *[wording.verdict(passed=True)] * choices.scalar_verdicts])
    return lines


def _a_row_a_pair(test: Test, wording: Wording) -> list[Cells]:
    """A row a pair, a column a parameter; length and skew are keys above."""
    told = texts(test, wording)
    above = [(title(of, wording), told[of][""]) for of in ("length", "delay_skew")]
    rows = ("propagation_delay", "dc_loop_resistance")
    lines = [[wording["pair"], *(title(of, wording) for of in rows)]]
    lines += [[wording.told_pairs((pair,)), *(told[of][pair] for of in rows)] for pair in PAIRS]
    if wording.choices.scalar_limits:
        limits = [wording.number(_LIMITS[of], _PLACES[of]) for of in rows]
        lines.append([wording["bound"], *limits])
    return [*key_lines(above, wording, 6), [], *lines]


def margins(test: Test, wording: Wording) -> list[Cells]:
    """Worst cases: a row a parameter and end, or with the ends as columns."""
    choices = wording.choices
    if choices.margins == "across":
        return _across(test, wording)
    keys = ["parameter", "end", "pair", "margin", "at", "value", "bound", "verdict"]
    if choices.margin_pair != "column":
        keys.remove("pair")
    titles = dict(zip(keys, wording.distinct(*keys), strict=True))
    for key in ("margin", "value", "bound"):
        titles[key] = (
            wording.with_unit(titles[key], "dB") if choices.unit_at == "title" else titles[key]
        )
    titles["at"] = wording.at()
    lines = [[*titles.values()]]
    for one in test.stated:
        name = wording[one.parameter]
        if choices.margin_pair == "brackets":
            name = f"{name} ({wording.told_pairs(one.pairs)})"
        cells = {
            "parameter": name,
            "end": wording.end(one.end),
            "pair": wording.told_pairs(one.pairs) if wording.paired else wording.pairs(one.pairs),
            "margin": wording.number(one.margin, 1),
            "at": wording.frequency(one.khz),
            "value": wording.number(one.value, 1, loss=True),
            "bound": wording.number(one.limit, 1, loss=True),
            "verdict": wording.verdict(passed=one.passed),
        }
        lines.append([cells[key] for key in titles])
    return lines


def _across(test: Test, wording: Wording) -> list[Cells]:
    """A row a parameter, with margin, frequency and verdict of each end in columns."""
    keys = ("parameter", "margin", "at", "verdict")
    first, margin, _, verdict = wording.distinct(*keys)
    rest = (margin, wording.at(), verdict)
    lines = [[first, *(f"{word} {wording.end(end)}" for end in ("near", "far") for word in rest)]]
    for parameter in LOSSES:
        row = [wording[parameter]]
        for end in ("near", "far"):
            found = [one for one in test.stated if one.parameter == parameter and one.end == end]
            for one in found:
                row += [wording.number(one.margin, 1), wording.frequency(one.khz)]
                row.append(wording.verdict(passed=one.passed))
            row += [""] * (3 - 3 * len(found))
        if any(row[1:]):
            lines.append(row)
    return lines
