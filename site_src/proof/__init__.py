"""The proof of a lookup, and where proofs are kept."""
