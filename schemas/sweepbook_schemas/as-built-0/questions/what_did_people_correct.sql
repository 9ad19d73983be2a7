SELECT test.label, correction.field, correction.said_before, correction.said_now, correction.who, correction.entered, correction.why, correction.applied
FROM correction
JOIN test ON test.id = correction.test_id
WHERE test.replaced_by IS NULL
ORDER BY test.label, correction.position
