"""Standard tables as data, each row with its source."""
