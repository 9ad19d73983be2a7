WITH found AS (
    SELECT
        test_id AS test_id,
        CASE
            WHEN recomputed = 'fail' THEN 'failed'
            WHEN judgement = 'overturned' THEN 'verdict overturned'
            WHEN again IS NOT NULL THEN 'marginal, to be tested again'
            ELSE 'unproven'
        END AS kind,
        COALESCE(again, reason) AS reason,
        NULL AS rule
    FROM current_state
    WHERE (
            recomputed <> 'pass' OR judgement IN ('overturned', 'unproven') OR again IS NOT NULL
        )
        AND test_id NOT IN (
            SELECT scheduled_test.test_id FROM scheduled_test
            JOIN scheduled ON scheduled.job_id = scheduled_test.job_id
                AND scheduled.position = scheduled_test.position
            WHERE scheduled.schedule_line IS NOT NULL
        )
    UNION ALL
    SELECT test_id, 'error found', message, rule FROM finding
    WHERE severity = 'error' AND accepted_by IS NULL
    UNION ALL
    SELECT DISTINCT
        COALESCE(test.export_of, test.id), 'error found', set_finding.message, set_finding.rule
    FROM set_finding_test
    JOIN test ON test.id = set_finding_test.test_id
    JOIN set_finding ON set_finding.job_id = set_finding_test.job_id
        AND set_finding.position = set_finding_test.position
    WHERE set_finding.severity = 'error' AND set_finding.accepted_by IS NULL
)
SELECT
    schedule_state.job AS job,
    schedule_state.label AS label,
    schedule_state.state AS kind,
    schedule_state.reason AS reason,
    schedule_state.site AS site,
    schedule_state.building AS building,
    schedule_state.floor AS floor,
    schedule_state.space AS space,
    schedule_state.cabinet AS cabinet,
    schedule_state.unit AS unit,
    schedule_state.panel AS panel,
    schedule_state.port AS port,
    schedule_state.near_termination AS near_termination,
    schedule_state.far_building AS far_building,
    schedule_state.far_floor AS far_floor,
    schedule_state.far_space AS far_space,
    schedule_state.far_termination AS far_termination,
    schedule_state.limit_path_asked AS limit_path_asked,
    schedule_state.limit_path_tested AS limit_path_tested,
    NULL AS rule,
    schedule_state.link_id AS link_id,
    schedule_state.test_id AS test_id
FROM schedule_state
WHERE schedule_state.is_open = 1
UNION ALL
SELECT
    tested.job,
    tested.label,
    found.kind,
    found.reason,
    place.site,
    place.building,
    place.floor,
    place.space,
    place.cabinet,
    place.unit,
    place.panel,
    place.port,
    tested.near_termination,
    tested.far_building,
    tested.far_floor,
    tested.far_space,
    tested.far_termination,
    NULL,
    tested.limit_path,
    found.rule,
    tested.link_id,
    tested.test_id
FROM found
JOIN current_state AS tested ON tested.test_id = found.test_id
JOIN link ON link.id = tested.link_id
LEFT JOIN place ON place.id = COALESCE(link.near_place_id, link.far_place_id)
UNION ALL
SELECT
    job.name,
    NULL,
    'error found',
    set_finding.message,
    NULL,
    NULL,
    NULL,
    NULL,
    NULL,
    NULL,
    NULL,
    NULL,
    NULL,
    NULL,
    NULL,
    NULL,
    NULL,
    NULL,
    NULL,
    set_finding.rule,
    NULL,
    NULL
FROM set_finding
JOIN job ON job.id = set_finding.job_id
WHERE set_finding.severity = 'error' AND set_finding.accepted_by IS NULL
    AND NOT EXISTS (
        SELECT 1 FROM set_finding_test
        JOIN test ON test.id = set_finding_test.test_id
        JOIN current_state ON current_state.test_id = COALESCE(test.export_of, test.id)
        WHERE set_finding_test.job_id = set_finding.job_id
            AND set_finding_test.position = set_finding.position
    )
