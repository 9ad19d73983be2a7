"""What a trial proposes can be used, and is told once."""

import json
from pathlib import Path

import pytest

from sweepbook.dialect.load import parse
from sweepbook.draft.fields import guess
from sweepbook.trial.together import Edit, together
from sweepbook.trial.usable import Usable
from sweepbook_plugins.xml import sweeps as xml_sweeps
from tests.csv_format.dialects import CURVES
from tests.csv_format.test_sections import BY_HEADING, sections
from tests.program import run
from tests.xml_format.reading import POINTS

CURVE = "MHz,IL 1-2\n1,1.9\n2,2.7\n"


def tried(folder: Path, content: str, dialect: str = CURVES) -> str:
    (folder / "d.toml").write_text(dialect, encoding="utf-8")
    (folder / "e.csv").write_text(content, encoding="utf-8")
    return " ".join(run("dialect", "try", folder / "d.toml", folder / "e.csv").output.split())


@pytest.mark.parametrize("margin", ["Margin IL 1-2 A", "Reserve IL 1-2 A"])
def test_the_value_at_a_worst_margin_is_no_worst_value(margin: str, tmp_path: Path) -> None:
    said = tried(tmp_path, f"Link,A\n{margin},3.1\nWorst case IL 1-2 A,19.4\n{CURVE}")
    assert "worst_value" not in said
    alone = tried(tmp_path, f"Link,A\nWorst case IL 1-2 A,19.4\n{CURVE}")
    assert 'add worst_value.value = "Worst case {parameter} {pairs} {end}"' in alone


@pytest.mark.parametrize(
    ("template", "key", "used"),
    [
        ("x[@of={parameter}]/@loss", "x[@of=IL]/@loss", True),
        ("x[../@of={parameter}]/@loss", "x[../@of=IL]/@loss", False),
        ("x[@a=IL, ../@of={parameter}]/@loss", "x[@a=IL, ../@of=IL]/@loss", False),
        ("x[@of={parameter}]/@loss", "x[@of=ECHO]/@loss", False),
        ("x[@of={parameter}", "x[@of=IL", False),
    ],
)
def test_only_a_line_that_finds_its_key_is_proposed(template: str, key: str, used: bool) -> None:
    usable = Usable(parse(POINTS.encode(), "d.toml"), xml_sweeps.check_dialect)
    assert usable.figure("worst_margin.margin", template, "insertion_loss", "IL", key) == used


def test_a_test_without_curves_lacks_none(tmp_path: Path) -> None:
    content = "Link,A\nLimit,Cat 6A PL TIA 568.2-D\nResult,FAIL\n"
    assert "found, if the export has them" not in tried(tmp_path, content)


def test_a_parameter_that_stands_nowhere_is_no_change_worth_making(tmp_path: Path) -> None:
    content = f"Link,A\nLimit,Cat 6A PL TIA 568.2-D\nResult,PASS\n{CURVE}"
    said = tried(tmp_path, content)
    assert "fext 0 24 no sign of it" in said
    assert "FEXT: 0 of 24 curves found" not in said
    assert "Insertion loss: 1 of 4 curves found" in said
    left = tried(tmp_path, content.replace("Result", "FEXT 1-2/3-6 B,see sheet 2\nResult"))
    assert "FEXT: 0 of 24 curves found" in left
    assert "fext 0 24 all" in left


def told(what: str, where: str = "") -> Edit:
    return Edit(where, what, told=True)


def test_a_fault_of_several_tests_is_told_once() -> None:
    first, second, third = (told(f"'{day} March' is no date; see dates", "f") for day in (1, 2, 3))
    (one,) = together([[first], [second], [third]])
    assert one.what == "'1 March' is no date; see dates (the same in 2 more tests)"
    assert len(list(together([[first, second]]))) == 2
    assert len(list(together([[Edit("", "add Unit 1")], [Edit("", "add Unit 2")]]))) == 2
    again = told("'1 March' is no date; see dates", "g")
    assert [of.where for of in together([[first], [again]])] == ["f and 1 more place"]


def test_a_limit_that_no_table_goes_by_is_offered_as_a_draft_offers_it(tmp_path: Path) -> None:
    said = tried(tmp_path, f'Link,A\nLimit,"EN 50173-1 Clase EA, canal"\nResult,PASS\n{CURVE}')
    offered = 'add "iso-11801-1-2017/class-ea/channel" = "EN 50173-1 Clase EA, canal" if that is'
    assert offered in said
    assert "permanent-link" not in said
    nothing = tried(tmp_path, f"Link,A\nLimit,house rule\nResult,PASS\n{CURVE}")
    assert 'add "PATH" = "house rule", the path out of `sweepbook limits list`' in nothing


