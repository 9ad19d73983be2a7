"""Drafts for text tables: what is read by them is what the test wrote, and doubts are marked."""

import re
from pathlib import Path

import pytest

from sweepbook.dialect.load import BadDialect, parse
from tests.program import DEMO, run

from .drafting import curves, draft_of, edited, read, written
from .links import KHZ, PAIRS, blocks, link, long, shifted, wide

SETTLE, SETTLED = 'first = "TO-BE-SETTLED"', 'first = "disturbed"'
RAW = ("insertion_loss", "return_loss", "next", "fext")


def same_end(parameter: str, end: str | None) -> str | None:
    del parameter
    return end


def other_end_of_fext(parameter: str, end: str | None) -> str | None:
    return {"near": "far", "far": "near"}[str(end)] if parameter == "fext" else end


def test_one_column_a_curve_needs_no_change(tmp_path: Path) -> None:
    one = link("007", 52.4)
    draft = draft_of(tmp_path, wide(one, *RAW, "acr_f"))
    (record,), problems = read(tmp_path / "export.csv", draft)
    assert problems == []
    assert record.label == "007"
    assert curves(record.document) == written(one, *RAW, "acr_f")
    assert record.document["results"]["scalars"][0]["length_m"] == 52.4
    assert record.document["stated"]["overall"]["verdict"] == "pass"
    assert record.document["test"]["started"]["rfc3339"] == "2026-02-28T17:05:00-00:00"
    assert record.document["resolved"]["limit"]["path"] == "tia-568.2-d/cat6a/permanent-link"


def test_an_order_of_pairs_by_the_definition_of_acr_f_is_an_assumption(tmp_path: Path) -> None:
    draft = draft_of(tmp_path, wide(link("1", 60.0), *RAW, "acr_f"))
    note = "\n# ASSUMED: fext less the insertion loss of the disturbed pair is acr_f.\n"
    assert note in draft
    assert '\nfirst = "disturbed"\n' in draft


def test_elfext_does_not_tell_the_order_of_pairs(tmp_path: Path) -> None:
    draft = draft_of(tmp_path, wide(link("1", 60.0), *RAW, "acr_f", ratio="ELFEXT"))
    assert '\nfirst = "TO-BE-SETTLED"\n' in draft


def test_power_sums_prove_the_order_against_a_wrong_acr_f() -> None:
    # The demo's README: ACR-F of this link was exported with the disturbing pair's loss.
    export = DEMO / "exports" / "heron-2A-P1-10.csv.gz"
    draft = run("dialect", "draft", export).stdout
    above = draft[: draft.index('\nfirst = "disturbing"\n')].rpartition("[crosstalk]")[2]
    assert "worked out: acr_f over the disturbing pairs adds up to psacr_f" in above
    assert "COULD NOT TELL: fext less the insertion loss" in above


def test_an_order_of_pairs_that_nothing_shows_is_left_to_a_person(tmp_path: Path) -> None:
    one = link("1", 60.0)
    draft = draft_of(tmp_path, wide(one, *RAW))
    assert '\nfirst = "TO-BE-SETTLED"\n' in draft
    with pytest.raises(BadDialect, match=r"crosstalk\.first: 'TO-BE-SETTLED' is not one of"):
        parse(draft.encode())
    draft = edited(draft, ('first = "TO-BE-SETTLED"', 'first = "disturbed"'))
    (record,), _ = read(tmp_path / "export.csv", draft)
    assert curves(record.document) == written(one, *RAW)


def test_power_sums_of_the_far_end_alone_have_an_end_too(tmp_path: Path) -> None:
    text = wide(link("1", 60.0), "insertion_loss", "return_loss")
    draft = draft_of(tmp_path, text.replace("RL", "PS ACR-F"))
    assert '\nfar_end = "receiving"\n' in draft
    assert "\nfirst = " not in draft
    (record,), _ = read(tmp_path / "export.csv", draft)
    assert {key[0] for key in curves(record.document)} == {"insertion_loss", "psacr_f"}


def test_next_alone_leaves_no_question(tmp_path: Path) -> None:
    one = link("1", 60.0)
    draft = draft_of(tmp_path, wide(one, "insertion_loss", "next"))
    assert 'first = "TO-BE-SETTLED"' not in draft
    (record,), _ = read(tmp_path / "export.csv", draft)
    assert curves(record.document) == written(one, "insertion_loss", "next")


