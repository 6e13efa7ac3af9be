"""What a change of a fixture means for its maker: two compilations compared, most important first."""
