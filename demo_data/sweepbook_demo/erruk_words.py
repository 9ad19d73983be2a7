"""Words of the invented Thrennoby Erruk 3."""

QUANTITIES = {
    "insertion_loss": "attenuation",
    "return_loss": "reflection",
    "next": "back-coupling",
    "psnext": "back-coupling-sum",
    "acr_n": "back-ratio",
    "psacr_n": "back-ratio-sum",
    "fext": "forth-coupling",
    "acr_f": "forth-ratio",
    "psacr_f": "forth-ratio-sum",
    "propagation_delay": "travel",
    "delay_skew": "lag",
    "length": "length",
    "dc_loop_resistance": "loop",
    "dc_resistance_unbalance_within_pair": "imbalance",
    "dc_resistance_unbalance_between_pairs": "imbalance",
}
UNITS = {"travel": "ns", "lag": "ns", "length": "m", "loop": "ohm", "imbalance": "%"}
"""Units of quantities that are not in decibels."""

VERDICTS = {"pass": "good", "pass*": "good?", "fail*": "poor?", "fail": "poor"}
SIDES = {"near": "head", "far": "tail", "": ""}

PAIR_NUMBERS = {"4-5": "1", "1-2": "2", "3-6": "3", "7-8": "4"}
"""Pairs as the colour code T568B counts them: 1 blue, 2 orange, 3 green, 4 brown (from memory)."""
