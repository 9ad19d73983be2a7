SELECT building, floor, kind, COUNT(*) AS items
FROM open_items
GROUP BY building, floor, kind
ORDER BY building, floor, kind
