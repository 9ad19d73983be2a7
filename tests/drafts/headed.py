"""Invented exports in which all tests stand in tables of one file, each below a heading."""

from dataclasses import dataclass

from .links import KHZ, PAIRS, Link, shifted

WORDS = {"insertion_loss": "Insertion loss", "return_loss": "Return loss", "next": "NEXT"}
SIDES = {None: "", "near": "main", "far": "remote"}
TITLES = ("Quantity", "Pair", "End", "Value", "Unit", "Margin dB", "At MHz", "Verdict")
WORST = (
    ("insertion_loss", None, ("1-2",), "2.9", 4_700),
    ("return_loss", "near", ("4-5",), "0.8", 100_000),
    ("next", "far", ("1-2", "7-8"), "-0.3", 250_000),
)
"""Parameter, end, pairs, margin in dB, kHz; of no calculation, for the reading alone."""


def _pairs(pairs: tuple[str, ...]) -> str:
    return "/".join(pair.replace("-", "") for pair in pairs)


@dataclass
class Export:
    """One file.

    Attributes:
        links: a test each.
        first: the number of the first test.
        number: title of the column of numbers.
        mark: the delimiter.
        headings: above the tests, the results and the curves.
        curves: "points", "columns" or "rows".
        order: of the tables by their first letters: tests, results, curves.
    """

    links: list[Link]
    first: int = 301
    number: str = "No."
    mark: str = ";"
    headings: tuple[str, str, str] = ("[Links]", "[Results]", "[Points]")
    curves: str = "points"
    order: str = "trc"

    def text(self) -> str:
        """The file."""
        told = zip("trc", self.headings, strict=True)
        heading = dict(told)
        made = {"t": self.tests, "r": self.results, "c": getattr(self, self.curves)}
        lines = [["Marram 7 export"], ["Operator", "J. Dunlin"], ["Site", "Ropewalk"], []]
        for kind in self.order:
            lines += [[heading[kind]] if heading[kind] else [], *made[kind](), []]
        return "\n".join(self.mark.join(cells) for cells in lines)

    def numbered(self) -> list[tuple[str, Link]]:
        """The links with the numbers of their tests."""
        return [(str(number), one) for number, one in enumerate(self.links, self.first)]

    def tests(self) -> list[list[str]]:
        """A row a test."""
        lines = [[self.number, "Link name", "Limit", "Tested at", "Wire map", "Result"]]
        for number, one in self.numbered():
            at = f"2026-03-04 14:{10 + int(number) % 40}:00"
            lines.append([number, one.label, "TIA-568.2-D Cat 6A PL", at, "PASS", "PASS"])
        return lines

    def results(self) -> list[list[str]]:
        """Lengths, and worst cases, each with a verdict: no value stands beside a margin."""
        lines = [
            [
                self.number,
                *["Quantity", "Pair", "End", "Value", "Unit", "Margin_dB", "At_MHz", "Verdict"],
            ]
        ]
        for number, one in self.numbered():
            lines += [
                [number, "Length", _pairs((pair,)), "", f"{one.metres:.1f}", "m", "", "", "PASS"]
                for pair in PAIRS
            ]
            for parameter, end, pairs, margin, khz in WORST:
                told = [WORDS[parameter], _pairs(pairs), SIDES[end], "", "dB"]
                verdict = "FAIL" if margin.startswith("-") else "PASS"
                lines.append([number, *told, margin, shifted(khz, 3), verdict])
        return lines

    def points(self) -> list[list[str]]:
        """A row a point."""
        lines = [[self.number, "Quantity", "Pair", "End", "MHz", "dB"]]
        for number, one in self.numbered():
            for told, values in self._told(one):
                points = zip(KHZ, values, strict=True)
                lines += [[number, *told, shifted(khz, 3), shifted(db, 2)] for khz, db in points]
        return lines

    def rows(self) -> list[list[str]]:
        """A row a curve."""
        lines = [[self.number, "Quantity", "Pair", "End", *(shifted(khz, 3) for khz in KHZ)]]
        for number, one in self.numbered():
            for told, values in self._told(one):
                lines.append([number, *told, *(shifted(db, 2) for db in values)])
        return lines

    def columns(self) -> list[list[str]]:
        """A column a curve."""
        names = [" ".join(filter(None, told)) for told, _ in self._told(self.links[0])]
        lines = [[self.number, "MHz", *names]]
        for number, one in self.numbered():
            values = [of for _, of in self._told(one)]
            for at, khz in enumerate(KHZ):
                lines.append([number, shifted(khz, 3), *(shifted(of[at], 2) for of in values)])
        return lines

    @staticmethod
    def _told(one: Link) -> list[tuple[list[str], list[int]]]:
        return [
            ([WORDS[parameter], _pairs(pairs), SIDES[end]], values)
            for (parameter, end, pairs), values in one.curves.items()
            if parameter in WORDS
        ]
