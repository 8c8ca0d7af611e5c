"""What a lookup is: quantities, fields, answers, entries, chains."""
