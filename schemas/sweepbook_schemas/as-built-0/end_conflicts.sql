WITH told AS (
    SELECT
        end_said.link_id AS link_id,
        end_said.at_end AS at_end,
        end_said.said_by AS said_by,
        CASE end_said.said_by WHEN 'schedule' THEN 1 WHEN 'record' THEN 2 ELSE 3 END AS sureness,
        termination.label AS termination,
        place.path AS path,
        place.site AS site,
        place.building AS building,
        place.floor AS floor,
        place.space AS space,
        place.cabinet AS cabinet,
        place.unit AS unit,
        place.panel AS panel,
        place.port AS port
    FROM end_said
    LEFT JOIN place ON place.id = end_said.place_id
    LEFT JOIN termination ON termination.id = end_said.termination_id
),
compared AS (
    SELECT
        one.link_id AS link_id,
        one.at_end AS at_end,
        RTRIM(
            CASE WHEN LOWER(one.site) <> LOWER(other.site) THEN 'site, ' ELSE '' END
            || CASE WHEN LOWER(one.building) <> LOWER(other.building) THEN 'building, ' ELSE '' END
            || CASE WHEN LOWER(one.floor) <> LOWER(other.floor) THEN 'floor, ' ELSE '' END
            || CASE WHEN LOWER(one.space) <> LOWER(other.space) THEN 'space, ' ELSE '' END
            || CASE WHEN LOWER(one.cabinet) <> LOWER(other.cabinet) THEN 'cabinet, ' ELSE '' END
            || CASE WHEN LOWER(one.unit) <> LOWER(other.unit) THEN 'unit, ' ELSE '' END
            || CASE WHEN LOWER(one.panel) <> LOWER(other.panel) THEN 'panel, ' ELSE '' END
            || CASE WHEN LOWER(one.port) <> LOWER(other.port) THEN 'port, ' ELSE '' END
            || CASE
                WHEN LOWER(one.termination) <> LOWER(other.termination) THEN 'termination, '
                ELSE ''
            END,
            ', '
        ) AS differs_in,
        one.said_by AS said_by,
        one.path AS place,
        one.termination AS termination,
        other.said_by AS other_said_by,
        other.path AS other_place,
        other.termination AS other_termination
    FROM told AS one
    JOIN told AS other ON other.link_id = one.link_id
        AND other.at_end = one.at_end AND other.sureness > one.sureness
)
SELECT
    job.name AS job,
    link.label AS label,
    compared.at_end AS at_end,
    compared.differs_in AS differs_in,
    compared.said_by AS said_by,
    compared.place AS place,
    compared.termination AS termination,
    compared.other_said_by AS other_said_by,
    compared.other_place AS other_place,
    compared.other_termination AS other_termination,
    compared.link_id AS link_id
FROM compared
JOIN link ON link.id = compared.link_id
JOIN job ON job.id = link.job_id
WHERE compared.differs_in <> ''
