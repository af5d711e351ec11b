"""A crochet manuscript read and checked: rounds, operations, counts."""
