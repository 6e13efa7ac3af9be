"""Shapes or rows turned into bytes, one file per format; nothing here knows the model."""
