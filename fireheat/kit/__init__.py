"""What is set: kit, effort, air; bowing, wood and its water."""
