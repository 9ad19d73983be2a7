"""Names of curves: templates expanded over declared words, pair order and ends."""

import pytest

from sweepbook.dialect.names import Grammar, Namer, check
from sweepbook.dialect.raw import Name
from sweepbook.dialect.units import DEFAULTS, in_names
from sweepbook.dialect.words import Ambiguous, build

WORDS: dict[str, dict[str, str | list[str]]] = {
    "parameters": {
        "insertion_loss": ["IL", "Att."],
        "return_loss": "RL",
        "next": "NEXT",
        "fext": "FEXT",
        "psacr_f": "PSACR-F",
        "propagation_delay": "Delay",
        "delay_skew": "Skew",
        "dc_resistance_unbalance_within_pair": "Unbalance",
        "dc_resistance_unbalance_between_pairs": "Unbalance",
    },
    "pairs": {"1-2": ["12", "OR"], "3-6": "36", "4-5": "45", "7-8": "78"},
    "ends": {"near": "Main", "far": "Remote"},
}

UNITS = {quantity: in_names(quantity, unit) for quantity, unit in DEFAULTS.items()}


def grammar(first: str = "disturbing", far_end: str = "receiving") -> Grammar:
    return Grammar(build(WORDS), UNITS, ("/", ">"), first, far_end, frozenset({"", "-"}))


def one(template: str | list[str], text: str, *, bare: bool = False, **how: str) -> Name | None:
    templates = [template] if isinstance(template, str) else template
    return Namer([templates], grammar(**how), bare=bare).name([text])


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("IL 12", Name("insertion_loss", ("1-2",))),
        ("Att. OR", Name("insertion_loss", ("1-2",))),
        ("RL Main 78", Name("return_loss", ("7-8",), "near")),
        ("NEXT Remote 36/12", Name("next", ("3-6", "1-2"), "far")),
        ("NEXT Remote 36>OR", Name("next", ("3-6", "1-2"), "far")),
    ],
)
def test_a_title_is_looked_up(text: str, expected: Name) -> None:
    assert one(["{parameter} {pairs}", "{parameter} {end} {pairs}"], text) == expected


@pytest.mark.parametrize(
    "text",
    [
        "il 12",
        "IL  12",
        "IL12",
        "IL 13",
        "NEXT Main 12",
        "IL Main 12/36",
        "NEXT Main 12/12",
        "IL",
        "",
    ],
)
def test_what_no_template_gives_is_unknown(text: str) -> None:
    assert one(["{parameter} {pairs}", "{parameter} {end} {pairs}"], text) is None


def test_the_disturbed_pair_first() -> None:
    name = one("{parameter} {end} {pairs}", "FEXT Main 12/36", first="disturbed")
    assert name == Name("fext", ("3-6", "1-2"), "near")


def test_pairs_that_are_no_crosstalk_keep_their_order() -> None:
    name = one("{parameter} {pairs}", "Unbalance 12/36", first="disturbed")
    assert name == Name("dc_resistance_unbalance_between_pairs", ("1-2", "3-6"))


@pytest.mark.parametrize(
    ("text", "end"),
    [("FEXT Main 12/36", "far"), ("PSACR-F Remote 36", "near"), ("NEXT Main 12/36", "near")],
)
def test_the_driving_end_is_turned_for_far_end_crosstalk_only(text: str, end: str) -> None:
    name = one("{parameter} {end} {pairs}", text, far_end="driving")
    assert name is not None
    assert name.end == end


def test_the_number_of_pairs_tells_two_parameters_apart() -> None:
    names = [one("{parameter} {pairs}", text) for text in ("Unbalance 12", "Unbalance 12/36")]
    assert [name and name.parameter for name in names] == [
        "dc_resistance_unbalance_within_pair",
        "dc_resistance_unbalance_between_pairs",
    ]


def test_a_verdict_may_do_without_pairs_and_a_curve_may_not() -> None:
    assert one("verdict {parameter}", "verdict NEXT", bare=True) == Name("next")
    assert one("verdict {parameter}", "verdict NEXT") is None
    assert one("verdict {parameter}", "verdict Unbalance", bare=True) is None


def test_a_skew_may_be_of_the_whole_link() -> None:
    assert one("{parameter}", "Skew") == Name("delay_skew")
    assert one("{parameter} {pairs}", "Skew 36") == Name("delay_skew", ("3-6",))


