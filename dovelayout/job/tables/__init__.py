"""The tables of a job file: which keys may stand where, and how their words become numbers."""
