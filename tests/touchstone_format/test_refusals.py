"""Every way in which a file may lie: one line that names the place, what was read, what to do."""

import random
import re
import time
import tracemalloc
from pathlib import Path

import numpy as np
import pytest

from sweepbook.record import validate

from .making import BALANCED, COMMENTS, ONE_PAIR, SINGLE, model, network, read, text
from .test_model import judged

SIX = {"format_spec_A": "{:.6f}", "format_spec_B": "{:.6f}"}
LINK = model([1_000, 2_000, 3_000, 100_000, 500_000])
GOOD = text(LINK, **SIX)
LINES = GOOD.splitlines()
FIRST = next(at for at, line in enumerate(LINES) if line[0] not in "!#")
VERSION_2 = text(LINK, version="2.0", **SIX)


def word(new: str) -> str:
    """The file with another word in place of one number, on its line FIRST + 21."""
    words = LINES[FIRST + 20].split()
    changed = [*LINES[: FIRST + 20], " ".join([words[0], new, *words[2:]]), *LINES[FIRST + 21 :]]
    return "\n".join(changed)


def changed(content: str, old: str, new: str) -> str:
    assert old in content
    return content.replace(old, new, 1)


def claiming(form: str, claimed: str) -> str:
    """A file in one format that says another."""
    return changed(text(LINK, form, **SIX), f"S {form.upper()}", f"S {claimed}")


