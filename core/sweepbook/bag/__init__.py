"""A book and all that its judgements rest on as a BagIt bag (RFC 8493), and the proof of one."""
