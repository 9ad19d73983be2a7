"""A dialect whose test is an element around several tests is told so before all that follows."""

from pathlib import Path

import pytest

from .reading import HEAD, read

TESTS = "".join(
    f'<entry nr="{at}"><link>{label}</link><who>op-{at}</who><result>PASS</result>'
    f'<Length result="PASS"/>{extra}</entry>'
    for at, (label, extra) in enumerate((("A-1", ""), ("A-2", "<note>twice</note>"), ("A-2", "")))
)
JUDGED = '\n[[xml.figures]]\npath = "{where}{{parameter}}"\nverdict = "@result"\n'


def dialect(test: str, label: str, where: str) -> str:
    core = HEAD.replace('"@label"', f'"{label}"').replace('"who"', f'"{where}who"')
    core = core.replace('"result"', f'"{where}result"')
    return f'{core}[xml]\ntest = "{test}"\n{JUDGED.format(where=where)}'


@pytest.mark.parametrize("label", ["entry/link", "entry[@nr=1]/link"])
def test_elements_with_a_label_each_are_named(label: str, tmp_path: Path) -> None:
    text = f"<job>{TESTS}</job>"
    result = read(tmp_path, text, dialect("/job", label, "entry/"))
    assert result.records == []
    told = result.problems[0].message
    assert told.startswith("line 1: 3 elements entry stand in this test, each with a label")
    assert "('A-1', 'A-2', 'A-2')" in told
    assert 'write test = "/job/entry" in [xml]' in told
    right = read(tmp_path, text, dialect("/job/entry", "link", ""))
    assert [of.document["link"]["label"] for of in right.records] == ["A-1", "A-2", "A-2"]


def test_two_verdicts_of_one_test_are_no_such_elements(tmp_path: Path) -> None:
    """Neither where a row holds the label as others hold other keys."""
    rows = "".join(
        f'<row key="{key}" text="{text}"/>' for key, text in (("Link", "A-1"), ("Room", "4"))
    )
    text = f'<job>{rows}<Length result="PASS"/>\n<Length result="PASS"/></job>'
    of = dialect("/job", "row[@key=Link]/@text", "")
    (problem,) = read(tmp_path, text, of).problems
    assert "the verdict of 'length' comes a second time" in problem.message
    assert "each with a label" not in problem.message


def dated(day: str) -> str:
    """Two rooms with three links, each with its day, under words that the dialect does not know."""
    links = [
        f'<entry link="A-{at}">{day.format(at + 1)}<Strecke urteil="gut"/><Verlust db="3"/></entry>'
        for at in range(3)
    ]
    return f"<job><room>{''.join(links[:2])}</room><room>{links[2]}</room></job>"


@pytest.mark.parametrize(
    "day", ["<made>2026-03-0{} 09:10</made>", "<when><utc at='0{}.03.2026'/></when>"]
)
def test_elements_with_a_day_each_are_named_where_nothing_is_known(
    day: str, tmp_path: Path
) -> None:
    (problem,) = read(tmp_path, dated(day), dialect("/job", "@label", "")).problems
    assert "nothing in this test is known: 3 elements room/entry stand in" in problem.message
    assert 'write test = "/job/room/entry" in [xml]' in problem.message


@pytest.mark.parametrize("day", ["", "<made>first, at {}</made>"])
def test_elements_without_a_day_are_none(day: str, tmp_path: Path) -> None:
    (problem,) = read(tmp_path, dated(day), dialect("/job", "@label", "")).problems
    assert "nothing measured and no verdict was found" in problem.message


def test_days_beside_most_of_a_test_tell_no_tests(tmp_path: Path) -> None:
    """Such as when the testers were calibrated."""
    testers = "".join(f'<tester due="2026-0{at}-01"/>' for at in (4, 5))
    text = f"<job>{testers}{''.join(f'<x><y>{at}</y></x>' for at in range(9))}</job>"
    (problem,) = read(tmp_path, text, dialect("/job", "@label", "")).problems
    assert "day of its own" not in problem.message
