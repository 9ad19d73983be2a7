"""Jobs of joined files by the hundred: good ones, and ones with a few things gone wrong in them."""

import random
from dataclasses import dataclass

from tests.joined.test_join import ONE_FILE, ROWS
from tests.joined.test_pieces import OF_XML
from tests.joined.test_places import DIALECT as PLACES
from tests.joined.test_places import FILES as OF_PLACES
from tests.joined.test_several import FILES as SPREAD
from tests.joined.test_several import LIST, LISTED
from tests.joined.test_tables import DIALECT as TABLES
from tests.joined.test_tables import FILES as OF_TABLES

XML_JOINED = OF_XML.replace('pieces_by = "@run"\n', "").replace(
    "[fields]",
    '[join]\nfile = "{}.xml"\nother = "{}-heads.csv"\nformat = "csv"\nkey = "@run"\n'
    'other_key = "Test"\n[join.csv]\nlayout = "test-per-row"\nrows.test = "Test"\n[fields]',
)
PIECES_JOINED = XML_JOINED.replace("[xml]", 'pieces_by = "@run"\n[xml]', 1)


@dataclass(frozen=True)
class Job:
    """A dialect, and files by their names."""

    dialect: str
    files: dict[str, bytes]


def job(seed: int) -> Job:
    """A job of its own for each number; every third one is whole."""
    dice = random.Random(seed)
    dialect, texts = _whole(dice)
    files = {name: text.encode() for name, text in texts.items()}
    for _ in range(0 if seed % 3 == 0 else dice.randint(1, 4)):
        name = dice.choice(sorted(files))
        files[name] = _gone_wrong(files[name], dice)
    return Job(dialect, files)


def _whole(dice: random.Random) -> tuple[str, dict[str, str]]:
    points, heads = _points(dice), _heads(dice)
    room = '[[join]]\nother = "{}-rooms.csv"\nkey = "Room"\nother_key = "Id"\nshared = true\n'
    room += '[join.csv]\nlayout = "test-per-row"\nrows.test = "Id"\n[fields]\n'
    xml = {"3.xml": _xml(dice), "3-heads.csv": heads}
    jobs = [
        (ROWS, {"3-points.csv": points, "3-heads.csv": heads}),
        (
            ROWS.replace('key = "Nr"', 'may_lack = true\nkey = "Nr"'),
            {"3-points.csv": points, "3-heads.csv": heads},
        ),
        (
            ROWS.replace("[join]", "[[join]]").replace("[fields]\n", room),
            {
                "3-points.csv": points,
                "3-heads.csv": heads,
                "3-rooms.csv": "Id,Called\nR1,Riser\nR2,Store\n",
            },
        ),
        (ONE_FILE, {"job.csv": f"Site,Mill\n[Tests]\n{heads}\n[Points]\n{points}"}),
        (TABLES, dict(OF_TABLES)),
        (PLACES, dict(OF_PLACES)),
        (LISTED, {**SPREAD, "tests.csv": LIST}),
        (XML_JOINED, xml),
        (PIECES_JOINED, xml),
    ]
    return dice.choice(jobs)


def _points(dice: random.Random) -> str:
    """Curves of some tests, a row a point; now and then one comes again behind others."""
    lines = ["Nr,What,Pair,End,MHz,dB"]
    for number in _numbers(dice):
        for what, end in dice.sample([("IL", ""), ("RL", "A"), ("RL", "B"), ("XL", "")], 2):
            pair, count = dice.choice(["1-2", "3-6"]), dice.choice([1, 3, 20])
            lines += [
                f"{number},{what},{pair},{end},{mhz},{dice.randint(1, 999) / 10}"
                for mhz in range(1, count + 1)
            ]
    return "\n".join([*lines, ""])


def _xml(dice: random.Random) -> str:
    """An element a curve, of which several may be of one test."""
    traces = [
        f'<trace run="{number}"><of>{dice.choice(["IL", "XL"])}</of><pair>{pair}</pair>'
        f'<p f="1" v="1.9"/><p f="2" v="{dice.randint(1, 99)}"/></trace>'
        for number, pair in zip(_numbers(dice), ["1-2", "3-6", "4-5", "7-8"] * 3, strict=False)
    ]
    return "\n".join(["<traces>", *traces, "</traces>", ""])


def _heads(dice: random.Random) -> str:
    lines = ["Test,Cable,Norm,Outcome,Length 1-2,Room"]
    for number in dice.sample(range(1, 7), dice.randint(2, 6)):
        length, room = dice.choice(["", "62.1"]), dice.choice(["R1", "R2"])
        lines.append(f"{number},A-{number},Cat 6A PL,good,{length},{room}")
    return "\n".join([*lines, ""])


def _numbers(dice: random.Random) -> list[int]:
    """Of tests; some come again, next to themselves or far away."""
    numbers = dice.sample(range(1, 7), dice.randint(1, 5))
    while dice.random() < 0.3:
        numbers.insert(dice.randint(0, len(numbers)), dice.choice(numbers))
    return numbers


def _gone_wrong(raw: bytes, dice: random.Random) -> bytes:
    """A file that somebody wrote to, or that came damaged."""
    lines = raw.splitlines(keepends=True) or [b""]
    at, other = dice.randrange(len(lines)), dice.randrange(len(lines))
    spot = dice.randrange(len(raw) + 1)
    digits = [b"1", b"2", b"3", b" 2", b"02", b"", b"2\xc2\xa0"]
    line = lines[at]
    changed = {
        "again": [*lines[:other], line, *lines[other:]],
        "gone": lines[:at] + lines[at + 1 :],
        "moved": sorted(lines, key=lambda of: (of is line, 0)),
        "renumbered": [*lines[:at], _renumbered(line, dice.choice(digits)), *lines[at + 1 :]],
        "all of a number": [of.replace(b"2,", b"1,", 1) for of in lines],
        "damaged": [
            raw[:spot],
            dice.choice([b'"', b"\0", b"\xff", b"\n\n", b";;,", b"x"]),
            raw[spot:],
        ],
        "cut": [raw[:spot]],
        "twice": [raw, raw],
        "other ends": [of.replace(b"\n", b"\r\n") for of in lines],
        "no titles": lines[1:],
        "nothing": [],
    }
    return b"".join(changed[dice.choice(sorted(changed))])


def _renumbered(line: bytes, digit: bytes) -> bytes:
    """A line whose first cell, or the text of whose first attribute, is another."""
    for mark in (b",", b";"):
        if mark in line:
            return digit + line[line.index(mark) :]
    before, quote, rest = line.partition(b'"')
    return before + quote + digit + rest[rest.find(b'"') :] if quote else line