WORDS = (
    b"",
    b"1e308 ",
    b"-1e308",
    b"\n",
    b"[End]\n",
    b"# S\n",
    b"!",
    b"[Reference] 1\n",
    b"nan",
    b"0 0 ",
)
HERE = f"line {FIRST + 21}: "
START = f"line {FIRST + 1}: "
CASES: dict[str, tuple[str | bytes, str]] = {
    "cut between lines": ("\n".join(LINES[: FIRST + 21]), HERE + "the file ends, .* 40 of 128"),
    "cut in a line": (
        "\n".join([*LINES[: FIRST + 20], LINES[FIRST + 20][:25]]),
        HERE + "here begins another one, .* 32 of 128 numbers.*export the file again",
    ),
    "a line missing": (
        "\n".join([*LINES[: FIRST + 20], *LINES[FIRST + 21 :]]),
        f"line {FIRST + 32}: here begins another one, .* 120 of 128",
    ),
    "a line missing in the first matrix": (
        "\n".join([*LINES[: FIRST + 2], *LINES[FIRST + 3 :]]),
        START + "the first frequency has 120 numbers behind it, which is no matrix",
    ),
    "too many numbers": (word("0.1 0.1 0.1"), r"have 128; mend the line"),
    "not a number": (word("nan"), HERE + "'nan' was read where a finite decimal number"),
    "infinity": (word("inf"), HERE + "'inf' was read"),
    "beyond a double": (word("1e999"), HERE + "'1e999' is no finite number"),
    "decimal comma": (word("0,5"), HERE + "'0,5' was read"),
    "digits of Python": (word("1_000"), HERE + "'1_000' was read"),
    "two points": (word("1.2.3"), HERE + "'1.2.3' is no finite number"),
    "other digits": (word("\N{ARABIC-INDIC DIGIT THREE}"), HERE + "'\N{ARABIC-INDIC DIGIT THREE}'"),
    "real read as magnitude": (claiming("ri", "MA"), START + "a magnitude is below 0.*DB or RI"),
    "real read as dB": (claiming("ri", "DB"), START + "at 1 MHz .* times as much comes out"),
    "magnitude read as real": (claiming("ma", "RI"), START + "at 1 MHz .* see RI, MA or DB"),
    "magnitude read as dB": (claiming("ma", "DB"), START + "at 1 MHz .* see RI, MA or DB"),
    "dB read as real": (claiming("db", "RI"), START + "at 1 MHz .* see RI, MA or DB"),
    "dB read as magnitude": (claiming("db", "MA"), START + "a magnitude is below 0"),
    "no unit, so GHz": (changed(GOOD, "# MHz", "#"), "would be 500000 MHz.*the option line"),
    "Hz instead of MHz": (changed(GOOD, "# MHz", "# Hz"), "would be 0.0005 MHz"),
    "Y-parameters": (changed(GOOD, "MHz S", "MHz Y"), "holds Y-parameters; S-parameters are read"),
    "an unknown option": (changed(GOOD, "MHz S", "MHz S X"), "in the option line 'X' was read"),
    "no impedance": (
        changed(GOOD, "R 100.0", "R 0"),
        "1 to 10000 ohm is expected behind R, not '0'",
    ),
    "an impedance without end": (
        changed(GOOD, "R 100.0", "R 1e308"),
        "expected behind R, not '1e308'",
    ),
    "hardly an impedance": (
        changed(GOOD, "R 100.0", "R 1e-320"),
        "expected behind R, not '1e-320'",
    ),
    "an option twice": (changed(GOOD, "MHz S", "MHz S kHz"), "'kHz' says the unit a second time"),
    "no option line": (COMMENTS + "1 0.1 0.2\n", "expected is an option line such as"),
    "an option line alone": ("# MHz S RI R 100\n", "no data stand behind the option line"),
    "comments alone": (COMMENTS, "there are comments only"),
    "UTF-16": (GOOD.encode("utf-16"), "line 1: a zero byte; save the file as plain text"),
    "old line ends": (GOOD.replace("\n", "\r"), "line 1: a carriage return alone"),
    "another encoding": (
        GOOD.encode().replace(b"A-17", b"\xc4-17"),
        r"line 1: the comment is not utf-8; see touchstone\.encoding",
    ),
    "a line without end": (GOOD + "1" * 100_000, "it is longer than 65,536 bytes"),
    "a million million frequencies": (
        changed(VERSION_2, "[Number of Frequencies] 5", "[Number of Frequencies] 1000000000000"),
        "line 7: '1000000000000' frequencies are claimed; from 1 to 100,000 are read",
    ),
    "fewer frequencies than claimed": (
        changed(VERSION_2, "[Number of Frequencies] 5", "[Number of Frequencies] 6"),
        "is 6, and the data end after 5; the file was cut off",
    ),
    "more frequencies than claimed": (
        changed(VERSION_2, "[Number of Frequencies] 5", "[Number of Frequencies] 4"),
        "is 4, and here is one more; mend the number",
    ),
    "many ports": (
        changed(VERSION_2, "[Number of Ports] 8", "[Number of Ports] 99999999999999999999"),
        "ports are claimed; from 1 to 64 are read",
    ),
    "other ports than references": (
        changed(VERSION_2, "[Number of Ports] 8", "[Number of Ports] 7"),
        r"\[Reference\] has 8 entries, \[Number of Ports\] is 7; mend one",
    ),
    "other ports than data": (
        changed(re.sub(r"(?m)^\[Reference\].*\n", "", VERSION_2), "of Ports] 8", "of Ports] 9"),
        "here begins another one, and the frequency on line .* has 128 of 162 numbers",
    ),
    "a version to come": (
        changed(VERSION_2, "[Version] 2.0", "[Version] 3.0"),
        "the version is '3.0'; versions 1.0 and 1.1 .* and 2.0 are read",
    ),
    "no network data": (
        changed(VERSION_2, "[Network Data]", ""),
        r"see whether \[Network Data\] is missing",
    ),
    "an unknown keyword": (
        changed(VERSION_2, "[Network Data]", "[Netwrk Data]"),
        r"read was '\[Netwrk Data\]', expected is a keyword of version 2.0",
    ),
    "half a link more": (text(network(LINK.f / 1e6, LINK.s * 1.3, 100.0)), START + "at 1 MHz 1.27"),
}


@pytest.mark.parametrize("case", CASES)
def test_a_lie_is_told_in_one_line_with_its_place(case: str, tmp_path: Path) -> None:
    content, message = CASES[case]
    began = time.process_time()
    result = read(tmp_path, "x.dat", content, BALANCED)
    assert re.search(message, result.lost), result.lost
    assert "\n" not in result.lost
    assert result.lost.endswith("Dialect: balanced.")
    assert time.process_time() - began < 5.0


def test_the_name_says_other_ports_than_the_data(tmp_path: Path) -> None:
    result = read(tmp_path, "x.s4p", GOOD, BALANCED)
    assert "the file's name says 4 ports, its first frequency has 8" in result.lost
    assert "name it .s8p" in result.lost
    result = read(tmp_path, "x.S16P", VERSION_2, BALANCED)
    assert "says 16 ports, [Number of Ports] says 8" in result.lost


def test_a_port_map_for_more_ports_than_there_are(tmp_path: Path) -> None:
    result = read(tmp_path, "x.s8p", GOOD, SINGLE)
    assert "touchstone.ports names port 9, the file has 8 ports" in result.lost


def test_a_port_map_that_crosses_pairs(tmp_path: Path) -> None:
    crossed = changed(changed(BALANCED, "3-6 = 6", "3-6 = 7"), "4-5 = 7", "4-5 = 6")
    result = read(tmp_path, "x.s8p", GOOD, crossed)
    assert "driven at 3-6 near comes out at 4-5 far rather than at 3-6 far" in result.lost
    assert "see touchstone.ports" in result.lost


