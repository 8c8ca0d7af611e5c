"""Mutation testing: one small wrong change at a time, to see whether some test minds it."""
