"""One module per command: plain arguments in, text and an exit code out."""
