"""Four invented layouts, filled with chosen numbers: each number, decimal, pair and end comes back.

The numbers are whole ones (hundredths of a dB, kHz) that a small generator of its own writes by
shifting digits; what they must be in a record is said with `Decimal`, not with the reader.
"""

import random
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from decimal import Decimal
from pathlib import Path

import pytest

from tests.reading import axis, called

from .reading import read

PAIRS = ("1-2", "3-6", "4-5", "7-8")
TWO = [(a, b) for a in PAIRS for b in PAIRS if a != b]
Key = tuple[str, str, tuple[str, ...]]


def shifted(whole: int, places: int, decimal: str, thousands: str = "") -> str:
    """A whole number with its decimal mark moved, and marks between its thousands."""
    digits = str(abs(whole)).rjust(places + 1, "0")
    head, tail = digits[: len(digits) - places], digits[len(digits) - places :]
    groups: list[str] = []
    while thousands and len(head) > 3:
        groups.insert(0, head[-3:])
        head = head[:-3]
    text = thousands.join([head, *groups]) + (f"{decimal}{tail}" if places else "")
    return f"-{text}" if whole < 0 else text


@dataclass
class Chosen:
    """The numbers of one test: kHz and hundredths of a dB by parameter, end and pairs."""

    label: str
    axes: dict[str, list[int]] = field(default_factory=dict)
    curves: dict[Key, list[int]] = field(default_factory=dict)
    margins: dict[Key, tuple[int, int]] = field(default_factory=dict)
    lengths: dict[str, int] = field(default_factory=dict)

    def of(self, parameter: str, end: str) -> list[tuple[tuple[str, ...], list[int]]]:
        """Pairs and values of the curves of a parameter at one end."""
        return [(key[2], of) for key, of in self.curves.items() if key[:2] == (parameter, end)]


def choose(seed: int, label: str) -> Chosen:
    """Numbers of one test, with an axis of its own for each parameter."""
    dice = random.Random(seed)
    chosen = Chosen(label)
    ends = {"insertion_loss": ("",), "return_loss": ("near", "far"), "next": ("near", "far")}
    for parameter, its_ends in ends.items():
        count = dice.randint(3, 9)
        chosen.axes[parameter] = sorted(dice.sample(range(1_000, 500_001, 250), count))
        names = TWO if parameter == "next" else [(pair,) for pair in PAIRS]
        for end in its_ends:
            for pairs in names:
                values = [dice.randint(1, 9_999) for _ in range(count)]
                chosen.curves[parameter, end, pairs] = values
                if parameter == "next":
                    at = dice.choice(chosen.axes[parameter])
                    chosen.margins[parameter, end, pairs] = (dice.randint(-999, 999), at)
    chosen.lengths = {pair: dice.randint(100, 9_999) for pair in PAIRS}
    return chosen


CORE = """schema = "urn:sweepbook:dialect-0"
name = "unseen"
title = "Invented for a test"
format = "csv"
"""


def words(ends: tuple[str, str], between: str, first: str, pairs: dict[str, str]) -> str:
    """The core half that the layouts share."""
    spelled = "\n".join(f'{pair} = "{text}"' for pair, text in pairs.items())
    return f"""[words.parameters]
insertion_loss = "Loss"
return_loss = "Echo"
next = "Cross"
length = "Length"
[words.pairs]
{spelled}
[words.ends]
near = "{ends[0]}"
far = "{ends[1]}"
[crosstalk]
first = "{first}"
between = "{between}"
"""


DIGITS = {"1-2": "12", "3-6": "36", "4-5": "45", "7-8": "78"}
COLOURS = {"1-2": "orange", "3-6": "green", "4-5": "blue", "7-8": "brown"}


