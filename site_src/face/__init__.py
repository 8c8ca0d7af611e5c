"""How a page is drawn in Python: numbers, words, charts, rules, forms."""
