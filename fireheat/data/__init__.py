"""Tables of values, each with its unit, range, source and status."""
