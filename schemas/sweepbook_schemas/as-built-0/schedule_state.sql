SELECT
    job.name AS job,
    scheduled.label AS label,
    scheduled.state AS state,
    scheduled.is_open AS is_open,
    scheduled.reason AS reason,
    scheduled.near_labels AS near_labels,
    near.building AS near_building,
    near.floor AS near_floor,
    near.space AS near_space,
    near.cabinet AS near_cabinet,
    near.panel AS near_panel,
    near.port AS near_port,
    near_termination.label AS near_termination,
    far.building AS far_building,
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
    scheduled.link_id AS link_id
FROM scheduled
JOIN job ON job.id = scheduled.job_id
LEFT JOIN test ON test.link_id = scheduled.link_id AND test.is_current = 1
LEFT JOIN limit_table ON limit_table.id = test.limit_table_id
LEFT JOIN place AS near ON near.id = scheduled.near_place_id
LEFT JOIN termination AS near_termination ON near_termination.id = scheduled.near_termination_id
LEFT JOIN place AS far ON far.id = scheduled.far_place_id
LEFT JOIN termination AS far_termination ON far_termination.id = scheduled.far_termination_id
