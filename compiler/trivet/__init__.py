"""trivet: a compiler for geared, height-adjustable shop fixtures cut from sheet stock."""

__version__ = "0.1.0"
