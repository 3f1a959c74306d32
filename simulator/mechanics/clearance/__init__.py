"""What clears what: parts of the trailer over decks, ground, lane and overhead line, beside units and under booms."""
