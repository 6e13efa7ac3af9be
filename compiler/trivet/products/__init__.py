"""What a compilation writes: one file for each family of outputs, from rows and shapes to named bytes."""
