"""A plan as text and as plain dictionaries for JSON."""
