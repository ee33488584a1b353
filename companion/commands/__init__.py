"""The commands, by the part of the job that they belong to: each reads arguments, calls one function and prints."""
