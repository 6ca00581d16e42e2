"""Pictures: numbers in, figure and a sentence about it out. No physics, no widgets."""
