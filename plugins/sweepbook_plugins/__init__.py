"""The formats that come with sweepbook, one module each, through the hooks anybody may use."""
