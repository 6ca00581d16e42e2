"""The club's own tries: its log, what they tell of the physics, and how many more are worth it."""