def in_blocks(tests: Iterable[Chosen]) -> tuple[str, str]:
    """Several tests, a heading for each block, comma decimals, kHz with points, minus signs."""
    lines = ["Exported by;desk 4"]
    for test in tests:
        lines += ["", f"Record {test.label}", "", "<Lengths>", "Pair;Length (m)"]
        lines += [f"{DIGITS[pair]};{shifted(of, 2, ',')}" for pair, of in test.lengths.items()]
        for parameter, word in (("insertion_loss", "Loss"), ("return_loss", "Echo")):
            for end, side in (("", ""), ("near", " / main"), ("far", " / remote")):
                if curves := test.of(parameter, end):
                    titles = ["f;", ";".join(DIGITS[pairs[0]] for pairs, _ in curves)]
                    lines += ["", f"<{word}{side}>;;", "".join(titles)]
                    for at, khz in enumerate(test.axes[parameter]):
                        cells = [shifted(-of[at], 2, ",") for _, of in curves]
                        lines.append(";".join([shifted(khz, 0, ",", "."), *cells]))
    dialect = f"""{CORE}[csv]
layout = "sections"
delimiter = ";"
test.first_line = "Record"
[[csv.sections]]
heading = "<Lengths>"
rows.figures = [{{ name.Pair = "{{pairs}}", value = "{{parameter}} ({{unit}})" }}]
[[csv.sections]]
heading = ["<{{parameter}}>", "<{{parameter}} / {{end}}>"]
curves = {{ frequency = "f", name = "{{pairs}}" }}
[fields]
link.label = "Record"
[units]
frequency = "kHz"
[signs]
negative = ["insertion_loss", "return_loss"]
[numbers]
decimal = ","
thousands = "."
"""
    return "\n".join(lines) + "\n", dialect + words(("main", "remote"), "-", "disturbing", DIGITS)


def in_pages(tests: Iterable[Chosen]) -> tuple[str, str]:
    """Tab stops, a page a test with blank lines between, an end around its blocks, MHz, colours."""
    lines = []
    for number, test in enumerate(tests):
        lines += ["", "", ""] if number else []
        lines += [f"Cable\t{test.label}", "", "Loss", "MHz\t" + "\t".join(COLOURS.values())]
        lines += rows(test, "insertion_loss", "", lambda khz: shifted(khz, 3, "."), "\t")
        for end, side in (("near", "Hall"), ("far", "Desk")):
            lines += [f"At the {side}", "Echo", "MHz\t" + "\t".join(COLOURS.values())]
            lines += rows(test, "return_loss", end, lambda khz: shifted(khz, 3, "."), "\t")
            lines.append("Cross")
            titles = [f"{COLOURS[b]} from {COLOURS[a]}" for (a, b), _ in test.of("next", end)]
            lines.append("\t".join(["MHz", *titles]))
            lines += rows(test, "next", end, lambda khz: shifted(khz, 3, "."), "\t")
    dialect = f"""{CORE}[csv]
layout = "sections"
delimiter = "\\t"
test.blank_lines = 3
[[csv.sections]]
heading = "At the {{end}}"
[[csv.sections]]
heading = "{{parameter}}"
curves = {{ frequency = "MHz", name = "{{pairs}}" }}
[[csv.sections]]
heading = "{{parameter}}"
within = "At the {{end}}"
curves = {{ frequency = "MHz", name = "{{pairs}}" }}
[fields]
link.label = "Cable"
"""
    core = words(("Hall", "Desk"), " from ", "disturbed", COLOURS)
    return "\n".join(lines) + "\n", dialect + core


def as_a_list(tests: Iterable[Chosen]) -> tuple[str, str]:
    """A section of points and one of margins, no titles above the points, Hz, a mark at the end."""
    lines = []
    for test in tests:
        lines += [f"id,{test.label}", "[points]"]
        for (parameter, end, pairs), values in test.curves.items():
            word = {"insertion_loss": "Loss", "return_loss": "Echo", "next": "Cross"}[parameter]
            for khz, value in zip(test.axes[parameter], values, strict=True):
                number = shifted(value, 2, ".")
                lines.append(f'{word},{"/".join(pairs)},{end[:1]},"{khz * 1000}",{number}')
        lines += ["[margins]", "what,pairs,end,worst,where"]
        for (_, end, pairs), (margin, khz) in test.margins.items():
            worst = shifted(-margin, 1, ".")
            lines.append(f"Cross,{'/'.join(pairs)},{end[:1]},{worst},{khz * 1000}")
        lines.append("end of record,,,,")
    dialect = f"""{CORE}[csv]
layout = "sections"
test.last_line = "end of record"
[[csv.sections]]
heading = "[points]"
columns = ["what", "pairs", "end", "Hz", "dB"]
[csv.sections.rows.point]
name = {{ what = "{{parameter}}", pairs = "{{pairs}}", end = "{{end}}" }}
frequency = "Hz"
value = "dB"
[[csv.sections]]
heading = "[margins]"
[[csv.sections.rows.figures]]
name = {{ what = "{{parameter}}", pairs = "{{pairs}}", end = "{{end}}" }}
worst_margin.margin = "worst"
worst_margin.frequency = "where"
[fields]
link.label = "id"
[units]
frequency = "Hz"
[signs]
good_margin = "negative"
"""
    return "\n".join(lines) + "\n", dialect + words(
        ("n", "f"), "/", "disturbing", {p: p for p in PAIRS}
    )


