"""A keyboard player's companion, from the call to the debrief."""
