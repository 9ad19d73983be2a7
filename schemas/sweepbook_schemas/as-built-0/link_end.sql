SELECT
    job.name AS job,
    ends.label AS label,
    ends.at_end AS at_end,
    CASE
        WHEN ends.link_id IS NOT NULL THEN ends.said_by
        WHEN COALESCE(ends.place_id, ends.termination_id) IS NOT NULL THEN 'schedule'
        WHEN COALESCE(own.site, own.building) IS NOT NULL THEN 'schedule'
    END AS said_by,
    COALESCE(place.site, own.site) AS site,
    COALESCE(place.building, own.building) AS building,
    place.floor AS floor,
    place.space AS space,
    place.cabinet AS cabinet,
    place.unit AS unit,
    place.panel AS panel,
    place.port AS port,
    termination.label AS termination,
    ends.link_id AS link_id
FROM (
    SELECT
        job_id AS job_id, label AS label, 'near' AS at_end, near_said_by AS said_by,
        near_place_id AS place_id, near_termination_id AS termination_id,
        CAST(NULL AS BIGINT) AS own_id, id AS link_id
    FROM link WHERE id IN (SELECT link_id FROM test WHERE replaced_by IS NULL)
    UNION ALL
    SELECT
        job_id AS job_id, label AS label, 'far' AS at_end, far_said_by AS said_by,
        far_place_id AS place_id, far_termination_id AS termination_id,
        CAST(NULL AS BIGINT) AS own_id, id AS link_id
    FROM link WHERE id IN (SELECT link_id FROM test WHERE replaced_by IS NULL)
    UNION ALL
    SELECT
        job_id AS job_id, label AS label, 'near' AS at_end, NULL AS said_by,
        near_place_id AS place_id, near_termination_id AS termination_id,
        own_place_id AS own_id, NULL AS link_id
    FROM scheduled WHERE link_id IS NULL
    UNION ALL
    SELECT
        job_id AS job_id, label AS label, 'far' AS at_end, NULL AS said_by,
        far_place_id AS place_id, far_termination_id AS termination_id,
        own_place_id AS own_id, NULL AS link_id
    FROM scheduled WHERE link_id IS NULL
) AS ends
JOIN job ON job.id = ends.job_id
LEFT JOIN place ON place.id = ends.place_id
LEFT JOIN place AS own ON own.id = ends.own_id
LEFT JOIN termination ON termination.id = ends.termination_id
