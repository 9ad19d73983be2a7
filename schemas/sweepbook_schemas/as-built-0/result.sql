SELECT
    result_value.test_id AS test_id,
    result_value.position AS position,
    result_kind.parameter AS parameter,
    result_kind.at_end AS at_end,
    result_kind.pairs AS pairs,
    result_kind.outcome AS outcome,
    result_kind.obligation AS obligation,
    result_value.worst_margin AS worst_margin,
    result_value.worst_margin_mhz AS worst_margin_mhz,
    result_value.limit_at_worst_margin AS limit_at_worst_margin,
    result_value.worst_value AS worst_value,
    result_value.worst_value_mhz AS worst_value_mhz,
    result_value.limit_at_worst_value AS limit_at_worst_value,
    result_kind.unit AS unit,
    result_value.points_evaluated AS points_evaluated,
    result_value.points_for_information AS points_for_information,
    result_kind.origin AS origin,
    result_kind.grade AS grade,
    result_value.remark AS remark
FROM result_value
JOIN result_kind ON result_kind.id = result_value.kind_id
