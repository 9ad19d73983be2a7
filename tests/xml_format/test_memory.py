"""A file of any length is read with the memory of one test: measured at two lengths."""

import subprocess
import sys
from pathlib import Path

import pytest

from .reading import LISTS, POINTS

SCRIPT = """
import resource, sys
from pathlib import Path
from sweepbook.dialect.load import load
from sweepbook.source import Source
from sweepbook_plugins.xml.plan import plan_of
from sweepbook_plugins.xml.tests import tests
plan = plan_of(load(Path(sys.argv[2])))
count = sum(not item.faults for item in tests(Source(Path(sys.argv[1])), plan))
print(count, resource.getrusage(resource.RUSAGE_SELF).ru_maxrss)
"""
POINT = "".join(f'<p f="{n}">{n / 8}</p>' for n in range(1, 701))
LIST = " ".join(str(n / 8) for n in range(1, 701))
KINDS = {
    "points": (POINTS, f'<t label="A"><c of="IL" pair="1-2">{POINT}</c></t>\n', ""),
    "lists": (
        LISTS,
        f'<t label="A"><c of="IL" pair="1-2" axis="a">{LIST}</c></t>\n' * 4,
        f'<axis id="a">{LIST}</axis>',
    ),
}


@pytest.mark.parametrize("kind", KINDS)
def test_memory_does_not_grow_with_the_file(kind: str, tmp_path: Path) -> None:
    dialect, tests, axis = KINDS[kind]
    (tmp_path / "d.toml").write_text(dialect, encoding="utf-8")
    peaks = []
    for count in (100, 2000):
        path = tmp_path / f"{count}.xml"
        with path.open("w", encoding="utf-8") as stream:
            stream.write(f"<r>{axis}")
            stream.writelines(tests for _ in range(count))
            stream.write("</r>")
        ran = subprocess.run(
            [sys.executable, "-c", SCRIPT, str(path), str(tmp_path / "d.toml")],
            capture_output=True,
            text=True,
            check=True,
        )
        read, peak = map(int, ran.stdout.split())
        assert read == count * tests.count("<t ")
        peaks.append(peak)
    assert peaks[1] < peaks[0] * 1.2
