"""The curves of a test, in each structure."""

from collections.abc import Callable

from .heads import Cells, key_lines
from .truth import KHZ, Key, Test
from .wording import Wording


def columns(test: Test, wording: Wording) -> list[Cells]:
    """A row a point, a column a curve."""
    names = [_with_level(wording.name(*key), wording) for key in test.curves]
    lines = [[wording.axis(), *names], *_unit_row(len(names), wording)]
    for at, khz in enumerate(KHZ):
        values = [wording.number(of[at], 2, loss=True) for of in test.curves.values()]
        lines.append([wording.frequency(khz), *values])
    return lines


def long(test: Test, wording: Wording, first: Cells | None = None) -> list[Cells]:
    """A row a point of a curve.

    Args:
        test: with the curves.
        wording: of the export.
        first: title and text of a column ahead of the others, which tells tests apart.
    """
    choices, lead = wording.choices, first or []
    wording.distinct("parameter", "pair", "end", "frequency", "value", "bound")
    keys = [wording["parameter"], wording["pair"], wording["end"], wording.axis()]
    keys.append(_with_level(wording["value"], wording))
    keys += [_with_level(wording["bound"], wording)] * choices.limit_column
    lines = [[*lead[:1], *keys]]
    for (parameter, end, pairs), values in test.curves.items():
        for khz, value in zip(KHZ, values, strict=True):
            row = [*lead[1:], wording[parameter], wording.pairs(pairs), wording.end(end)]
            row += [wording.frequency(khz), wording.number(value, 2, loss=True)]
            row += [wording.number(2_000, 2, loss=True)] * choices.limit_column
            lines.append(row)
    return lines


def rows(test: Test, wording: Wording, first: Cells | None = None) -> list[Cells]:
    """A row a curve, frequencies in titles."""
    lead = first or []
    form = wording.choices.numbered_axis
    axis = [
        form.replace("{unit}", wording.choices.unit).replace("{}", wording.frequency(khz))
        for khz in KHZ
    ]
    lines = [[*lead[:1], *wording.distinct("parameter", "pair", "end"), *axis]]
    for (parameter, end, pairs), values in test.curves.items():
        texts = [wording.number(value, 2, loss=True) for value in values]
        lines.append(
            [*lead[1:], wording[parameter], wording.pairs(pairs), wording.end(end), *texts]
        )
    return lines


def sections(test: Test, wording: Wording) -> list[Cells]:
    """A section a curve, whose heading names it."""
    lines: list[Cells] = []
    for key, values in test.curves.items():
        lines += [[], [wording.choices.heading.format(wording.name(*key))]]
        lines += _points(values, wording)
    return lines[1:]


def keyed(test: Test, wording: Wording) -> list[Cells]:
    """A section a curve, with key lines that name it."""
    lines: list[Cells] = []
    wording.distinct("parameter", "pair", "end", "points")
    for (parameter, end, pairs), values in test.curves.items():
        lines += [[], [wording.choices.heading.format(wording["curve"])]]
        told = [(wording["parameter"], wording[parameter]), (wording["pair"], wording.pairs(pairs))]
        told += [(wording["end"], wording.end(end))] * (end is not None or wording.choices.no_end)
        told += [(wording["points"], str(len(KHZ)))] * wording.choices.limit_column
        lines += key_lines(told, wording)
        lines += _points(values, wording)
    return lines[1:]


def parameters(test: Test, wording: Wording) -> list[Cells]:
    """A section a parameter and end, a column a pair or two."""
    lines: list[Cells] = []
    for parameter, end in dict.fromkeys((name, end) for name, end, _ in test.curves):
        some: dict[Key, list[int | None]] = {
            key: values for key, values in test.curves.items() if key[:2] == (parameter, end)
        }
        lines += [[], [wording.choices.heading.format(wording.name(parameter, end, ()))]]
        titles = [wording.told_pairs(pairs) for *_, pairs in some]
        lines += [[wording.axis(), *titles], *_unit_row(len(titles), wording)]
        for at, khz in enumerate(KHZ):
            values = [wording.number(of[at], 2, loss=True) for of in some.values()]
            lines.append([wording.frequency(khz), *values])
    return lines[1:]


def _points(values: list[int | None], wording: Wording) -> list[Cells]:
    """Titles and points of one curve."""
    wording.distinct("frequency", "value")
    lines = [[wording.axis(), _with_level(wording["value"], wording)], *_unit_row(1, wording)]
    for khz, value in zip(KHZ, values, strict=True):
        lines.append([wording.frequency(khz), wording.number(value, 2, loss=True)])
    return lines


def _with_level(title: str, wording: Wording) -> str:
    return (
        wording.with_unit(title, "dB")
        if wording.choices.unit_at == "title" and "(" not in title
        else title
    )


def _unit_row(count: int, wording: Wording) -> list[Cells]:
    units = [wording.choices.unit, *["dB"] * count]
    return [units] if wording.choices.unit_at == "row" else []


STRUCTURES: dict[str, Callable[[Test, Wording], list[Cells]]] = {
    "columns": columns,
    "long": long,
    "rows": rows,
    "sections": sections,
    "keyed": keyed,
    "parameters": parameters,
}
