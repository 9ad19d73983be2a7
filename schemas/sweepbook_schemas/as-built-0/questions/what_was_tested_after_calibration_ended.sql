SELECT instrument.serial, test_end.at_end, test_end.calibration_due, test.label, test.started, test.judgement
FROM test_end
JOIN instrument ON instrument.id = test_end.instrument_id
JOIN test ON test.id = test_end.test_id
WHERE instrument.serial = 'TK-7731'
    AND test.replaced_by IS NULL
    AND SUBSTR(test.started_local, 1, 10) > test_end.calibration_due
ORDER BY test.started_local, test.label