SECTIONS = """
schema = "urn:sweepbook:dialect-0"
name = "pages"
title = "Pages"
format = "csv"
csv.layout = "sections"
csv.sections = [
    { heading = "PAIRS", rows.figures = [{ name.What = "{parameter}", FORM }] },
    { heading = "SWEEP", curves = { frequency = "MHz", name = ["{parameter} {pairs}"] } },
]
fields.link.label = "Link"
fields.test.limit = "Limit"
words.parameters = { insertion_loss = "IL", propagation_delay = "Delay" }
words.pairs = { 1-2 = "P1", 3-6 = "P2", 4-5 = "P3", 7-8 = "P4" }
words.verdicts.pass = "ok"
limits."iso-11801-1-2017/class-e/permanent-link" = "Class E"
"""
PAGES = (
    "Link,A,,NVP (%),69.0\nLimit,Class E,,Main unit serial,QY-1\n"
    "PAIRS\nWhat,P1,P2,P3,P4,Verdict\nDelay,169,175,171,172,ok\n"
    "SWEEP\nMHz,IL P1\n1,1.9\n2,2.7\n"
)


def test_columns_of_pairs_beside_a_verdict_are_asked_for(tmp_path: Path) -> None:
    said = tried(tmp_path, PAGES, SECTIONS.replace("FORM", 'verdict = "Verdict"'))
    assert "in 'P1', 'P2', 'P3', 'P4'; take them by value = \"{pairs}\"" in said
    assert "Propagation delay: 0 of 4" not in said
    taken = tried(tmp_path, PAGES, SECTIONS.replace("FORM", 'value = "{pairs}"'))
    assert "figures of a pair each" not in taken.casefold()


def test_a_cell_that_the_one_before_it_names_is_offered_for_its_field(tmp_path: Path) -> None:
    said = tried(tmp_path, PAGES, SECTIONS.replace("FORM", 'value = "{pairs}"'))
    assert "link.cable.nvp = \"Link/4\"; there stands '69.0'" in said
    assert "test.near.instrument.serial = \"Limit/4\"; there stands 'QY-1'" in said
    assert "for line 2 of e.csv: Add test.near.instrument.serial" in said


@pytest.mark.parametrize("skipped", ["PAIRS", '"PAIRS"'])
def test_a_heading_that_is_skipped_as_well_is_told(skipped: str, tmp_path: Path) -> None:
    dialect = SECTIONS.replace("FORM", 'value = "{pairs}"')
    said = tried(tmp_path, PAGES, f"{dialect}csv.skip = ['{skipped}']\n")
    assert f"csv.skip: {skipped!r} is a heading of csv.sections.0 as well" in said


MARGINS = (
    "Link,A\nLimit,Class E\nIL margin,6.4\nIL Side,far\n"
    "PAIRS\nWhat,P1,P2,P3,P4,Verdict,Unit\nDelay,169,175,171,172,ok,near\nIL,1,2,3,4,ok,far\n"
    "SWEEP\nMHz,IL P1\n1,1.9\n2,2.7\n"
)


def test_words_for_ends_that_nothing_takes_are_told(tmp_path: Path) -> None:
    dialect = SECTIONS.replace("FORM", 'verdict = "Verdict"')
    dialect += 'words.ends = { near = "near", far = "far" }\n'
    dialect += 'figures.worst_margin.margin = "{parameter} margin"\n'
    said = tried(tmp_path, MARGINS, dialect)
    assert "the end of the worst margin of insertion loss: add worst_margin.end" in said
    assert "'Unit' says which end: 'far', 'near'; take it as {end}" in said
    taken = f'{dialect}figures.worst_margin.end = "{{parameter}} Side"\n'
    assert "the end of the worst margin" not in tried(tmp_path, MARGINS, taken)


def test_pairs_of_a_worst_margin_that_nothing_takes_are_told(tmp_path: Path) -> None:
    dialect = SECTIONS.replace("FORM", 'verdict = "Verdict"')
    dialect += 'figures.worst_margin.margin = "{parameter} margin"\ncrosstalk.first = "disturbed"\n'
    dialect = dialect.replace('insertion_loss = "IL"', 'insertion_loss = "IL", next = "NEXT"')
    text = MARGINS.replace("IL Side,far\n", "IL At pair,P3\n")
    two = "NEXT margin,3.1\nNEXT Pair,P1\nNEXT Disturbing pair,P2\n"
    said = tried(tmp_path, text.replace("PAIRS\n", f"{two}PAIRS\n"), dialect)
    pair = (
        'the pair of the worst margin of insertion loss: add worst_margin.pairs = "{parameter} At'
    )
    assert pair in said
    assert 'margin of NEXT: add worst_margin.pairs = "{parameter} Pair"' in said
    second = "the second pair of the worst margin of NEXT: add worst_margin.second_pair"
    assert f'{second} = "{{parameter}} Disturbing pair"' in said
    assert ', together with worst_margin.second_pair = "{parameter} Disturbing pair"' in said
    assert "[figures]" in said


