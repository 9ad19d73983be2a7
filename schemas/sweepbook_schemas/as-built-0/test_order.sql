SELECT
    link_id,
    test_id,
    ROW_NUMBER() OVER (
        PARTITION BY link_id ORDER BY moment, gathered, counts, is_export DESC, record_id
    ) AS sequence
FROM (
    SELECT
        test.link_id AS link_id,
        test.id AS test_id,
        test.record_id AS record_id,
        counting.record_id AS counts,
        CASE WHEN test.export_of IS NULL THEN 0 ELSE 1 END AS is_export,
        COALESCE(counting.gathered, '') AS gathered,
        CASE
            WHEN COUNT(counting.started_local) OVER of_link < COUNT(*) OVER of_link THEN ''
            WHEN COUNT(counting.started_utc) OVER of_link < COUNT(*) OVER of_link
                THEN counting.started_local
            ELSE counting.started_utc
        END AS moment
    FROM test
    JOIN test AS counting ON counting.id = COALESCE(test.export_of, test.id)
    WHERE test.replaced_by IS NULL
    WINDOW of_link AS (PARTITION BY test.link_id)
) AS timed
