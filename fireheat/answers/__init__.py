"""What stands behind each panel: a try (and an arm) in, the numbers out. One file a question."""
