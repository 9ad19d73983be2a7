SELECT
    figure_value.test_id AS test_id,
    figure_value.position AS position,
    figure_kind.parameter AS parameter,
    figure_kind.at_end AS at_end,
    figure_kind.pairs AS pairs,
    figure_value.value AS value,
    figure_kind.unit AS unit,
    figure_kind.decimals AS decimals,
    figure_value.at_mhz AS at_mhz,
    figure_kind.bound AS bound
FROM figure_value
JOIN figure_kind ON figure_kind.id = figure_value.kind_id
