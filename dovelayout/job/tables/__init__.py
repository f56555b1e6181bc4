"""The tables of a job file: which keys may stand where, and how what is typed becomes values in mm, degrees and MPa."""
