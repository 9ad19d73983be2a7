"""Which words of a text a dialect lacks, where a template would stand for it otherwise."""

from collections.abc import Sequence
from dataclasses import replace
from time import process_time

import pytest

from sweepbook.dialect.names import Grammar
from sweepbook.dialect.undeclared import Lacking, Undeclared

from .test_names import grammar


def undeclared(text: str, templates: Sequence[str], of: Grammar) -> Sequence[Undeclared]:
    return Lacking(templates, of).of(text)


TEMPLATES = ("{parameter}", "{parameter} - MEASURED AT {end}", "{parameter} {pairs} {end}")


@pytest.mark.parametrize(
    ("text", "lacking"),
    [
        ("NEXT - MEASURED AT MAIN", ["'MAIN' is not in words.ends, where 'Main' is"]),
        ("Next - MEASURED AT Main", ["'Next' is not in words.parameters, where 'NEXT' is"]),
        (
            "Fext - MEASURED AT REMOTE",
            [
                "'Fext' is not in words.parameters, where 'FEXT' is",
                "'REMOTE' is not in words.ends, where 'Remote' is",
            ],
        ),
        ("NEXT 12:36 Main", ["':' is not in crosstalk.between, where '/' is"]),
        ("NEXT 12/63 Main", ["'12/63' is not in words.pairs, where '12/36' is"]),
        ("RL 12 Unit 7", ["'Unit 7' is not in words.ends"]),
        ("nexT", ["'nexT' is not in words.parameters, where 'NEXT' is"]),
        ("a line of words", []),
        ("- MEASURED AT Main", []),
        ("x" * 500, []),
    ],
)
def test_the_fewest_and_shortest_words_that_lack_are_named(text: str, lacking: list[str]) -> None:
    assert [of.told for of in undeclared(text, TEMPLATES, grammar())] == lacking


def test_a_text_that_another_column_completes_is_told_by_its_own_word() -> None:
    (one,) = undeclared("MAIN", ["{end}"], grammar())
    assert (one.word, one.table, one.near) == ("MAIN", "words.ends", "Main")
    assert undeclared("B", ["{end}"], grammar()) == ()


def test_braces_and_signs_of_a_template_mean_themselves() -> None:
    (one,) = undeclared("[NEXT (dB)] main", ["[{parameter} (dB)] {end}"], grammar())
    assert one.told == "'main' is not in words.ends, where 'Main' is"
    assert undeclared("[NEXT dB] main", ["[{parameter} (dB)] {end}"], grammar()) == ()
    assert undeclared("NEXT", ["{thing}"], replace(grammar(), between_pairs=("/",))) == ()


def test_a_text_of_many_blanks_takes_no_time() -> None:
    """Each blank might part two words; a text is looked at in far less than a second."""
    finds = Lacking(["{parameter} {first_pair} {second_pair} {end} {unit} dB"], grammar())
    begun = process_time()
    assert finds.of("x " * 99) == ()
    assert process_time() - begun < 0.5
