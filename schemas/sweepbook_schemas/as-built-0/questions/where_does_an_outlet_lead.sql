SELECT outlet.label, outlet.space, outlet.termination, other.building, other.floor, other.space AS leads_to, other.cabinet, other.panel, other.port, other.termination AS leads_to_termination
FROM link_end AS outlet
JOIN link_end AS other ON other.label = outlet.label
    AND other.job = outlet.job
    AND (other.link_id = outlet.link_id OR (other.link_id IS NULL AND outlet.link_id IS NULL))
    AND other.at_end <> outlet.at_end
WHERE outlet.termination = 'CL-11'
ORDER BY outlet.label