def test_a_pair_that_is_called_as_a_second_one_elsewhere_is_told_as_that(tmp_path: Path) -> None:
    """With the other pair, so that what is told can be followed as it stands."""
    dialect = SECTIONS.replace("FORM", 'verdict = "Verdict"')
    dialect += 'crosstalk = { first = "disturbing", far_end = "receiving" }\n'
    dialect += 'figures.worst_margin.margin = "{parameter} margin"\n'
    dialect = dialect.replace('insertion_loss = "IL"', 'insertion_loss = "IL", acr_f = "ACR-F"')
    two = "IL At pair,P3\nACR-F margin,3.1\nACR-F At pair,P1\nACR-F Disturber,P2\n"
    text = MARGINS.replace("IL Side,far\n", two)
    said = tried(tmp_path, text, dialect)
    pairs = 'worst_margin.pairs = "{parameter} Disturber"'
    second = 'worst_margin.second_pair = "{parameter} At pair"'
    assert f"of insertion loss: add {second}, together with {pairs}" in said
    assert 'worst_margin.pairs = "{parameter} At' not in said
    followed = "".join(f"figures.{line}\n" for line in (pairs, second))
    said = tried(tmp_path, text, dialect + followed)
    assert "worst_margin" not in said


@pytest.mark.parametrize(
    ("keys", "first", "pairs", "second"),
    [
        (("Pair", "Disturbing pair"), "disturbing", "Disturbing pair", "Pair"),
        (("Pair", "Disturbing pair"), "disturbed", "Pair", "Disturbing pair"),
        (("Disturber", "Victim"), "disturbed", "Victim", "Disturber"),
        (("One pair", "Other pair"), "disturbed", "One pair", "Other pair"),
    ],
)
def test_which_pair_disturbs_is_told_by_the_words_of_the_keys(
    keys: tuple[str, str], first: str, pairs: str, second: str, tmp_path: Path
) -> None:
    """The order in which names have two pairs is that of the dialect."""
    dialect = SECTIONS.replace("FORM", 'verdict = "Verdict"')
    dialect += f'crosstalk = {{ first = "{first}", far_end = "receiving" }}\n'
    dialect += 'figures.worst_margin.margin = "{parameter} margin"\n'
    dialect = dialect.replace('insertion_loss = "IL"', 'insertion_loss = "IL", acr_f = "ACR-F"')
    two = f"ACR-F margin,3.1\nACR-F {keys[0]},P1\nACR-F {keys[1]},P2\n"
    said = tried(tmp_path, MARGINS.replace("PAIRS\n", f"{two}PAIRS\n"), dialect)
    assert f'worst_margin.pairs = "{{parameter}} {pairs}"' in said
    assert f'worst_margin.second_pair = "{{parameter}} {second}"' in said


def test_times_without_a_zone_are_told(tmp_path: Path) -> None:
    dialect = SECTIONS.replace("FORM", 'verdict = "Verdict"')
    dialect += 'fields.test.started = "Tested"\n'
    text = MARGINS.replace("Limit,", "Tested,2026-03-04 10:11\nLimit,")
    forms = 'dates = { forms = ["YYYY-MM-DD hh:mm"] }\n'
    assert "'2026-03-04 10:11' names no zone" in tried(tmp_path, text, dialect + forms)
    zoned = forms.replace("{", '{ zone = "Europe/Lisbon",')
    assert "names no zone" not in tried(tmp_path, text, dialect + zoned)


def test_one_word_is_told_once_from_wherever_it_is_looked_at() -> None:
    """An element that names what it is of, and one inside it that is of the same."""
    said = "nothing is known by this name (no word is for 'lag' at {})"
    outer, inner = (Edit(at, said.format(at), told=True) for at in ("@of", "../../@of"))
    (once,) = together([[outer, inner]])
    assert (once.where, once.what) == ("@of and 1 more place", said.format("@of"))
    other = outer._replace(where="x", what=outer.what.replace("lag", "skew"))
    assert len(list(together([[outer, other]]))) == 2


@pytest.mark.parametrize(
    ("names", "offered"),
    [
        (("Cara Nolan", "J. O'Dea"), True),
        (("Nolan, Cara", "Иванов П. А."), True),
        (("UT 40", "UT 41"), False),
        (("Brackenside", "pass"), False),
    ],
)
def test_names_of_persons_below_a_word_that_may_be_an_instrument_are_the_operator(
    names: tuple[str, str], offered: bool
) -> None:
    """A tester is who tests, or what tests with: common practice, no source."""
    filled = {one.path: one for one in guess({"Tester": names, "Link": ["A", "B"]}, None)}
    assert ("test.operator" in filled) == offered
    if offered:
        assert filled["test.operator"].by_text


