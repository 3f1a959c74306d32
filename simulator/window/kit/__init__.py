"""What everything is drawn with: canvas, lettering, colors, marks, numbers and levels as the window shows them."""
