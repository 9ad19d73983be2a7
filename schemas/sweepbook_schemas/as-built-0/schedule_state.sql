SELECT
    job.name AS job,
    scheduled.label AS label,
    scheduled.state AS state,
    scheduled.is_open AS is_open,
    scheduled.reason AS reason,
    scheduled.remarks AS remarks,
    scheduled.near_labels AS near_labels,
    place.site AS site,
    place.building AS building,
    place.floor AS floor,
    place.space AS space,
    place.cabinet AS cabinet,
    place.unit AS unit,
    place.panel AS panel,
    place.port AS port,
    COALESCE(near.site, own.site) AS near_site,
    COALESCE(near.building, own.building) AS near_building,
    near.floor AS near_floor,
    near.space AS near_space,
    near.cabinet AS near_cabinet,
    near.panel AS near_panel,
    near.port AS near_port,
    near_termination.label AS near_termination,
    COALESCE(far.site, own.site) AS far_site,
    COALESCE(far.building, own.building) AS far_building,
    far.floor AS far_floor,
    far.space AS far_space,
    far.cabinet AS far_cabinet,
    far.panel AS far_panel,
    far.port AS far_port,
    far_termination.label AS far_termination,
    scheduled.limit_path_asked AS limit_path_asked,
    limit_table.path AS limit_path_tested,
    scheduled.cable AS cable,
    scheduled.reel AS reel,
    scheduled.schedule_line AS schedule_line,
    (
        SELECT COUNT(*) FROM scheduled_test
        JOIN test AS every ON every.id = scheduled_test.test_id AND every.export_of IS NULL
        WHERE scheduled_test.job_id = scheduled.job_id
            AND scheduled_test.position = scheduled.position
    ) AS tests,
    scheduled.link_id AS link_id,
    scheduled.test_id AS test_id
FROM scheduled
JOIN job ON job.id = scheduled.job_id
LEFT JOIN link ON link.id = scheduled.link_id
LEFT JOIN test ON test.id = scheduled.test_id
LEFT JOIN limit_table ON limit_table.id = test.limit_table_id
LEFT JOIN place ON place.id = scheduled.place_id
LEFT JOIN place AS own ON own.id = CASE
    WHEN link.id IS NULL THEN scheduled.own_place_id
END
LEFT JOIN place AS near ON near.id = CASE
    WHEN link.id IS NULL THEN scheduled.near_place_id ELSE link.near_place_id
END
LEFT JOIN termination AS near_termination ON near_termination.id = CASE
    WHEN link.id IS NULL THEN scheduled.near_termination_id ELSE link.near_termination_id
END
LEFT JOIN place AS far ON far.id = CASE
    WHEN link.id IS NULL THEN scheduled.far_place_id ELSE link.far_place_id
END
LEFT JOIN termination AS far_termination ON far_termination.id = CASE
    WHEN link.id IS NULL THEN scheduled.far_termination_id ELSE link.far_termination_id
END
