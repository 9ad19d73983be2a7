SELECT
    job.name AS job,
    scheduled.label AS label,
    scheduled_test.cable_differs_in AS differs_in,
    scheduled.cable AS scheduled_cable,
    scheduled.reel AS scheduled_reel,
    cable.maker AS tested_maker,
    cable.part AS tested_part,
    cable.category AS tested_category,
    cable.construction AS tested_construction,
    cable.reel AS tested_reel,
    test.started AS started,
    test.is_current AS is_current,
    test.link_id AS link_id,
    test.id AS test_id
FROM scheduled_test
JOIN scheduled ON scheduled.job_id = scheduled_test.job_id
    AND scheduled.position = scheduled_test.position
JOIN job ON job.id = scheduled.job_id
JOIN test ON test.id = scheduled_test.test_id
LEFT JOIN cable ON cable.id = test.cable_id
WHERE scheduled_test.cable_differs_in IS NOT NULL
