"""Change every number of every limit table by one percent, and count what notices.

    python tests/by_hand/one_percent.py [--rows]

It prints, for each document, how many numbers a public value sees both ways, how many any value
sees both ways, and what is left with its effect. With `--rows` it prints the rows that
tests/limits/too_small.json must hold, for comparison with those that it holds.
"""

import json
import sys
from collections import Counter
from importlib.resources import files
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from tests.limits.mutation import FACTORS, effect, noticed, numbers

from sweepbook.limits.library import Library

KINDS = ("seen by a public value", "seen by a recalled value", "one way only", "not seen")


def main(rows: bool) -> None:
    """Count, and print."""
    counts: dict[str, Counter[str]] = {}
    unseen: dict[tuple[str, str, float], list[str]] = {}
    for path in Library.load().paths():
        document = json.loads(
            files("sweepbook_schemas").joinpath(f"limits/{path}.json").read_bytes()
        )
        count = counts.setdefault(path.split("/")[0], Counter())
        for number in numbers(document):
            by = [noticed(document, number, factor) for factor in FACTORS]
            gone = [f for f, who in zip(FACTORS, by, strict=True) if not who]
            count[kind(by)] += 1
            if gone:
                moves = round(max(effect(document, number, factor) for factor in gone), 4)
                changes = json.dumps([f"{100.0 * (f - 1.0):+.0f} %" for f in gone])
                unseen.setdefault((number.name, changes, moves), []).append(path)
    for name, count in (*counts.items(), ("all", sum(counts.values(), Counter()))):
        told(name, count)
    largest = max((moves for _, _, moves in unseen), default=0.0)
    print(f"Of what is not seen both ways, the largest effect is {largest:g} in the limit's unit.")
    if rows:
        for (name, changes, moves), paths in sorted(unseen.items(), key=lambda item: -item[0][2]):
            row = {"number": name, "changes": json.loads(changes), "effect": moves, "tables": paths}
            print(json.dumps(row))


def kind(by: list[str]) -> str:
    """In which of the kinds a number falls by what notices its changes."""
    if all(who == "public" for who in by):
        return KINDS[0]
    return KINDS[1] if all(by) else KINDS[2] if any(by) else KINDS[3]


def told(name: str, count: "Counter[str]") -> None:
    """Print one line of counts with their share."""
    total = sum(count.values())
    shares = (f"{word} {count[word]} ({100.0 * count[word] / total:.1f} %)" for word in KINDS)
    print(f"{name}: {total} numbers: {', '.join(shares)}")


if __name__ == "__main__":
    main("--rows" in sys.argv[1:])
