"""One file a command: read, call, show."""
