SELECT
    link.id AS link_id,
    job.name AS job,
    link.label AS label,
    near.site AS near_site,
    near.building AS near_building,
    near.floor AS near_floor,
    near.space AS near_space,
    near.cabinet AS near_cabinet,
    near.unit AS near_unit,
    near.panel AS near_panel,
    near.port AS near_port,
    near_termination.label AS near_termination,
    far.site AS far_site,
    far.building AS far_building,
    far.floor AS far_floor,
    far.space AS far_space,
    far.cabinet AS far_cabinet,
    far.unit AS far_unit,
    far.panel AS far_panel,
    far.port AS far_port,
    far_termination.label AS far_termination,
    limit_table.path AS limit_path,
    limit_table.title AS limit_title,
    test.limit_as_stated AS limit_as_stated,
    test.configuration AS configuration,
    test.stated AS stated,
    test.recomputed AS recomputed,
    test.judgement AS judgement,
    test.reason AS reason,
    test.grade AS grade,
    test.marginal AS marginal,
    test.again AS again,
    test.worst_parameter AS worst_parameter,
    test.worst_end AS worst_end,
    test.worst_pairs AS worst_pairs,
    test.worst_margin_db AS worst_margin_db,
    test.worst_margin_mhz AS worst_margin_mhz,
    (
        SELECT MIN(figure.value) FROM figure
        WHERE figure.test_id = test.id AND figure.parameter = 'length' AND figure.unit = 'm'
    ) AS length_m,
    test.purpose AS purpose,
    test.started AS started,
    test.operator AS operator,
    cable.maker AS cable_maker,
    cable.part AS cable_part,
    cable.reel AS cable_reel,
    (
        SELECT COUNT(*) FROM test AS every
        WHERE every.link_id = link.id
            AND every.replaced_by IS NULL AND every.export_of IS NULL
    ) AS tests,
    (
        SELECT COUNT(*) FROM finding
        WHERE finding.test_id = test.id AND finding.severity = 'error'
    ) AS errors,
    (
        SELECT COUNT(*) FROM finding
        WHERE finding.test_id = test.id AND finding.severity = 'warning'
    ) AS warnings,
    (
        SELECT COUNT(*) FROM rule_not_run
        WHERE rule_not_run.test_id = test.id AND rule_not_run.how = 'crashed'
    ) AS rules_crashed,
    test.id AS test_id,
    test.record_id AS record_id
FROM link
JOIN job ON job.id = link.job_id
JOIN test ON test.link_id = link.id AND test.is_current = 1
LEFT JOIN limit_table ON limit_table.id = test.limit_table_id
LEFT JOIN cable ON cable.id = test.cable_id
LEFT JOIN place AS near ON near.id = link.near_place_id
LEFT JOIN termination AS near_termination ON near_termination.id = link.near_termination_id
LEFT JOIN place AS far ON far.id = link.far_place_id
LEFT JOIN termination AS far_termination ON far_termination.id = link.far_termination_id
