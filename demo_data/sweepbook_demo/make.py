"""Make the demo's exports and their truth: python -m sweepbook_demo.make [FOLDER]."""

import argparse
from collections.abc import Sequence
from pathlib import Path

from sweepbook_demo import annexe, heron, main_house, tolk, truth
from sweepbook_demo.facts import ACCURACY_HERON
from sweepbook_demo.grid import standard_grid_khz
from sweepbook_demo.instrument import read_link
from sweepbook_demo.mistakes import delay_as_scalar
from sweepbook_demo.plan import PlannedLink
from sweepbook_demo.sheet import Sheet, fill

LINKS = (*main_house.LINKS, *annexe.LINKS)


def sheet_of(link: PlannedLink) -> Sheet:
    """Measure a planned link, let the tester judge, then spoil the export as planned."""
    reading = read_link(link.pieces, standard_grid_khz(), link.seed, float(link.facts["cable_nvp"]))
    heron_made = link.file.startswith("heron-")
    accuracy = ACCURACY_HERON if heron_made else {}
    sheet = fill(reading, link.facts, link.limit, accuracy)
    if heron_made:
        sheet = delay_as_scalar(sheet)
    for spoil in link.spoils:
        sheet = spoil(sheet)
    return sheet


def exports(links: Sequence[tuple[PlannedLink, Sheet]]) -> dict[str, bytes]:
    """Name and bytes of every export file."""
    grouped: dict[str, list[Sheet]] = {}
    for link, sheet in links:
        grouped.setdefault(link.file, []).append(sheet)
    return {
        name: heron.write(sheets[0]) if name.startswith("heron-") else tolk.write(sheets)
        for name, sheets in grouped.items()
    }


def main(arguments: Sequence[str] | None = None) -> None:
    """Write exports/ and truth.json into a folder (here, if none is named)."""
    parser = argparse.ArgumentParser(prog="python -m sweepbook_demo.make", description=__doc__)
    parser.add_argument("folder", nargs="?", type=Path, default=Path(__file__).parent)
    folder: Path = parser.parse_args(arguments).folder
    made = [(link, sheet_of(link)) for link in LINKS]
    (folder / "exports").mkdir(parents=True, exist_ok=True)
    for name, content in exports(made).items():
        (folder / "exports" / name).write_bytes(content)
    (folder / "truth.json").write_text(truth.write(made), encoding="utf-8", newline="\n")


if __name__ == "__main__":
    main()
