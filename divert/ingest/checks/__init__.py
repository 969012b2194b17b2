"""What is checked once every file is read: repeats, habits, corrections, answers."""
