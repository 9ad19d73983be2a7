"""Text tables as a spreadsheet saves them: each line has as many cells as the longest."""

import csv


def made_even(text: str, delimiter: str, more: int = 0) -> str:
    """A text with blank cells at the ends of its lines, and so many more behind the longest."""
    lines = text.removesuffix("\n").split("\n")
    widths = [len(next(csv.reader([line], delimiter=delimiter), [""])) for line in lines]
    width = max(widths) + more
    return "".join(
        f"{line}{delimiter * (width - max(own, 1))}\n"
        for line, own in zip(lines, widths, strict=True)
    )
