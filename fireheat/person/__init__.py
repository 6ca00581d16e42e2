"""Who bows: the arm and its limits, strokes, measuring, a beat."""
