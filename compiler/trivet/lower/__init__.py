"""Nodes to model: names, arithmetic, facts to nouns."""
