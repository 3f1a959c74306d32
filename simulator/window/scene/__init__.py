"""The drawn world: units, load and ground from the side, in section and from above."""
