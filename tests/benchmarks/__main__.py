"""Measure, and print one table: python -m tests.benchmarks [--only NAME] [--growth N,N,...]."""

import argparse
import platform
import tempfile
from collections.abc import Callable, Iterator
from datetime import UTC, datetime
from importlib.metadata import version
from pathlib import Path

from sweepbook import garbage
from tests.benchmarks import commands, gathering, judging, ports, scaling, writing
from tests.benchmarks.material import Material
from tests.benchmarks.measure import Row, table

SECTIONS: dict[str, Callable[[Material], Iterator[Row]]] = {
    "check": judging.rows,
    "gather": gathering.rows,
    "ports": ports.rows,
    "write": writing.rows,
    "start": commands.rows,
    "workers": scaling.rows,
}
"""What can be measured; each takes the material and yields its rows."""

LIBRARIES = ("numpy", "orjson", "pysimdjson", "pandas", "lxml")


def main() -> None:
    """Measure what was asked for."""
    parser = argparse.ArgumentParser(prog="python -m tests.benchmarks", description=__doc__)
    parser.add_argument("--records", type=int, default=40, help="records of the book (40)")
    parser.add_argument(
        "--growth", default="40,160", help="sizes of books, e.g. 100,1000,10000: 3.4 GB (40,160)"
    )
    names = [*SECTIONS, "growth"]
    parser.add_argument("--only", action="append", choices=names, help="leave the others out")
    asked = parser.parse_args()
    chosen = asked.only or names
    garbage.seldom()  # as the program does: floors have it as well
    found: list[Row] = []
    with tempfile.TemporaryDirectory() as folder:
        material = Material(Path(folder), asked.records)
        for name, rows in SECTIONS.items():
            if name in chosen:
                found += rows(material)
        if "growth" in chosen:
            found += commands.growth(material, [int(size) for size in asked.growth.split(",")])
    libraries = ", ".join(f"{name} {version(name)}" for name in LIBRARIES)
    day = datetime.now(UTC).date()
    print(f"{day}, Python {platform.python_version()}, {platform.machine()}, {libraries}\n")
    print(table(found))


if __name__ == "__main__":
    main()
