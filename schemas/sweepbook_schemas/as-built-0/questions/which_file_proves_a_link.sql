SELECT test.label, test.started, source.name, test_source.locator, source.sha256, test.record_id
FROM test
JOIN test_source ON test_source.test_id = test.id
JOIN source ON source.id = test_source.source_id
WHERE test.label = '2A-P1-10' AND test.is_current = 1
ORDER BY source.name, test_source.locator