def by_a_column(tests: Iterable[Chosen]) -> tuple[str, str]:
    """One table for all: a column of the test, one column a curve, GHz and a comma in quotes."""
    named = [
        ("insertion_loss", "", (pair,), f"Loss p{number}") for number, pair in enumerate(PAIRS, 1)
    ]
    lines = [",".join(["Cable no.", "GHz", *(title for *_, title in named)])]
    for test in tests:
        for at, khz in enumerate(test.axes["insertion_loss"]):
            values = [test.curves[parameter, end, pairs][at] for parameter, end, pairs, _ in named]
            cells = [f'"{shifted(value, 2, ",")}"' for value in values]
            lines.append(",".join([test.label, f'"{shifted(khz, 6, ",")}"', *cells]))
    dialect = f"""{CORE}[csv]
layout = "curve-per-column"
[csv.curves]
test = "Cable no."
frequency = "GHz"
name = "{{parameter}} {{pairs}}"
[fields]
link.label = "Cable no."
[units]
frequency = "GHz"
[numbers]
decimal = ","
"""
    numbered = {pair: f"p{number}" for number, pair in enumerate(PAIRS, 1)}
    return "\n".join(lines) + "\n", dialect + words(("x", "y"), "-", "disturbing", numbered)


def rows(
    test: Chosen, parameter: str, end: str, frequency: Callable[[int], str], between: str
) -> list[str]:
    """The rows of a table with one column a curve."""
    curves = test.of(parameter, end)
    return [
        between.join([frequency(khz), *(shifted(of[at], 2, ".") for _, of in curves)])
        for at, khz in enumerate(test.axes[parameter])
    ]


WRITTEN: dict[Callable[[Iterable[Chosen]], tuple[str, str]], set[str]] = {
    in_blocks: {"insertion_loss", "return_loss"},
    in_pages: {"insertion_loss", "return_loss", "next"},
    as_a_list: {"insertion_loss", "return_loss", "next"},
    by_a_column: {"insertion_loss"},
}


@pytest.mark.parametrize("seed", [1, 2, 3])
@pytest.mark.parametrize("write", WRITTEN)
def test_every_number_comes_back(
    write: Callable[[Iterable[Chosen]], tuple[str, str]], seed: int, tmp_path: Path
) -> None:
    tests = [choose(10 * seed + number, f"0{seed}-{number}") for number in range(3)]
    text, dialect = write(tests)
    result = read(tmp_path, text, dialect)
    assert result.problems == []
    assert [record.label for record in result.records] == [test.label for test in tests]
    for test, record in zip(tests, result.records, strict=True):
        document = record.document
        found = {called(entry): entry for entry in document["results"]["sweeps"]}
        wanted = {key: of for key, of in test.curves.items() if key[0] in WRITTEN[write]}
        assert len(found) == len(wanted)
        for (parameter, end, pairs), values in wanted.items():
            sweep = found[" ".join(filter(None, (parameter, end, "/".join(pairs))))]
            mhz = [float(Decimal(khz).scaleb(-3)) for khz in test.axes[parameter]]
            assert axis(document, sweep) == mhz
            assert sweep["value_db"].tolist() == [float(Decimal(of).scaleb(-2)) for of in values]
            assert sweep["decimals"] == 2


def test_lengths_come_back(tmp_path: Path) -> None:
    test = choose(7, "x")
    document = read(tmp_path, *in_blocks([test])).document
    lengths = {entry["pairs"][0]: entry for entry in document["results"]["scalars"]}
    assert {pair: of["length_m"] for pair, of in lengths.items()} == {
        pair: float(Decimal(of).scaleb(-2)) for pair, of in test.lengths.items()
    }
    assert {of["decimals"] for of in lengths.values()} == {2}


def test_margins_come_back(tmp_path: Path) -> None:
    test = choose(8, "x")
    document = read(tmp_path, *as_a_list([test])).document
    stated = {called(item): item["worst_margin"] for item in document["stated"]["items"]}
    assert len(stated) == len(test.margins) == 24
    for (parameter, end, pairs), (margin, khz) in test.margins.items():
        item = stated[f"{parameter} {end} {'/'.join(pairs)}"]
        assert item["margin_db"] == float(Decimal(margin).scaleb(-1))
        assert item["frequency_mhz"] == float(Decimal(khz).scaleb(-3))
        assert item["decimals"] == 1
