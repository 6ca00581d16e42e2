"""Heat in solid bodies: contact, curves, marches, finite volumes."""
