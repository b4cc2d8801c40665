"""The commands, by what a person wants of them. Each is thin over the same calls as in Python."""
