"""The arguments of each command: one file a command, with `add` for its parser; `run` calls the command once it is needed."""
