"""A lift laid out by hand: the numbers and what is dragged (no pygame), then how it is drawn."""
