"""A hired board's sounds, captured as the player chooses them on its panel. Pure."""
