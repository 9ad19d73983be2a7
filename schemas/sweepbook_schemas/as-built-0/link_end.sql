SELECT
    ends.link_id AS link_id,
    ends.label AS label,
    ends.at_end AS at_end,
    ends.said_by AS said_by,
    place.site AS site,
    place.building AS building,
    place.floor AS floor,
    place.space AS space,
    place.cabinet AS cabinet,
    place.unit AS unit,
    place.panel AS panel,
    place.port AS port,
    termination.label AS termination
FROM (
    SELECT
        id AS link_id, label, 'near' AS at_end, near_said_by AS said_by,
        near_place_id AS place_id, near_termination_id AS termination_id
    FROM link
    UNION ALL
    SELECT
        id AS link_id, label, 'far' AS at_end, far_said_by AS said_by,
        far_place_id AS place_id, far_termination_id AS termination_id
    FROM link
) AS ends
LEFT JOIN place ON place.id = ends.place_id
LEFT JOIN termination ON termination.id = ends.termination_id
