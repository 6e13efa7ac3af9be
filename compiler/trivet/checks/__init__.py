"""One file per check: its page, its two examples, and the function. Found by walking this folder."""