def test_a_trial_offers_a_name_that_was_left_over_as_the_operator(tmp_path: Path) -> None:
    dialect = SECTIONS.replace("FORM", 'verdict = "Verdict"')
    said = tried(tmp_path, MARGINS.replace("Link,A\n", "Link,A\nTester,Cara Nolan\n"), dialect)
    assert "add test.operator = \"Tester\"; there stands 'Cara Nolan'" in said.replace("Add", "add")


def test_what_a_reader_named_is_not_told_again_as_missing(tmp_path: Path) -> None:
    """Curves below headings in other letters lack words, and no template or text between pairs."""
    table = "\nMHz,1-2\n1,20\n2,21\n"
    content = f"Link,A\nLimit,Cat 6A PL TIA 568.2-D\nResult,PASS\n[IL]{table}[rl A]{table}"
    content += f"[next A]{table.replace('1-2', '1-2/3-6')}[acr-f A]{table}"
    said = tried(tmp_path, content, sections(BY_HEADING))
    assert "'rl' is not in words.parameters, where 'RL' is" in said
    changes = said.partition("Next changes")[2]
    assert "Insertion loss: 1 of 4 curves found" in changes
    assert "Return loss: 0 of 8" not in changes
    assert "NEXT: 0 of 12" not in changes
    assert "acr_f 0 24 all" in said
    assert "fext 0 24" not in said


def test_where_curves_lack_names_no_list_by_which_others_are_read(tmp_path: Path) -> None:
    titles = "MHz,IL 1-2,RL 1-2 A,NEXT 1-2/3-6 A,NEXT 1-2/3-6 B"
    content = f"Link,A\nLimit,Cat 6A PL TIA 568.2-D\nResult,PASS\n{titles}\n1,1.9,20,60,61\n"
    said = tried(tmp_path, content)
    assert "words.parameters.return_loss and words.pairs: Return loss: 1 of 8 curves" in said
    assert "words.pairs and crosstalk.between: NEXT: 2 of 12 curves" in said
    near = content.replace(",NEXT 1-2/3-6 B", "").replace(",61", "")
    assert "words.ends: Return loss: 1 of 8 curves" in tried(tmp_path, near)


def test_a_key_whose_text_was_refused_found_something(tmp_path: Path) -> None:
    dialect = CURVES.replace(
        'link.label = "Link"\n', 'link.label = "Link"\nlink.cable.nvp = "Speed"\n'
    )
    said = tried(tmp_path, f"Link,A\nResult,PASS\nSpeed,78.5\n{CURVE}", dialect)
    assert "the text is kept in extra" in said
    idle = said.partition("found nothing")[2].partition("Next changes")[0]
    assert "test.operator" not in idle
    assert "fields.test.limit" in idle
    assert "fields.link.cable.nvp" not in idle


def test_a_key_to_be_written_is_shown_whole(tmp_path: Path) -> None:
    heading = "A sheet of the hall on the quay with its curves and all that was stated of it"
    dialect = CURVES.replace("[csv.curves]", f'preamble.headings = ["{heading}"]\n[csv.curves]')
    said = tried(tmp_path, f"Link,A\nResult,PASS\n{heading}\nJudged so,PASS\n{CURVE}", dialect)
    assert f"{heading}/Judged so has 'PASS' (1)" in said


@pytest.mark.parametrize("step", [0.1, 5.0])
def test_steps_too_coarse_to_prove_a_pass_are_told(step: float, tmp_path: Path) -> None:
    """The steps of ANSI/TIA-1152-A and IEC 61935-1 are far below 5 MHz (recalled)."""
    points = [round(1.0 + step * at, 3) for at in range(int(499.0 / step) + 1)]
    rows = "".join(f"{mhz},1.9\n" for mhz in points)
    content = f"Link,A\nLimit,Cat 6A PL TIA 568.2-D\nResult,PASS\nMHz,IL 1-2\n{rows}"
    said = tried(tmp_path, content)
    told = "steps: 1 of 1 curves step more coarsely than the limit allows, as by 5 MHz at 1 MHz"
    assert (told in said) is (step > 1.0)
    assert ("no pass can be proved by them (SWP006)" in said) is (step > 1.0)
    (tmp_path / "d.toml").write_text(CURVES, encoding="utf-8")
    document = json.loads(
        run("dialect", "try", tmp_path / "d.toml", tmp_path / "e.csv", "--json").stdout
    )
    assert bool(document["tests"][0]["steps"]) is (step > 1.0)