def test_one_row_a_point_with_several_tests(tmp_path: Path) -> None:
    links = [link("A-1", 31.0), link("A-2", 88.5)]
    draft = draft_of(tmp_path, long(links, same_end))
    records, problems = read(tmp_path / "export.csv", draft)
    assert problems == []
    assert [record.label for record in records] == ["A-1", "A-2"]
    for one, record in zip(links, records, strict=True):
        assert curves(record.document) == written(one, *RAW)


def test_titles_from_and_to_are_an_assumption_that_is_told(tmp_path: Path) -> None:
    draft = draft_of(tmp_path, long([link("A-1", 31.0)], same_end))
    above = draft[: draft.index('\nfirst = "disturbing"')].rpartition("[crosstalk]")[2]
    assert "ASSUMED: 'From' and 'To' name the disturbing" in above


def test_an_export_that_names_the_driving_end_takes_one_change(tmp_path: Path) -> None:
    links = [link("A-1", 31.0), link("A-2", 88.5)]
    draft = draft_of(tmp_path, long(links, other_end_of_fext))
    assert "ASSUMED: the end named with far-end crosstalk" in draft
    draft = edited(draft, ('far_end = "receiving"', 'far_end = "driving"'))
    records, _ = read(tmp_path / "export.csv", draft)
    for one, record in zip(links, records, strict=True):
        assert curves(record.document) == written(one, *RAW)


def test_sections_with_several_tests(tmp_path: Path) -> None:
    links = [link("07", 40.0), link("08", 71.2), link("09", 12.5)]
    draft = draft_of(tmp_path, blocks(links))
    records, problems = read(tmp_path / "export.csv", draft)
    assert problems == []
    assert [record.label for record in records] == ["07", "08", "09"]
    for one, record in zip(links, records, strict=True):
        assert curves(record.document) == written(one, "insertion_loss", "return_loss", "next")
        lengths = [
            entry["length_m"]
            for entry in record.document["results"]["scalars"]
            if entry["parameter"] == "length"
        ]
        assert lengths == pytest.approx([one.metres] * 4, abs=0.02)


def test_a_delay_without_a_unit_is_known_by_the_speed_of_the_wave(tmp_path: Path) -> None:
    draft = draft_of(tmp_path, blocks([link("07", 40.0)] * 2))
    note = "no unit is named; 196 in ns makes 0.68 of the speed of light, as usual"
    assert f"worked out: {note}" in " ".join(draft.replace("\n#", " ").split())


@pytest.mark.parametrize(
    ("dates", "forms"),
    [
        (["03/04/2026 09:05", "04/04/2026 09:05"], '["DD/MM/YYYY hh:mm", "MM/DD/YYYY hh:mm"]'),
        (["03/04/2026 09:05", "13/04/2026 09:05"], '["DD/MM/YYYY hh:mm"]'),
        (["3. 4. 2026 09:05", "13. 4. 2026 09:05"], '["DD. MM. YYYY hh:mm"]'),
        (["03/04/2026 9:05 PM", "04/14/2026 9:05 PM"], '["MM/DD/YYYY hh:mm ap"]'),
    ],
)
def test_day_and_month_are_never_guessed(tmp_path: Path, dates: list[str], forms: str) -> None:
    text = wide(link("1", 60.0), "insertion_loss")
    for number, date in enumerate(dates):
        path = tmp_path / f"{number}.csv"
        path.write_text(text.replace("28.02.2026 17:05", date), encoding="utf-8")
    draft = run("dialect", "draft", *(tmp_path / f"{n}.csv" for n in range(len(dates)))).stdout
    assert f"\nforms = {forms}\n" in draft


def test_curves_without_a_name_that_is_known_are_told(tmp_path: Path) -> None:
    text = wide(link("1", 60.0), "insertion_loss").replace("Attenuation", "Dimness")
    draft = draft_of(tmp_path, text)
    assert "ASSUMED: by the course of its curves alone" in draft
    assert '\ninsertion_loss = "Dimness"\n' in draft


@pytest.mark.parametrize(
    ("line", "keeps"),
    [
        ("Failed;no", False),
        ("Screened;yes", False),
        ("Passed;yes", True),
        ("Rating;PASS", True),
    ],
)
def test_an_answer_is_a_verdict_only_where_a_pass_is_asked_for(
    tmp_path: Path, line: str, keeps: bool
) -> None:
    text = wide(link("1", 60.0), "insertion_loss").replace("Outcome;PASS", line)
    assert ("\nstated.overall = " in draft_of(tmp_path, text)) == keeps


def test_the_day_of_a_calibration_is_not_taken_for_that_of_the_test(tmp_path: Path) -> None:
    text = wide(link("1", 60.0), "insertion_loss").replace("Tested on;", "Calibration due;")
    assert "\ntest.started = " not in draft_of(tmp_path, text)


