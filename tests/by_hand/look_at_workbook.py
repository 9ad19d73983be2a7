"""Turn a workbook into pictures with an office program, to look at what a person would see.

    python tests/by_hand/look_at_workbook.py handover.xlsx pictures

It makes two sets: `paper-NN.png`, as it is printed, and `screen-NN.png`, with all columns, those
that are not printed included. README.md says what to look for.
"""

import subprocess
import sys
from pathlib import Path

from openpyxl import load_workbook

DOTS_PER_INCH = "110"
ROWS = 45
"""Rows of each sheet on the screen pictures: enough to see widths and tints."""


def main(workbook: Path, folder: Path) -> None:
    folder.mkdir(parents=True, exist_ok=True)
    pictures(workbook, folder, "paper")
    whole = folder / "screen.xlsx"
    unprint(workbook, whole)
    pictures(whole, folder, "screen")


def unprint(workbook: Path, target: Path) -> None:
    """A copy whose print areas take in every column of the first rows, on a wide sheet of paper."""
    book = load_workbook(workbook)
    for sheet in book:
        last = sheet.cell(min(sheet.max_row, ROWS), sheet.max_column).coordinate
        sheet.print_area = f"A1:{last}"
        sheet.page_setup.paperSize = 8  # A3
        sheet.page_setup.scale = 60
        sheet.sheet_properties.pageSetUpPr = None
    book.save(target)


def pictures(workbook: Path, folder: Path, name: str) -> None:
    """One picture a page."""
    office = ["soffice", "--headless", "--convert-to", "pdf", "--outdir", str(folder)]
    subprocess.run([*office, str(workbook)], check=True, capture_output=True)
    pdf = folder / f"{workbook.stem}.pdf"
    subprocess.run(
        ["pdftoppm", "-r", DOTS_PER_INCH, "-png", str(pdf), str(folder / name)], check=True
    )
    print(f"{len(list(folder.glob(f'{name}-*.png')))} pictures {folder / name}-*.png")


if __name__ == "__main__":
    if len(sys.argv) != 3:
        sys.exit("usage: look_at_workbook.py WORKBOOK FOLDER")
    main(Path(sys.argv[1]), Path(sys.argv[2]))
