"""Everything that turns the engineering into pages a phone can keep."""
