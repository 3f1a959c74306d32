"""What hands do: keys, gamepads and seats."""
