"""Model and derived values turned into rows, one file per table; nothing here knows a file format."""
