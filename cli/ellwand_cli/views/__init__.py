"""What a plan looks like: pure functions from a plan to text, bytes or a figure."""
