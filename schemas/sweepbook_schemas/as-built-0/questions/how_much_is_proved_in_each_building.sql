SELECT building, limit_path_asked, COUNT(*) AS links, SUM(1 - is_open) AS proved, SUM(is_open) AS open
FROM schedule_state
WHERE schedule_line IS NOT NULL
GROUP BY building, limit_path_asked
ORDER BY building, limit_path_asked
