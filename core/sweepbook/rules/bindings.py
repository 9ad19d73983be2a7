"""Which function a name in the catalogue means."""

from collections.abc import Callable, Iterator, Mapping

from sweepbook.rules import (
    arithmetic,
    asterisk,
    corrected,
    coverage,
    fitting,
    limit_name,
    physics,
    setting_up,
    stated_figures,
    structure,
    verdict,
    whole_set,
)
from sweepbook.rules.model import Hit

_FUNCTIONS: tuple[Callable[..., Iterator[Hit]], ...] = (
    arithmetic.acr_f_by_disturbed_pair,
    arithmetic.derived_curves_follow,
    arithmetic.derived_figures_follow,
    arithmetic.length_is_of_delay,
    asterisk.asterisk_fits,
    corrected.corrections_fit,
    corrected.limit_is_the_testers,
    coverage.both_ends_are_there,
    coverage.figures_are_judged,
    coverage.pairs_are_there,
    coverage.parameters_are_there,
    coverage.range_is_covered,
    coverage.some_points_count,
    coverage.step_is_fine,
    fitting.adaptors_are_of_limit,
    fitting.plug_end_is_named,
    fitting.screen_is_throughout,
    limit_name.limit_is_known,
    limit_name.limit_is_stated,
    limit_name.limit_leads_to_one_table,
    limit_name.limit_means_what_it_says,
    limit_name.limit_names_its_edition,
    physics.curves_are_not_flat,
    physics.curves_are_each_their_own,
    physics.figures_agree,
    physics.figures_are_plausible,
    physics.figures_are_possible,
    setting_up.calibration_in_force,
    setting_up.calibration_is_recent,
    setting_up.configuration_is_of_limit,
    setting_up.field_reference_before_test,
    setting_up.field_reference_is_recent,
    setting_up.field_reference_is_there,
    structure.follows_the_schema,
    stated_figures.stated_figures_follow,
    structure.frequencies_rise,
    structure.points_are_given_once,
    verdict.part_verdicts_follow,
    verdict.verdict_follows,
)
_SET_FUNCTIONS: tuple[Callable[..., Iterator[Hit]], ...] = (
    whole_set.labels_agree,
    whole_set.sweeps_differ,
)

CHECKS: Mapping[str, Callable[..., Iterator[Hit]]] = {f.__name__: f for f in _FUNCTIONS}
SET_CHECKS: Mapping[str, Callable[..., Iterator[Hit]]] = {f.__name__: f for f in _SET_FUNCTIONS}
