"""The validated model: what the fixture is, with every name resolved and every place in one frame."""
