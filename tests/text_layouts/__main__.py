"""Layouts by number, drafted and read, with a tally: python -m tests.text_layouts 0 100."""

import sys
from collections import Counter
from pathlib import Path

from .choices import draw
from .trial import Outcome, run, run_in

_SHOWN = 12


def main(arguments: list[str]) -> None:
    """Run the layouts from one number up to another, or one into a folder."""
    if len(arguments) > 1 and not arguments[1].isdigit():
        folder = Path(arguments[1])
        folder.mkdir(parents=True, exist_ok=True)
        outcome = run_in(draw(int(arguments[0])), folder)
        (folder / "draft.toml.txt").write_text(outcome.draft, "utf-8")
        _tell(outcome)
        return
    outcomes = [run(seed) for seed in range(int(arguments[0]), int(arguments[1]))]
    _tally(outcomes)


def _tell(outcome: Outcome) -> None:
    print({key: text for key, text in outcome.choices.shown().items()})
    for problem in outcome.problems[:_SHOWN]:
        print("problem", problem)
    for fault in outcome.faults[:40]:
        print(*fault)


def _tally(outcomes: list[Outcome]) -> None:
    """How many are right, what goes wrong, and under which choice."""
    right = [of for of in outcomes if not of.faults]
    wrong = [of for of in outcomes if of.fields("wrong")]
    refused = [of for of in outcomes if of.fields("refused")]
    print(f"{len(outcomes)} layouts: {len(right)} right, {len(wrong)} with something wrong, "
          f"{len(refused)} with tests not read")  # fmt: skip
    count: Counter[str] = Counter()
    where: dict[str, list[int]] = {}
    for of in outcomes:
        for kind in ("refused", "wrong", "missing"):
            for name in of.fields(kind):
                count[f"{kind} {name}"] += 1
                where.setdefault(f"{kind} {name}", []).append(of.choices.seed)
    for name, times in count.most_common():
        print(f"  {times:4} {name:34} {where[name][:_SHOWN]}")
    print("right by choice")
    by: dict[tuple[str, str], list[int]] = {}
    for of in outcomes:
        for key, text in of.choices.shown().items():
            by.setdefault((key, text), []).append(not of.faults)
    for (key, text), some in sorted(by.items()):
        print(f"  {key} {text!r}: {sum(some)} of {len(some)}")


if __name__ == "__main__":
    main(sys.argv[1:])
