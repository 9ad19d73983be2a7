SELECT
    link_id,
    RTRIM(
        CASE WHEN judgement = 'overturned' THEN 'overturned, ' ELSE '' END
        || CASE
            WHEN recomputed = 'fail' OR stated IN ('fail', 'fail*') THEN 'failed, ' ELSE ''
        END
        || CASE WHEN judgement = 'unproven' THEN 'unproven, ' ELSE '' END
        || CASE WHEN judgement = 'unstated' THEN 'unstated, ' ELSE '' END
        || CASE WHEN errors + warnings > 0 THEN 'findings, ' ELSE '' END
        || CASE WHEN rules_crashed > 0 THEN 'rule crashed, ' ELSE '' END,
        ', '
    ) AS open_because,
    job,
    label,
    near_site,
    near_building,
    near_floor,
    near_space,
    near_cabinet,
    near_unit,
    near_panel,
    near_port,
    near_termination,
    far_site,
    far_building,
    far_floor,
    far_space,
    far_cabinet,
    far_unit,
    far_panel,
    far_port,
    far_termination,
    limit_path,
    limit_as_stated,
    configuration,
    stated,
    recomputed,
    judgement,
    reason,
    grade,
    worst_parameter,
    worst_end,
    worst_pairs,
    worst_margin_db,
    worst_margin_mhz,
    length_m,
    purpose,
    started,
    operator,
    cable_maker,
    cable_part,
    cable_reel,
    tests,
    errors,
    warnings,
    rules_crashed,
    test_id,
    record_id
FROM current_state
WHERE
    judgement IN ('overturned', 'unproven', 'unstated')
    OR recomputed = 'fail'
    OR stated IN ('fail', 'fail*')
    OR errors + warnings > 0
    OR rules_crashed > 0
