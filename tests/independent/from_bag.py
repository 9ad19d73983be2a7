"""Judges the tests of a bag again with the files of the bag and the second reader, no more.

    python -I -S from_bag.py BAG

Prints how many margins it compared with those of the bag's audit document, the verdict of each
record by its required margins, and every difference. Own work of this file: which files to open.
"""

import json
import sys
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).parents[2]))
from tests.independent import identity, reader

Json = dict[str, Any]
Worst = tuple[float, float | None]


def load(path: Path) -> Json:
    """A JSON file."""
    document: Json = json.loads(path.read_bytes())
    return document


def told(entry: Json) -> dict[Any, Worst]:
    """The margins of one record as the audit document has them."""
    found: dict[Any, Worst] = {}
    for m in entry["margins"]:
        if m["worst_margin_db"] is not None:
            key = m["parameter"], m["end"], tuple(m["pairs"])
            found[key] = m["worst_margin_db"], m["worst_margin_mhz"]
    for m in entry["scalars"]:
        if m["margin"] is not None and m["parameter"] != "wire_map":
            pairs = tuple(m["pair"].split("/")) if m["pair"] else ()
            found["figure", m["parameter"], pairs] = m["margin"], None
    return found


def recomputed(record: Json, table: Json) -> dict[Any, Worst]:
    """The same by the second reader."""
    curves, figures = reader.margins(record, table)
    found: dict[Any, Worst] = dict(curves)
    return found | {
        ("figure", p, pairs): (margin, None) for (p, _, pairs), (margin, _) in figures.items()
    }


def verdict(margins: dict[Any, Worst], table: Json) -> str:
    """Whether a required parameter misses its limit, as far as exact values tell."""
    required = {n for n, p in table["parameters"].items() if p["obligation"] == "required"}
    names = {key: key[1] if key[0] == "figure" else key[0] for key in margins}
    failing = any(margin < 0 and names[key] in required for key, (margin, _) in margins.items())
    return "fail" if failing else "pass"


def judge(bag: Path) -> Json:
    """Go through the audit document of a bag."""
    answer: Json = {"compared": 0, "verdicts": {}, "differences": []}
    for entry in load(bag / "data/audit.json")["records"]:
        name = entry["record_id"]
        record = load(next(bag.glob(f"data/book/records/*/{name}.json")))
        if identity.record_id(record) != name:
            answer["differences"].append(f"{name} is not what its id says")
        if not entry["limit"]["path"]:
            continue
        table = load(bag / "data/judged-by/limits" / f"{entry['limit']['path']}.json")
        theirs, mine = told(entry), recomputed(record, table)
        for key in theirs.keys() | mine.keys():
            one, other = mine.get(key), theirs.get(key)
            if not (one and other and abs(one[0] - other[0]) <= 1e-9 and one[1] == other[1]):
                answer["differences"].append(f"{name} {key}: {one}, and the audit has {other}")
            answer["compared"] += 1
        answer["verdicts"][name] = verdict(mine, table)
    return answer


if __name__ == "__main__":
    print(json.dumps(judge(Path(sys.argv[1]))))
