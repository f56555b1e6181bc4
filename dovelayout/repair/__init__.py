"""When it went wrong anyway: what a trouble comes from, and how it is mended."""
