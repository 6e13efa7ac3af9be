"""Model and derived values turned into shapes, one file per view; nothing here knows a file format."""
