"""The files of one export."""

import csv
import io
from pathlib import Path

from . import figures, heads, sweeps
from .choices import Choices
from .heads import Cells
from .truth import Test, make
from .wording import Wording

_TESTS = 3


def tests_of(choices: Choices) -> list[Test]:
    """The tests that an export holds."""
    ends = {"": (), "far": ("far",), "both": ("near", "far")}[choices.acr_f]
    return make(choices.seed, _TESTS, ends)


def write(choices: Choices, folder: Path) -> list[Path]:
    """Write the files of an export, and name them."""
    tests, wording = tests_of(choices), Wording(choices)
    if choices.structure == "joined":
        files = _joined(tests, wording)
    elif choices.several:
        body = [line for at, test in enumerate(tests) for line in _opened(at, test, wording)]
        files = {"export.csv": [*_top(tests[0], wording), *body]}
    else:
        files = {
            f"test-{at}.csv": [*_top(test, wording), *_whole(test, wording)]
            for at, test in enumerate(tests, 1)
        }
    paths = []
    for name, lines in files.items():
        path = folder / name
        path.write_bytes(_text(lines, choices).encode(choices.encoding))
        paths.append(path)
    return paths


def _top(test: Test, wording: Wording) -> list[Cells]:
    return [["Veldor cable sheet"], *heads.key_lines(heads.of_file(test, wording), wording, 6), []]


def _opened(at: int, test: Test, wording: Wording) -> list[Cells]:
    """A test among others, behind what tests begin with."""
    opening = {
        "label": [],
        "number": heads.key_lines([("Test", str(at + 1))], wording),
        "bracket": [[f"[Test {at + 1}]"]],
        "rule": [[f"=== {test.label} ==="]],
    }[wording.choices.opening]
    return [[], *opening, *_whole(test, wording)]


def _whole(test: Test, wording: Wording) -> list[Cells]:
    """All of one test."""
    choices = wording.choices
    lines = heads.test_lines(heads.of_test(test, wording), wording)
    headed = choices.structure in ("sections", "keyed", "parameters")
    results: list[Cells] = [[]]
    results += [[choices.heading.format(wording["results"])]] * headed
    results += figures.scalars(test, wording)
    if choices.margins != "none":
        results += [[], *[[choices.heading.format(wording["margins"])]] * headed]
        results += figures.margins(test, wording)
    curves: list[Cells] = [[], *sweeps.STRUCTURES[choices.structure](test, wording)]
    return [*lines, *curves, *results] if choices.behind else [*lines, *results, *curves]


def _joined(tests: list[Test], wording: Wording) -> dict[str, list[Cells]]:
    """A file with a row a test, and one with the curves of all."""
    head: list[Cells] = []
    curves: list[Cells] = []
    how = sweeps.long if wording.choices.limit_column else sweeps.rows
    for test in tests:
        pairs = [*heads.of_test(test, wording), *heads.of_file(test, wording)]
        told = figures.texts(test, wording)
        for parameter, some in told.items():
            pairs += [(figures.title(parameter, wording, of), text) for of, text in some.items()]
        for one in test.stated if wording.choices.margins != "none" else ():
            name = " ".join(
                filter(None, (wording[one.parameter], wording.end(one.end) if one.end else ""))
            )
            pairs.append((f"{name} {wording['margin']}", wording.number(one.margin, 1)))
            pairs.append((f"{name} {wording.at()}", wording.frequency(one.khz)))
            pairs.append((f"{name} {wording['verdict']}", wording.verdict(passed=one.passed)))
        head += [[key for key, _ in pairs]] if not head else []
        head.append([text for _, text in pairs])
        table = how(test, wording, [wording["label"], test.label])
        curves += table if not curves else table[1:]
    return {"job-curves.csv": curves, "job-tests.csv": head}


def _text(lines: list[Cells], choices: Choices) -> str:
    """Lines as one text, cells in quotes where they hold the delimiter."""
    out = io.StringIO()
    writer = csv.writer(out, delimiter=choices.delimiter, lineterminator=choices.line_end)
    for line in lines:
        if len(line) == 1:
            out.write(line[0] + choices.line_end)
        else:
            writer.writerow(line)
    return out.getvalue()
