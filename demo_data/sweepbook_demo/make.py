"""Make the demo's exports, its schedule and its truth: python -m sweepbook_demo.make [FOLDER]."""

import argparse
import gzip
from collections.abc import Sequence
from pathlib import Path

from sweepbook_demo import annexe, erruk, heron, main_house, printworks, schedule, tolk, truth
from sweepbook_demo.facts import ACCURACY
from sweepbook_demo.grid import standard_grid_khz
from sweepbook_demo.instrument import read_link
from sweepbook_demo.mistakes import delay_as_scalar
from sweepbook_demo.plan import PlannedLink
from sweepbook_demo.sheet import Sheet, fill

LINKS = (*main_house.LINKS, *annexe.LINKS, *printworks.LINKS)


def sheet_of(link: PlannedLink) -> Sheet:
    """Measure a planned link, let the tester judge, then spoil the export as planned."""
    grid, nvp = standard_grid_khz(link.limit.top_khz), float(link.facts["cable_nvp"])
    reading = read_link(link.pieces, grid, link.seed, nvp, link.occasion)
    accuracy = {} if link.file.startswith("tolk-") else ACCURACY
    sheet = fill(reading, link.facts, link.limit, accuracy)
    if link.file.startswith("heron-"):
        sheet = delay_as_scalar(sheet)
    for spoil in link.spoils:
        sheet = spoil(sheet)
    return sheet


def exports(links: Sequence[tuple[PlannedLink, Sheet]]) -> dict[str, bytes]:
    """Name and bytes of every export file."""
    grouped: dict[str, list[Sheet]] = {}
    for link, sheet in links:
        grouped.setdefault(link.file, []).append(sheet)
    return {name: _written(name, sheets) for name, sheets in grouped.items()}


def _written(name: str, sheets: Sequence[Sheet]) -> bytes:
    """One file, packed where its name says so; an Erruk that packs writes one element a point.

    The gzip header holds no time, so that the same tests give the same bytes.
    """
    packed = name.endswith(".gz")
    if name.startswith("heron-"):
        content = heron.write(sheets[0])
    elif name.startswith("tolk-"):
        content = tolk.write(sheets)
    else:
        content = erruk.write(sheets, points=packed)
    return gzip.compress(content, 9, mtime=0) if packed else content


def main(arguments: Sequence[str] | None = None) -> None:
    """Write exports/, schedule.csv and truth.json into a folder (here, if none is named)."""
    parser = argparse.ArgumentParser(prog="python -m sweepbook_demo.make", description=__doc__)
    parser.add_argument("folder", nargs="?", type=Path, default=Path(__file__).parent)
    folder: Path = parser.parse_args(arguments).folder
    made = [(link, sheet_of(link)) for link in LINKS]
    (folder / "exports").mkdir(parents=True, exist_ok=True)
    for name, content in exports(made).items():
        (folder / "exports" / name).write_bytes(content)
    (folder / "schedule.csv").write_bytes(schedule.write(LINKS))
    (folder / "truth.json").write_text(truth.write(made), encoding="utf-8", newline="\n")


if __name__ == "__main__":
    main()
