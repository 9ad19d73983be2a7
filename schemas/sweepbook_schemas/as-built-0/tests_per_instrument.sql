SELECT
    instrument.id AS instrument_id,
    instrument.maker AS maker,
    instrument.model AS model,
    instrument.serial AS serial,
    COUNT(DISTINCT test.id) AS tests,
    SUM(CASE WHEN test_end.at_end = 'near' THEN 1 ELSE 0 END) AS as_near,
    SUM(CASE WHEN test_end.at_end = 'far' THEN 1 ELSE 0 END) AS as_far,
    COUNT(DISTINCT test.link_id) AS links,
    MIN(test.started_local) AS first_started,
    MAX(test.started_local) AS last_started,
    COUNT(
        DISTINCT CASE
            WHEN SUBSTR(test.started_local, 1, 10) > test_end.calibration_due THEN test.id
        END
    ) AS after_calibration_due,
    COUNT(DISTINCT CASE WHEN test.recomputed = 'fail' THEN test.id END) AS failed,
    COUNT(DISTINCT CASE WHEN test.judgement = 'overturned' THEN test.id END) AS overturned,
    COUNT(DISTINCT CASE WHEN test.judgement = 'unproven' THEN test.id END) AS unproven
FROM instrument
JOIN test_end ON test_end.instrument_id = instrument.id
JOIN test ON test.id = test_end.test_id
    AND test.replaced_by IS NULL AND test.export_of IS NULL
GROUP BY instrument.id, instrument.maker, instrument.model, instrument.serial