def test_what_has_no_end_gets_none() -> None:
    assert one("{parameter} {end} {pairs}", "Delay Main 12") == Name("propagation_delay", ("1-2",))


def test_an_empty_spelling_is_the_end_of_names_without_one() -> None:
    spelled: dict[str, str | list[str]] = {"near": ["Main", ""], "far": "Remote"}
    table = {**WORDS, "ends": spelled}
    namer = Namer([["{parameter} {pairs}"]], Grammar(build(table), UNITS))
    assert namer.name(["RL 12"]) == Name("return_loss", ("1-2",), "near")
    assert namer.name(["IL 12"]) == Name("insertion_loss", ("1-2",))


def test_several_columns_make_one_name() -> None:
    columns = [["{parameter}"], ["{first_pair}"], ["{second_pair}"], ["{end}"]]
    namer = Namer(columns, grammar())
    assert namer.name(["NEXT", "12", "36", "Main"]) == Name("next", ("1-2", "3-6"), "near")
    assert namer.name([" RL ", "12", "", "Main"]) == Name("return_loss", ("1-2",), "near")
    assert namer.name(["RL", "", "12", "Main"]) == Name("return_loss", ("1-2",), "near")
    assert namer.name(["IL", "12", "-", "-"]) == Name("insertion_loss", ("1-2",))
    assert namer.name(["NEXT", "12", "12", "Main"]) is None
    assert namer.name(["NEXT", "12", "36", "Side"]) is None


def test_the_unit_must_be_that_of_the_parameter() -> None:
    template = "{parameter} {unit} {pairs}"
    assert one(template, "Delay ns 12") == Name("propagation_delay", ("1-2",), unit="ns")
    assert one(template, "Delay us 12") == Name("propagation_delay", ("1-2",), unit="us")
    assert one(template, "Delay dB 12") is None


def test_two_words_of_one_spelling_that_nothing_tells_apart() -> None:
    words = build({"parameters": {"insertion_loss": "Loss", "psfext": "Loss"}})
    with pytest.raises(Ambiguous, match="'Loss 1-2' could be read as"):
        Namer([["{parameter} {pairs}"]], Grammar(words, UNITS))


def test_the_empty_word_names_no_end_of_what_may_do_without() -> None:
    words = build({**WORDS, "ends": {"near": "Main", "far": ["Remote", ""]}})
    templates = ["{parameter} {pairs}", "{parameter} {pairs} {end}"]
    namer = Namer([templates], Grammar(words, UNITS, ("/", ">")))
    assert namer.name(["IL 12"]) == Name("insertion_loss", ("1-2",))
    assert namer.name(["IL 12 Remote"]) == Name("insertion_loss", ("1-2",), "far")
    assert namer.name(["RL 12"]) == Name("return_loss", ("1-2",), "far")
    assert namer.name(["PSACR-F 12"]) == Name("psacr_f", ("1-2",), "far")


def test_a_pair_spelled_for_two() -> None:
    with pytest.raises(Ambiguous, match=r"words\.pairs"):
        build({"pairs": {"1-2": "A", "3-6": "A"}})


def test_blanks_around_a_spelling_do_not_count() -> None:
    assert build({"ends": {"near": " Main "}}).ends == {"Main": "near"}


@pytest.mark.parametrize(
    "template", ["{Parameter}", "{parameter", "{parameter} {parameter}", "{}", "{a b}", "}"]
)
def test_bad_templates(template: str) -> None:
    assert check(template)


def test_marks_of_patterns_stand_for_themselves() -> None:
    assert one("{parameter}.* {pairs}", "IL.* 12") == Name("insertion_loss", ("1-2",))
    assert one("{parameter}.* {pairs}", "ILxx 12") is None


def test_too_many_spellings_are_refused() -> None:
    parameters = {"next": [f"N{number}" for number in range(2000)]}
    pairs = {pair: [f"{pair}.{number}" for number in range(10)] for pair in ("1-2", "3-6")}
    words = build({"parameters": parameters, "pairs": pairs})
    crowded = Grammar(words, UNITS, [str(number) for number in range(100)])
    with pytest.raises(ValueError, match="too many"):
        Namer([["{parameter} {pairs}"]], crowded)
