SELECT
    link_id,
    test_id,
    ROW_NUMBER() OVER (
        PARTITION BY link_id ORDER BY moment, gathered, record_id
    ) AS sequence
FROM (
    SELECT
        link_id,
        id AS test_id,
        record_id,
        COALESCE(gathered, '') AS gathered,
        CASE
            WHEN COUNT(started_local) OVER of_link < COUNT(*) OVER of_link THEN ''
            WHEN COUNT(started_utc) OVER of_link < COUNT(*) OVER of_link THEN started_local
            ELSE started_utc
        END AS moment
    FROM test
    WHERE replaced_by IS NULL
    WINDOW of_link AS (PARTITION BY link_id)
) AS timed
