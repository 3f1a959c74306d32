"""What is read off beside the scene: panels, roses, alerts, the coach, and the words and levels they show."""
