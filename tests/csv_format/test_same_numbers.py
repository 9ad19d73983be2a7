"""The same measurement in both layouts, any unit, sign and notation gives the same numbers."""

from decimal import Decimal
from pathlib import Path
from typing import NamedTuple

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.reading import Result, axis, sweep

from .dialects import CURVES, POINTS, changed
from .reading import read

NAMES = {"insertion_loss 1-2": ("IL", "1-2", ""), "next near 1-2/3-6": ("NEXT", "1-2/3-6", "A")}
SHIFT = {"Hz": 6, "kHz": 3, "MHz": 0, "GHz": -3}


class Writing(NamedTuple):
    """How an export writes numbers."""

    unit: str
    decimal: str
    negative: bool
    thousands: str

    def number(self, value: Decimal) -> str:
        text = format(value, "f")
        whole, _, fraction = text.partition(".")
        if self.thousands:
            whole = f"{int(whole):,}".replace(",", self.thousands)
        return f"{whole}{self.decimal}{fraction}" if fraction else whole

    def frequency(self, mhz: Decimal) -> str:
        return self.number(mhz.scaleb(SHIFT[self.unit]))

    def loss(self, value: Decimal) -> str:
        text = self.number(value)
        return f"-{text}" if self.negative and value else text

    def dialect(self, base: str) -> str:
        negative = '[signs]\nnegative = ["insertion_loss", "next"]\n' if self.negative else ""
        numbers = f'[numbers]\ndecimal = "{self.decimal}"\nthousands = "{self.thousands}"\n'
        units = f'[units]\nfrequency = "{self.unit}"\n'
        return changed(base, "[numbers]\n", negative + units + numbers)


WRITINGS = st.builds(
    Writing,
    st.sampled_from(sorted(SHIFT)),
    st.just("."),
    st.booleans(),
    st.sampled_from(["", "'"]),
) | st.builds(
    Writing,
    st.sampled_from(sorted(SHIFT)),
    st.just(","),
    st.booleans(),
    st.sampled_from(["", ".", " "]),
)
FREQUENCIES = st.lists(
    st.decimals(Decimal("1.01"), 2000, places=2), min_size=1, max_size=8, unique=True
).map(sorted)


@settings(max_examples=60, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(data=st.data(), frequencies=FREQUENCIES, writing=WRITINGS)
def test_the_same_numbers(
    data: st.DataObject, frequencies: list[Decimal], writing: Writing, tmp_path: Path
) -> None:
    losses = st.decimals(Decimal("0.00"), 99, places=2)
    values = {
        name: data.draw(st.lists(losses, min_size=len(frequencies), max_size=len(frequencies)))
        for name in NAMES
    }
    for result in (
        as_columns(tmp_path, frequencies, values, writing),
        as_rows(tmp_path, frequencies, values, writing),
    ):
        document = result.document
        for name, expected in values.items():
            curve = sweep(document, name)
            assert axis(document, curve) == [float(value) for value in frequencies]
            assert curve["value_db"].tolist() == [float(value) for value in expected]
            assert curve["decimals"] == 2


def as_columns(
    folder: Path, frequencies: list[Decimal], values: dict[str, list[Decimal]], writing: Writing
) -> Result:
    titles = [" ".join(filter(None, NAMES[name])) for name in values]
    lines = ["Link;A", ";".join(["MHz", *titles])]
    for position, frequency in enumerate(frequencies):
        cells = [writing.loss(of[position]) for of in values.values()]
        lines.append(";".join([writing.frequency(frequency), *cells]))
    layout = 'layout = "curve-per-column"'
    dialect = changed(CURVES, layout, f'{layout}\ndelimiter = ";"')
    return read(folder, "\n".join(lines) + "\n", writing.dialect(dialect))


def as_rows(
    folder: Path, frequencies: list[Decimal], values: dict[str, list[Decimal]], writing: Writing
) -> Result:
    lines = ["Test;What;Pair;End;MHz;dB;Text", "1;Link;;;;;A"]
    for name, of in values.items():
        what, pair, end = NAMES[name]
        for frequency, value in zip(frequencies, of, strict=True):
            cells = ["1", what, pair, end, writing.frequency(frequency), writing.loss(value), ""]
            lines.append(";".join(cells))
    return read(folder, "\n".join(lines) + "\n", writing.dialect(POINTS))