def test_elfext_and_plain_resistance_are_told_as_assumptions(tmp_path: Path) -> None:
    text = wide(link("1", 60.0), *RAW, "acr_f", ratio="ELFEXT")
    draft = draft_of(tmp_path, text.replace("Length [m];60,0", "Resistance 12;8,4"))
    said = " ".join(draft.replace("\n#", " ").split())
    assert "ASSUMED: this is of the loop of both conductors, not of one of them" in said
    assert "of ELFEXT some take the disturbing pair's; seen: 'ELFEXT'" in said


@pytest.mark.parametrize("line", ["NVP %;70", "NVP;70 %"])
def test_an_nvp_above_one_is_in_percent(tmp_path: Path, line: str) -> None:
    text = wide(link("007", 52.4), *RAW).replace("Outcome;", f"{line}\nOutcome;")
    draft = edited(draft_of(tmp_path, text), (SETTLE, SETTLED))
    assert '\nnvp = "%"\n' in draft
    (record,), problems = read(tmp_path / "export.csv", draft)
    assert problems == []
    assert record.document["link"]["cable"] == {"nvp": 0.7, "nvp_decimals": 2}


def test_words_that_may_mean_a_pass_or_a_fail_are_not_guessed(tmp_path: Path) -> None:
    text = wide(link("007", 52.4), *RAW).replace("Outcome;PASS", "Outcome;in order")
    draft = draft_of(tmp_path, text)
    assert "\n[words.verdicts]\n# pass = []\n# fail = []\n" in draft
    note = draft.partition("\n[words.verdicts]")[0].rpartition("COULD NOT TELL")[2]
    assert '"in order"' in note
    awake = edited(
        draft,
        (SETTLE, SETTLED),
        ("# pass = []", 'pass = ["in order"]'),
    )
    (record,), _ = read(tmp_path / "export.csv", awake)
    assert record.document["stated"]["overall"]["verdict"] == "pass"


def test_a_letter_in_place_of_a_contact_is_an_open_wire(tmp_path: Path) -> None:
    wires = "Wire map;1>1,2>2,3>3,4>x,5>5,6>6,7>7,8>8"
    text = wide(link("007", 52.4), *RAW).replace("Outcome;PASS", f"{wires}\nOutcome;FAIL")
    draft = edited(draft_of(tmp_path, text), (SETTLE, SETTLED))
    (record,), problems = read(tmp_path / "export.csv", draft)
    assert problems == []
    pins = record.document["results"]["wire_map"]["pins"]
    assert pins == [[str(n), None if n == 4 else str(n)] for n in range(1, 9)]


def test_letters_of_pairs_are_an_assumption_that_is_told(tmp_path: Path) -> None:
    one = link("007", 52.4)
    text = wide(one, "insertion_loss", "return_loss", "next")
    for digits, letter in (("12", "A"), ("36", "B"), ("45", "C"), ("78", "D")):
        text = re.sub(rf"(?<=[ +]){digits}(?=[ +;\n])", letter, text)
    assert ";NEXT B+A local;" in text
    draft = draft_of(tmp_path, text)
    assert "ASSUMED: the letters go to contacts as in 1000BASE-T" in draft
    (record,), problems = read(tmp_path / "export.csv", draft)
    assert problems == []
    assert curves(record.document) == written(one, "insertion_loss", "return_loss", "next")


def test_points_of_several_parameters_in_each_row(tmp_path: Path) -> None:
    links = [link("A-1", 31.0), link("A-2", 88.5)]
    lines = ["Circuit;Norm;When;Outcome;Pair;MHz;IL dB;RL near dB;RL far dB"]
    for one in links:
        for pair in PAIRS:
            held = [("insertion_loss", None), ("return_loss", "near"), ("return_loss", "far")]
            columns = [one.curves[parameter, end, (pair,)] for parameter, end in held]
            head = f"{one.label};Cat 6A PL TIA 568.2-D;2026-02-28T17:05:00Z;PASS"
            head += f";{pair.replace('-', '')}"
            for at, khz in enumerate(KHZ):
                cells = [shifted(khz, 3), *(shifted(of[at], 2) for of in columns)]
                lines.append(";".join([head, *cells]))
    draft = draft_of(tmp_path, "\n".join(lines) + "\n")
    records, problems = read(tmp_path / "export.csv", draft)
    assert problems == []
    for one, record in zip(links, records, strict=True):
        assert curves(record.document) == written(one, "insertion_loss", "return_loss")
