"""The format "xml": sweep exports as XML."""
