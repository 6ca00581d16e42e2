"""Live panels: a control moves, one pure call answers, words and picture follow. No physics."""
