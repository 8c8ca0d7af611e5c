"""README's pictures, and what takes them."""
