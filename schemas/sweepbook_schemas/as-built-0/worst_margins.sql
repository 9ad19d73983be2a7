SELECT
    link.id AS link_id,
    link.label AS label,
    near.building AS near_building,
    near.floor AS near_floor,
    near.space AS near_space,
    far.building AS far_building,
    far.floor AS far_floor,
    far.space AS far_space,
    ranked.parameter AS parameter,
    ranked.at_end AS at_end,
    ranked.pairs AS pairs,
    ranked.outcome AS outcome,
    ranked.worst_margin AS worst_margin,
    ranked.worst_margin_mhz AS worst_margin_mhz,
    ranked.limit_at_worst_margin AS limit_at_worst_margin,
    ranked.unit AS unit,
    ranked.test_id AS test_id
FROM (
    SELECT
        test.link_id AS link_id,
        result.test_id AS test_id,
        result.parameter AS parameter,
        result.at_end AS at_end,
        result.pairs AS pairs,
        result.outcome AS outcome,
        result.worst_margin AS worst_margin,
        result.worst_margin_mhz AS worst_margin_mhz,
        result.limit_at_worst_margin AS limit_at_worst_margin,
        result.unit AS unit,
        ROW_NUMBER() OVER (
            PARTITION BY result.test_id, result.parameter, result.unit
            ORDER BY result.worst_margin, result.position
        ) AS place_in_order
    FROM result
    JOIN test ON test.id = result.test_id AND test.is_current = 1
    WHERE result.worst_margin IS NOT NULL
) AS ranked
JOIN link ON link.id = ranked.link_id
LEFT JOIN place AS near ON near.id = link.near_place_id
LEFT JOIN place AS far ON far.id = link.far_place_id
WHERE ranked.place_in_order = 1
