"""People: their names, in a file of their own beside the records, and deliveries without them."""
