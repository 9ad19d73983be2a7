SELECT
    link_end.link_id AS link_id,
    link_end.label AS label,
    link_end.at_end AS at_end,
    said.path AS scheduled_place,
    recorded.path AS recorded_place,
    link_end.termination AS scheduled_termination,
    recorded_termination.label AS recorded_termination
FROM link_end
JOIN link ON link.id = link_end.link_id
JOIN test ON test.link_id = link_end.link_id AND test.is_current = 1
JOIN test_end ON test_end.test_id = test.id AND test_end.at_end = link_end.at_end
LEFT JOIN place AS said ON said.id = CASE
    WHEN link_end.at_end = 'near' THEN link.near_place_id ELSE link.far_place_id
END
LEFT JOIN place AS recorded ON recorded.id = test_end.place_id
LEFT JOIN termination AS recorded_termination
    ON recorded_termination.id = test_end.termination_id
WHERE link_end.said_by = 'schedule'
    AND (
        (said.building IS NOT NULL AND recorded.building <> said.building)
        OR (said.floor IS NOT NULL AND recorded.floor <> said.floor)
        OR (said.space IS NOT NULL AND recorded.space <> said.space)
        OR (said.cabinet IS NOT NULL AND recorded.cabinet <> said.cabinet)
        OR (said.panel IS NOT NULL AND recorded.panel <> said.panel)
        OR (said.port IS NOT NULL AND recorded.port <> said.port)
        OR link_end.termination <> recorded_termination.label
    )