def test_what_does_not_lose_the_test_is_told_beside_it(tmp_path: Path) -> None:
    matrix = 32
    turned = [*LINES[:FIRST], *LINES[FIRST + matrix // 2 :], *LINES[FIRST : FIRST + matrix // 2]]
    result = read(tmp_path, "x.s8p", "\n".join(turned), BALANCED)
    assert len(result.records) == 1
    assert "the frequency falls at 1 MHz" in result.problems[0].message
    gain = text(network(LINK.f / 1e6, LINK.s * 1.05, 100.0))
    result = read(tmp_path, "x.s8p", gain, BALANCED)
    assert len(result.records) == 1
    assert "as much comes out as goes in" in result.problems[0].message


def test_noise_data_and_a_second_option_line_are_passed_over(tmp_path: Path) -> None:
    """Version 1: noise data follow those of a two-port, five numbers a line (recalled)."""
    two = text(LINK.subnetwork([0, 4]), **SIX)
    noisy = f"{two}1 2.0 0.1 30 0.2\n2 2.1 0.1 31 0.2\n"
    document = read(tmp_path, "x.s2p", noisy, ONE_PAIR).document
    assert len(document["results"]["grids"][0]["frequency_mhz"]) == 5
    assert any(note.startswith("noise data") for note in document["resolved"]["notes"])
    lines = two.splitlines()
    lines.insert(-1, "# GHz Y MA R 1")
    again = read(tmp_path, "x.s2p", "\n".join(lines), ONE_PAIR).document
    assert again["record_id"] == document["record_id"]


def test_whatever_is_broken_in_a_file_it_is_a_record_or_a_message(tmp_path: Path) -> None:
    """Bytes changed, lost, doubled and put in; what is read follows the schema and is judged."""
    two = text(LINK.subnetwork([0, 4]), "ma", **SIX)
    kinds = [(VERSION_2, BALANCED), (two, ONE_PAIR)]
    chance, read_well = random.Random(11), 0
    for _ in range(120):
        content, dialect = chance.choice(kinds)
        broken = bytearray(content.encode())
        for _ in range(chance.choice((1, 2, 8))):
            at = chance.randrange(chance.choice((400, len(broken))) % len(broken) or 1)
            end = at + chance.randrange(60)
            new = chance.choice(WORDS)
            broken[at : chance.choice((at, at + 1, end))] = chance.choice((new, broken[at:end] * 2))
        result = read(tmp_path, "x.dat", bytes(broken), dialect)
        for record in result.records:
            assert validate.problems(record.document) == ()
            judged(record)
            read_well += 1
        assert result.records or len(result.problems) == 1
    assert 5 < read_well < 115


def test_memory_is_that_of_the_curves_that_are_kept(tmp_path: Path) -> None:
    """16 ports: of 256 complex numbers a frequency 64 are kept, and only one block is in texts."""
    rows = 0.05 * np.random.RandomState(1).standard_normal((16, 32))
    for port in range(8):  # straight through, so that it looks like a link
        rows[8 + port, 2 * port] = rows[port, 2 * (8 + port)] = 0.5
    block = "\n".join("  ".join(f"{value:.6f}" for value in row) for row in rows)
    path = tmp_path / "x.s16p"
    peaks, counts = [], (130, 400)
    for count in counts:
        body = "".join(f"{1.0 + at / 4:.2f} {block}\n" for at in range(count))
        content = f"{COMMENTS}# MHz S RI R 50\n{body}"
        tracemalloc.start()
        path.write_text(content)
        del body, content
        tracemalloc.reset_peak()
        before = tracemalloc.get_traced_memory()[0]
        assert read_file(path) == count
        peaks.append(tracemalloc.get_traced_memory()[1] - before)
        tracemalloc.stop()
    grown = (peaks[1] - peaks[0]) / (counts[1] - counts[0])
    assert grown < 6 * 64 * 16, peaks


def read_file(path: Path) -> int:
    """Read a file of single-ended ports; the number of its frequencies."""
    from sweepbook.dialect.load import parse
    from sweepbook.dialect.raw import RawTest
    from sweepbook.source import Source
    from sweepbook_plugins.touchstone.reading import tests

    (test,) = tests(Source(path), parse(SINGLE.encode()))
    assert isinstance(test, RawTest)
    assert test.faults == []
    return len(test.grids[0]["frequency_mhz"])
