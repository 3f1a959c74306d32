"""The program around the screens: its loop, display, settings, sounds and pace."""
