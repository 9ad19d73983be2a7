"""Touchstone to records, beside what scikit-rf takes for the same file."""

from collections.abc import Iterator

import numpy as np
import skrf

from sweepbook.dialect.load import parse
from sweepbook.formats import ReadSetting
from sweepbook.source import Source
from sweepbook_plugins.touchstone import sweeps
from tests.benchmarks.material import Material
from tests.benchmarks.measure import Row, beside
from tests.reading import LIBRARY
from tests.touchstone_format.making import SINGLE, model, single_ended, text

_IMPEDANCES = np.array([100.0] * 8 + [25.0] * 8)


def rows(material: Material) -> Iterator[Row]:
    """One link of 16 single-ended ports at some 1,000 frequencies, six digits a number."""
    path = material.folder / "link.s16p"
    digits = {"format_spec_A": "{:.6f}", "format_spec_B": "{:.6f}"}
    path.write_text(text(single_ended(model()), **digits))
    setting = ReadSetting(LIBRARY, {}, parse(SINGLE.encode()))

    def ours() -> None:
        assert len(list(sweeps.read(Source(path), setting))) == 1

    def theirs() -> None:
        skrf.Network(str(path)).se2gmm(8, z0_mm=_IMPEDANCES)

    yield beside("Touchstone, 16 ports", ours, "scikit-rf, to mixed mode", theirs)
