"""The ember, what it lands on, and whether it keeps."""
